#include "resolve/quick_check.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "resolve/designations.hpp"

namespace mm {

namespace {

constexpr double doubt = 1e-12;  // relative; a product of three doubles is off by less than 1e-15

struct Amount {
  bool plain = false;  // digits with or without a point, few enough to be exact in a double
  bool whole = false;  // without a point
  double value = 0;
};

/// What was written, without regard to the unit.
Amount amount_of(const QuantitySyntax& quantity, const char* bytes) {
  static constexpr std::array<double, 16> powers{1.0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
  const std::uint32_t size = quantity.number_end - quantity.number_begin;
  if (size >= powers.size()) return {};
  std::uint64_t digits = 0;
  std::uint32_t point = size;
  const char* const number = bytes + quantity.number_begin;
  for (std::uint32_t i = 0; i < size; ++i) {
    const char c = number[i];
    if (c >= '0' && c <= '9') {
      digits = digits * 10 + static_cast<std::uint64_t>(c - '0');
    } else if (c == '.' && point == size) {
      point = i;
    } else {
      return {};
    }
  }
  const double value = static_cast<double>(digits) / powers[point == size ? 0 : size - point - 1];
  return {true, point == size, quantity.negative() ? -value : value};
}

const AttributeDef* attribute_in(const Schema& schema, Symbol name) {
  const auto found = schema.index.find(name);
  return found == schema.index.end() ? nullptr : &schema.attributes[found->second];
}

}  // namespace

bool QuickCheck::operator()(KindId kind, IdRange<AssignmentId> assignments) {
  ++sheet_;
  const Tree& tree = context_.tree;
  for (const Assignment& assignment : tree.assignments[assignments]) {
    Column& column = column_of(kind, assignment.path);
    if (column.attribute == nullptr || column.attribute->type.kind == TypeKind::place) return false;
    if (context_.currencies.size() != 1 && column.attribute->type.kind == TypeKind::quantity &&
        column.attribute->type.dimension.is_ratio() && column.attribute->name == context_.names.find("price"))
      return false;                            // money without a currency
    if (column.sheet == sheet_) return false;  // one name twice may be a dispute or an error
    column.sheet = sheet_;
    const Value& value = tree.values[assignment.value];
    bytes_ = context_.sources[value.span.file].bytes.data();
    if (!std::visit([&](const auto& form) { return right(column, form); }, value.form)) return false;
  }
  return true;
}

QuickCheck::Column& QuickCheck::column_of(KindId kind, PathId path) {
  if (columns_.size() <= kind.index) columns_.resize(context_.model.kinds.size());
  auto& columns = columns_[kind.index];
  if (columns.size() <= path.index) columns.resize(context_.tree.paths.size());
  Column& column = columns[path.index];
  if (column.looked_up) return column;
  column.looked_up = true;
  column.attribute = find_attribute(context_.model.kinds[kind], path);
  if (column.attribute == nullptr) return column;
  const Type& type = column.attribute->type;
  column.takes_any_money = type.kind == TypeKind::quantity && type.dimension.is_ratio() &&
                           column.attribute->name == context_.names.find("price");
  return column;
}

const AttributeDef* QuickCheck::find_attribute(const KindDef& kind, PathId path) const {
  const Paths& paths = context_.tree.paths;
  if (paths.length(path) == 1) return attribute_in(kind.schema, paths.last(path));
  if (paths.length(path) != 2) return nullptr;
  for (const FaceDef& face : kind.faces)
    if (face.name == paths.last(paths.outer(path)))
      return attribute_in(context_.model.interfaces[face.interface].sides[face.side].schema,
                          paths.last(path));
  return nullptr;
}

void QuickCheck::know_unit(Column& column, const QuantitySyntax& quantity) {
  if (!column.unit_known || column.unit != quantity.unit) learn_unit(column, quantity);
}

void QuickCheck::learn_unit(Column& column, const QuantitySyntax& quantity) {
  column.unit = quantity.unit;
  column.unit_known = true;
  column.unit_right = column.unit_is_money = false;
  const Unit* unit = read_unit(context_, context_.tree.unit_of(quantity), &column.attribute->type);
  if (unit == nullptr) return;
  column.unit_right = compatible(unit->dimension, column.attribute->type.dimension);
  column.unit_is_money = !unit->dimension.currency.is_none();
  column.low = -infinity;
  column.high = infinity;
  if (!column.attribute->range) return;
  const ExactInterval& range = *column.attribute->range;
  const double factor = unit->factor.to_double(), offset = unit->offset.to_double();
  if (unit->pi_power != 0 || factor <= 0) {
    column.unit_right = column.unit_is_money = false;
    return;
  }
  // in this unit, by more than doubles are off
  const auto inside = [&](const Rational& end, double inward) {
    const double amount = (end.to_double() - offset) / factor;
    return amount + inward * doubt * (std::abs(amount) + 2 * std::abs(offset / factor));
  };
  if (!range.lo_infinite) column.low = inside(range.lo_value, 1);
  if (!range.hi_infinite) column.high = inside(range.hi_value, -1);
}

bool QuickCheck::right_spread(const Column& column, QuantityId id) {
  const QuantitySyntax& spread = context_.tree.quantities[id];
  if (spread.negative() || !amount_of(spread, bytes_).plain) return false;
  if (!spread.has_unit() || spread.unit == column.unit) return column.unit_right;
  const Unit* unit = read_unit(context_, context_.tree.unit_of(spread), &column.attribute->type);
  return unit != nullptr && compatible(unit->dimension, column.attribute->type.dimension);
}

bool QuickCheck::right(Column& column, const UnknownValue&) {
  return column.attribute->type.kind != TypeKind::error;
}

bool QuickCheck::right(Column& column, const QuantityValue& value) {
  const QuantitySyntax& quantity = context_.tree.quantities[value.quantity];
  const Amount amount = amount_of(quantity, bytes_);
  if (!amount.plain) return false;
  const TypeKind kind = column.attribute->type.kind;
  if (kind == TypeKind::count) {
    if (quantity.has_unit() || quantity.negative() || !amount.whole || value.spread != Spread::none)
      return false;
  } else if (kind != TypeKind::quantity) {
    return false;
  }
  know_unit(column, quantity);
  if (!column.unit_right && !(column.takes_any_money && column.unit_is_money)) return false;
  if (value.plus() && !right_spread(column, value.plus())) return false;
  if (value.minus() && !right_spread(column, value.minus())) return false;
  return amount.value > column.low && amount.value < column.high;
}

bool QuickCheck::right(Column& column, const RangeValue& value) {
  if (column.attribute->type.kind != TypeKind::quantity) return false;
  const auto& quantities = context_.tree.quantities;
  const QuantityId written = value.hi && quantities[value.hi].has_unit() ? value.hi : value.lo;
  if (!written) return false;
  know_unit(column, quantities[written]);
  if (!column.unit_right) return false;
  double ends[2] = {-infinity, infinity};
  for (const bool high : {false, true}) {
    const QuantityId id = high ? value.hi : value.lo;
    if (!id) continue;
    const QuantitySyntax& end = quantities[id];
    const Amount amount = amount_of(end, bytes_);
    if (!amount.plain || (end.has_unit() && end.unit != column.unit)) return false;
    ends[high ? 1 : 0] = amount.value;
  }
  if (value.lo && value.hi && !(ends[0] < ends[1] - doubt * std::abs(ends[1]))) return false;
  const auto in_range = [&](double amount) { return amount > column.low && amount < column.high; };
  return !column.attribute->range || (value.lo && in_range(ends[0])) || (value.hi && in_range(ends[1]));
}

bool QuickCheck::right(Column& column, const WordsValue& value) {
  const Type& type = column.attribute->type;
  if (type.kind != TypeKind::choice || !type.choices) return false;
  if (context_.tree.words[value.words].size() > 1) return false;  // a list of hands is counted
  const auto& known = context_.model.sets[type.choices].members;
  for (const Name& word : context_.tree.words[value.words])
    if (std::find(known.begin(), known.end(), word.symbol.index) == known.end()) return false;
  return true;
}

bool QuickCheck::right(Column& column, const TextValue& value) {
  const Type& type = column.attribute->type;
  if (type.kind == TypeKind::text) return true;
  const TextLiteral& text = context_.tree.texts[value.text];
  return type.kind == TypeKind::designation &&
         read_designation_text(context_, type.designation, text.text, text.span);
}

bool QuickCheck::right(Column& column, const DateValue&) {
  return column.attribute->type.kind == TypeKind::date;
}

bool QuickCheck::right(Column&, const AdjustableValue&) { return false; }

}  // namespace mm
