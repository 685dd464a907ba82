// Why the least or the greatest of some parts has no value: there are none, or may be none.
#pragma once
#include "evaluate/claim.hpp"

namespace mm {

/// In plain words: which parts were looked for, and what of them. `at.over` is the question.
std::string none_reason(const Model& model, const Names& names, const UndefinedAt& at);

}  // namespace mm
