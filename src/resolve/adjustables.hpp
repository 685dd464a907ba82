// Values that the builder sets: a range, with a step or without, a list, or pieces that are added.
#pragma once
#include <optional>
#include <vector>

#include "resolve/context.hpp"

namespace mm {

/// Base units; `settings` ascends, and is empty where any value of the range (by `step`) can be set.
struct Adjustable {
  ExactInterval range = ExactInterval::entire();
  std::vector<Rational> settings;
  std::optional<Rational> step;
  const Unit* unit = nullptr;  // as written
};

/// Reads it for an attribute of this type, which takes numbers; none after an error, which was said.
std::optional<Adjustable> read_adjustable(Context& context, const AdjustableValue& form, const Type& type,
                                          Span span);

}  // namespace mm
