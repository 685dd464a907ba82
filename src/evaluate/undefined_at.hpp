// Where a claim has no value, as the machine that ran it knows it.
#pragma once
#include "interval/interval.hpp"
#include "model/program.hpp"

namespace mm {

/// Why a result is undefined: the operation where it began.
struct UndefinedAt {
  bool found = false;
  bool by_zero = false;  // a division: its divisor is zero and nothing else
  OpCode code = OpCode::number;
  EntityId entity;
  std::uint32_t table = no_reg, column = no_reg;  // a look-up, its first condition and that one's key
  std::uint32_t symbol = no_reg;
  Interval key;
  bool incomplete_size = false;  // that key is a size of which some field is not known
  // what goes over parts or faces, and the program that holds it; surely: it has no value at all
  const Quantifier* over = nullptr;
  const Program* program = nullptr;
  bool surely = false;
};

}  // namespace mm
