// What rule files offer to a builder: kinds with their faces and attributes, interfaces with their sides, and
// the sizes, choices, tables and formulas that they reckon with.
#pragma once
#include <string>
#include <vector>

#include "model/model.hpp"
#include "syntax/tree.hpp"
#include "text/source.hpp"

namespace mm {

struct Offer {
  const Model& model;
  const Sources& sources;
  const Names& names;
  const Tree& tree;
};

/// Names of all kinds, interfaces, designations, choices, tables and formulas, as declared.
std::vector<std::string> offered_names(const Offer& offer);
/// Names of all rules and requirements: a page tells them, if they are asked for.
std::vector<std::string> checked_names(const Offer& offer);
/// The page of the wanted rules and requirements: what they ask, and where it comes from.
std::string list_checks(const Offer& offer, const std::vector<std::string>& wanted, bool colour);

/// Without `wanted`: a line for each of these. Else what each wanted one holds: what a part of the kind
/// may state, how it is measured, what its faces state, the requirements of an interface, the forms of a
/// size, the columns of a table, what a formula takes and gives.
std::string list_page(const Offer& offer, const std::vector<std::string>& wanted, bool colour);

/// The same of all (or the wanted ones) for machines; the shape is in schema/list.schema.json.
std::string list_json(const Offer& offer, const std::vector<std::string>& wanted);

}  // namespace mm
