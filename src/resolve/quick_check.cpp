// Large catalogues are mostly right, and most of their parts are in no build. To know that a sheet is right
// takes no exact numbers: names must be known, dimensions equal, and ends in order by more than doubles can
// be off. Whatever is not plainly so is left to `assign`, which alone words messages.
#include <algorithm>
#include <cmath>

#include "resolve/designations.hpp"
#include "resolve/quantities.hpp"
#include "resolve/sheets.hpp"

namespace mm {

namespace {

constexpr double doubt = 1e-12;  // relative; a product of three doubles is off by less than 1e-15

class QuickCheck {
 public:
  QuickCheck(Context& context, const AttributeDef& attribute)
      : context_(context), attribute_(attribute), type_(attribute.type) {}

  bool operator()(const UnknownValue&) const { return type_.kind != TypeKind::error; }

  bool operator()(const QuantityValue& value) const {
    const Unit* unit = unit_of(value.quantity.unit);
    const auto amount = amount_of(value.quantity.number);
    if (unit == nullptr || !amount || !right_type(value.quantity, *unit)) return false;
    for (const auto* spread : {&value.plus, &value.minus})
      if (*spread && !right_spread(**spread, *unit)) return false;
    return in_range(*amount, *unit);
  }

  bool operator()(const RangeValue& value) const {
    if (type_.kind != TypeKind::quantity) return false;
    const auto& written = value.hi && !value.hi->unit.empty() ? value.hi : value.lo;
    if (!written) return false;
    const Unit* unit = unit_of(written->unit);
    if (unit == nullptr || !compatible(unit->dimension, type_.dimension)) return false;
    double ends[2] = {-infinity, infinity};
    for (const bool high : {false, true}) {
      const auto& end = high ? value.hi : value.lo;
      if (!end) continue;
      const auto amount = amount_of(end->number);
      if (!amount || (!end->unit.empty() && unit_of(end->unit) != unit)) return false;
      ends[high ? 1 : 0] = *amount;
    }
    if (value.lo && value.hi && !(ends[0] < ends[1] - doubt * std::abs(ends[1]))) return false;
    return !attribute_.range || (value.lo && in_range(ends[0], *unit)) ||
           (value.hi && in_range(ends[1], *unit));
  }

  bool operator()(const WordsValue& value) const {
    if (type_.kind != TypeKind::choice || !type_.choices) return false;
    const auto& known = context_.model.sets[type_.choices].members;
    return std::all_of(value.words.begin(), value.words.end(), [&](const Name& word) {
      return std::find(known.begin(), known.end(), word.symbol.index) != known.end();
    });
  }

  bool operator()(const TextValue& value) const {
    if (type_.kind == TypeKind::text) return true;
    return type_.kind == TypeKind::designation &&
           read_designation_text(context_, type_.designation, value.text.text, value.text.span);
  }

  bool operator()(const DateValue&) const { return type_.kind == TypeKind::date; }
  bool operator()(const AdjustableValue&) const { return false; }

 private:
  static constexpr double infinity = std::numeric_limits<double>::infinity();

  const Unit* unit_of(const UnitSyntax& unit) const {
    return unit.empty() ? &no_unit() : read_unit(context_, unit);
  }

  /// Plain digits with or without a point.
  std::optional<double> amount_of(const NumberSyntax& number) const {
    const std::string_view text = context_.sources.text(number.span);
    if (text.size() > 15) return std::nullopt;
    double digits = 0, scale = 1;
    bool point = false;
    for (const char c : text) {
      if (c == '.' && !point) {
        point = true;
      } else if (c >= '0' && c <= '9') {
        digits = digits * 10 + (c - '0');
        if (point) scale *= 10;
      } else {
        return std::nullopt;
      }
    }
    return number.negative ? -digits / scale : digits / scale;
  }

  bool right_type(const QuantitySyntax& quantity, const Unit& unit) const {
    if (type_.kind == TypeKind::count)
      return quantity.unit.empty() && !quantity.number.negative &&
             context_.sources.text(quantity.number.span).find('.') == std::string_view::npos;
    if (type_.kind != TypeKind::quantity) return false;
    if (compatible(unit.dimension, type_.dimension)) return true;
    return unit.dimension.currency && type_.dimension.is_ratio() &&  // a price is in any currency
           attribute_.name == context_.names.find("price");
  }

  bool right_spread(const QuantitySyntax& spread, const Unit& base) const {
    const Unit* unit = spread.unit.empty() ? &base : unit_of(spread.unit);
    return type_.kind == TypeKind::quantity && unit != nullptr && !spread.number.negative &&
           amount_of(spread.number) && compatible(unit->dimension, type_.dimension);
  }

  /// Inside the attribute's declared range by more than the doubles are off.
  bool in_range(double amount, const Unit& unit) const {
    if (!attribute_.range) return true;
    if (unit.pi_power != 0) return false;
    const double value = amount * unit.factor.get_d() + unit.offset.get_d();
    const double off = doubt * (std::abs(amount * unit.factor.get_d()) + std::abs(unit.offset.get_d()));
    const ExactInterval& range = *attribute_.range;
    return (range.lo_infinite ||
            value - off > range.lo_value.get_d() * (1 + std::copysign(doubt, range.lo_value.get_d()))) &&
           (range.hi_infinite ||
            value + off < range.hi_value.get_d() * (1 - std::copysign(doubt, range.hi_value.get_d())));
  }

  Context& context_;
  const AttributeDef& attribute_;
  const Type& type_;
};

const AttributeDef* attribute_in(const Schema& schema, Symbol name) {
  const auto found = schema.index.find(name);
  return found == schema.index.end() ? nullptr : &schema.attributes[found->second];
}

const AttributeDef* find_attribute(const Model& model, const KindDef& kind, const Path& path) {
  if (path.names.size() == 1) return attribute_in(kind.schema, path.names[0].symbol);
  if (path.names.size() != 2) return nullptr;
  for (const FaceDef& face : kind.faces)
    if (face.name == path.names[0].symbol)
      return attribute_in(model.interfaces[face.interface].sides[face.side].schema, path.names[1].symbol);
  return nullptr;
}

}  // namespace

bool surely_right(Context& context, KindId kind_id, const std::vector<Assignment>& assignments) {
  const KindDef& kind = context.model.kinds[kind_id];
  for (std::size_t i = 0; i < assignments.size(); ++i) {
    const Path& path = assignments[i].path;
    const AttributeDef* attribute = find_attribute(context.model, kind, path);
    if (attribute == nullptr || attribute->type.kind == TypeKind::place) return false;
    for (std::size_t j = 0; j < i; ++j) {  // one name twice may be a dispute or an error
      const auto& other = assignments[j].path.names;
      if (other.back().symbol == path.names.back().symbol && other.size() == path.names.size() &&
          other.front().symbol == path.names.front().symbol)
        return false;
    }
    if (!std::visit(QuickCheck(context, *attribute), context.tree.values[assignments[i].value].form))
      return false;
  }
  return true;
}

}  // namespace mm
