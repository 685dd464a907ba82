// What a block's result is made of by `and`.
#pragma once
#include "model/program.hpp"

namespace mm {

/// By register: the operation of the block that sets it; null where none does.
std::vector<const Op*> makers_of(const Block& block, std::size_t registers);

/// The operations that must all hold for the result to hold, each once, in the order in which they run.
std::vector<const Op*> conjuncts_of(const Block& block, std::size_t registers);

}  // namespace mm
