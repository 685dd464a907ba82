#include "units/builtin_units.hpp"

#include <unordered_set>

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

bool is_builtin_unit(std::string_view name) {
  static const std::unordered_set<std::string_view> names = [] {
    std::unordered_set<std::string_view> result;
    for (const BuiltinUnit& row : rows) result.insert(row.name);
    return result;
  }();
  return names.contains(name);
}

}  // namespace mm
