// Which entities a rule's variables can stand for: every combination that `where` does not surely exclude.
#pragma once
#include "evaluate/claim.hpp"

namespace mm {

Binding binding_of(const Model& model, const Build& build, std::uint32_t joint);

/// Matches in order of the variables' instances. False when the limit on looked-at combinations was met.
bool find_matches(Bench& bench, const RuleDef& rule, std::size_t limit, std::vector<Binding>& out);

}  // namespace mm
