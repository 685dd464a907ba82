// What rules reckon with, as `list` tells it: sizes as the trade writes them, choices, tables, formulas.
#pragma once
#include "report/list_page.hpp"
#include "report/page.hpp"

namespace mm {

std::vector<std::string> fact_names(const Offer& offer);
/// A heading for each sort, and a line for each of it; false where there is none of any.
bool name_facts(Page& page, const Offer& offer);
/// The wanted ones in full.
void tell_facts(Page& page, const Offer& offer, const std::vector<std::string>& wanted);

/// A field of a size in one of its forms.
struct FormField {
  Symbol name;
  std::string type;
  bool written = false;  // by a pattern
  ExprId worked_out;     // none: only as written
};
/// What the patterns of a form give, and then what is worked out alone; each once, of each unit.
std::vector<FormField> fields_of(const Offer& offer, const DesignationDef& size, const FormDef& form);
/// Its patterns with their quotes, as they are written.
std::vector<std::string> patterns_of(const Offer& offer, const FormDef& form);

}  // namespace mm
