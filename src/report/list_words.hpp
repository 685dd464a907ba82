// Words for a declared attribute: its type, its range, how to measure it.
#pragma once
#include <algorithm>

#include "report/list_page.hpp"

namespace mm {

/// As below, of a field, a parameter or what a formula gives.
std::string type_words(const Offer& offer, const NamedType& named);
/// "length in mm", "count", "one of cone_60, ball or flat", "text", or a designation's name: "thread".
std::string type_words(const Offer& offer, const AttributeDef& attribute);
/// "-100..100 mm", or "" where none is declared.
std::string range_words(const Offer& offer, const AttributeDef& attribute);
/// A name, safe to print.
std::string name_text(const Offer& offer, Symbol symbol);
/// "hub: hub with studs (rules/wheels.rules:12)"
std::string head_words(const Offer& offer, Symbol name, const std::string& doc, Span span);
/// "rules/wheels.rules:12"
std::string declared_at(const Offer& offer, Span span);
/// Attributes that a part file may state (those of every part are left out).
std::vector<const AttributeDef*> stated(const Schema& schema, bool of_kind);
/// An expression as it is written, in one line.
std::string text_of(const Offer& offer, ExprId expr);
/// Made for what a trial expects, and nothing that a builder is asked.
bool is_of_trial(const Offer& offer, const RequirementDef& requirement);
bool is_wanted(const Offer& offer, Symbol name, const std::vector<std::string>& wanted);

/// The wanted of what is declared, by name.
template <class Store>
auto by_name(const Offer& offer, const Store& store, const std::vector<std::string>& wanted) {
  std::vector<decltype(&*store.begin())> out;
  for (const auto& item : store)
    if (is_wanted(offer, item.name, wanted)) out.push_back(&item);
  std::sort(out.begin(), out.end(),
            [&](auto* a, auto* b) { return offer.names.text(a->name) < offer.names.text(b->name); });
  return out;
}

}  // namespace mm
