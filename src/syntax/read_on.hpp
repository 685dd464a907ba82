// The rest of a line behind a statement that cannot be read: where the next one surely begins. No PEGTL.
#pragma once
#include "syntax/begins.hpp"
#include "syntax/builder.hpp"

namespace mm {

/// A place on the line of `failed`, before `end`, where such a statement begins, or nothing. `begin`: of the
/// wrong one. Blocks and brackets are passed over whole; behind a quote without its end nothing is sure.
std::optional<std::uint32_t> read_on(const Builder& builder, std::uint32_t begin, std::uint32_t failed,
                                     std::uint32_t end, Begins begins);

/// Of "bore offset 30 mm", which stops at the number: where "offset", which was taken for a value, stands.
std::optional<std::uint32_t> taken_for_a_value(const Builder& builder, std::uint32_t failed);

}  // namespace mm
