#include "resolve/places_asked.hpp"

#include <algorithm>

namespace mm {

namespace {

bool asks(const Program& program) {
  return std::any_of(program.blocks.begin(), program.blocks.end(), [](const Block& block) {
    return std::any_of(block.ops.begin(), block.ops.end(),
                       [](const Op& op) { return op.result == TypeKind::place; });
  });
}

bool rule_asks(const RuleDef& rule) {
  return asks(rule.where_program) ||
         std::any_of(rule.variables.begin(), rule.variables.end(),
                     [](const RuleDef::Variable& variable) { return asks(variable.from_program); });
}

}  // namespace

bool asks_for_places(const Model& model, const Build& build) {
  constexpr std::size_t few = 256;  // parts: names for them cost less than to look through many rules
  return build.is_trial || build.instances.size() <= few ||
         std::any_of(model.rules.begin(), model.rules.end(), rule_asks) ||
         std::any_of(model.requirements.begin(), model.requirements.end(),
                     [](const RequirementDef& requirement) { return asks(requirement.program); });
}

}  // namespace mm
