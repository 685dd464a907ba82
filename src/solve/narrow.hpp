// Narrowing: what a requirement leaves of its open values when it must hold.
#pragma once
#include <vector>

#include "evaluate/limits.hpp"

namespace mm {

/// One requirement with its open values.
struct Narrowed {
  const Claim* claim;
  const Variables* variables;
};

/// Cuts from the bench's box, exactly, what cannot hold together with the claims, in a few rounds. False when
/// nothing is left: no world meets all of them. Ranges stay narrowed; the caller releases them.
bool narrow_box(Bench& bench, const std::vector<Narrowed>& claims);

}  // namespace mm
