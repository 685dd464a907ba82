// Shared by the operations that are not defined everywhere.
#pragma once
#include "interval/interval.hpp"

namespace mm {

inline void lower(Domain* domain, Domain to) {
  if (domain && *domain < to) *domain = to;
}

}  // namespace mm
