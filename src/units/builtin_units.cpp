#include "units/builtin_units.hpp"

#include "base/unit_names.hpp"
#include "units/unit_table.hpp"

namespace mm {
namespace {

#define MM_UNIT(name, dimension, factor, offset, pi_power) \
  BuiltinUnit{name, dimension, factor, offset, pi_power},
constexpr BuiltinUnit rows[] = {
#include "units/builtin_units.def"
};
#undef MM_UNIT

}  // namespace

std::span<const BuiltinUnit> builtin_units() { return rows; }

bool is_builtin_unit(std::string_view name) { return is_builtin_unit_name(name); }

}  // namespace mm
