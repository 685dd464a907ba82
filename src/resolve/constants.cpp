// Cells of tables: constants in the column's unit.
#include "resolve/quantities.hpp"
#include "resolve/values.hpp"

namespace mm {

std::optional<ConstValue> read_constant(Context& context, ValueId id, const AttributeDef& column,
                                        bool key_range) {
  const Value& value = context.tree.values[id];
  ConstValue constant;
  constant.is_range = key_range;
  if (column.type.kind == TypeKind::error) return std::nullopt;
  // Bare numbers are in the column's unit.
  const Unit* fallback = column.shown_in;
  if (const auto* quantity = std::get_if<QuantityValue>(&value.form);
      quantity != nullptr && column.type.is_number()) {
    auto measured =
        read_quantity(context, context.tree.quantities[quantity->quantity], fallback, &column.type);
    if (!measured || !expect_dimension(context, *measured, column.type, value.span)) return std::nullopt;
    if (quantity->spread != Spread::none) {  // a table's is symmetric
      const auto width =
          read_width(context, context.tree.quantities[quantity->plus()], *measured, column.type);
      if (!width) return std::nullopt;
      measured->value = add(measured->value, hull(neg(abs(*width)), abs(*width)));
    }
    constant.number = context.number(std::move(measured->value));
    return constant;
  }
  if (const auto* range = std::get_if<RangeValue>(&value.form); range != nullptr && column.type.is_number()) {
    ExactInterval exact;
    if (!read_range(context, *range, column.type, value.span, exact, fallback)) return std::nullopt;
    constant.number = context.number(std::move(exact));
    return constant;
  }
  ReadValue read = read_value(context, id, column, value.span);
  if (!read.good) return std::nullopt;
  if (column.type.is_number())
    constant.number =
        context.number((read.cell.flags & cell_missing) != 0 ? ExactInterval::entire() : read.given.exact);
  else
    constant.symbols = read.cell.symbols();
  return constant;
}

}  // namespace mm
