// Why a size does not say what is asked of it.
#pragma once
#include "evaluate/claim.hpp"

namespace mm {

/// For a claim that asks a size for a field which it does not give as it is written.
OpenReason field_reason(Bench& bench, const Names& names, const Claim& claim);

}  // namespace mm
