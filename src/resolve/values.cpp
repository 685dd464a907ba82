#include "resolve/values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "resolve/adjustables.hpp"
#include "resolve/designations.hpp"
#include "resolve/quantities.hpp"
#include "resolve/value_hints.hpp"

namespace mm {

namespace {

class Reader {
 public:
  Reader(Context& context, const AttributeDef& attribute, const Value& value)
      : context_(context), attribute_(attribute), value_(value) {
    if (const Evidence* evidence = context.tree.evidence_of(value)) out_.given.grade = evidence->grade;
    if (attribute.type.is_number() && attribute.type.kind != TypeKind::quantity)
      out_.cell.flags |= cell_integer;
  }

  ReadValue run() {
    if (attribute_.type.kind == TypeKind::error) return out_;
    std::visit([this](const auto& form) { read(form); }, value_.form);
    return std::move(out_);
  }

 private:
  const Type& type() const { return attribute_.type; }

  void wrong(const std::string& what, std::string_view word = {}) {
    const bool quoted = std::holds_alternative<TextValue>(value_.form);
    context_.messages.add(Code::wrong_value, value_.span,
                          {context_.text(attribute_.name), type_text(context_, type()), what},
                          hint_for_value(context_, attribute_, quoted, word));
  }

  void outside_range() {
    context_.messages.add(Code::outside_range, value_.span,
                          {std::string(context_.sources.text(value_.span)), context_.text(attribute_.name)},
                          hint_for_range(context_, attribute_));
  }

  void finish_number(ExactInterval exact, const Unit* unit) {
    if (attribute_.range) {
      ExactInterval inside = intersect(exact, *attribute_.range);
      if (inside.empty) return outside_range();
      if (exact.lo_infinite || exact.hi_infinite) exact = std::move(inside);
    }
    if (exact.lo_infinite && type().kind == TypeKind::count) {
      // "at most 4" of something is none to four
      const ExactInterval countable = intersect(exact, ExactInterval::from(Interval::of(0, HUGE_VAL)));
      if (!countable.empty) exact = countable;
    }
    out_.cell.number = to_interval(exact);
    out_.given.exact = std::move(exact);
    out_.given.unit = unit;
    out_.good = true;
  }

  void finish_symbols(SymbolicSetId set) {
    out_.cell.set_symbols(set);
    out_.good = true;
  }

  void read(const UnknownValue&) {
    const Grade grade = out_.given.grade;
    out_.cell = missing_cell(context_, attribute_);
    if (type().is_number())
      out_.given.exact = attribute_.range ? *attribute_.range : ExactInterval::from(out_.cell.number);
    out_.given.grade = grade;
    out_.good = true;
  }

  const QuantitySyntax& quantity(QuantityId id) const { return context_.tree.quantities[id]; }

  /// Of pi to the power that the base's unit holds; none where the spread is not in such a unit.
  std::optional<Rational> multiple(const QuantitySyntax& spread, const Measured& base) {
    const Unit* unit = spread.has_unit() ? read_unit(context_, context_.tree.unit_of(spread)) : base.unit;
    if (unit == nullptr || unit->pi_power != base.unit->pi_power) return std::nullopt;
    const auto amount = read_amount(context_, spread.number());
    return amount ? std::optional(*amount * unit->factor) : std::nullopt;
  }

  /// The value with its spread, in multiples of pi to that power; none where that is not how it is written.
  std::optional<ExactInterval> in_pi(const QuantityValue& form, const Measured& base) {
    if (base.unit->pi_power == 0 || out_.given.default_spread) return std::nullopt;
    const Rational middle = base.amount * base.unit->factor;
    if (form.spread == Spread::none) return ExactInterval::point(middle);
    const auto plus = multiple(quantity(form.plus()), base);
    const auto minus = form.spread == Spread::symmetric ? plus : multiple(quantity(form.minus()), base);
    if (!plus || !minus) return std::nullopt;
    return hull(ExactInterval::point(middle - *minus), ExactInterval::point(middle + *plus));
  }

  /// What the attribute says of a value with no spread of its own, by how the value is known; null: nothing.
  const Rational* default_spread() const {
    const auto& spread = attribute_.default_spread[static_cast<std::size_t>(out_.given.grade)];
    return type().kind == TypeKind::quantity && spread ? &*spread : nullptr;
  }

  void read(const QuantityValue& form) {
    if (!type().is_number() || type().kind == TypeKind::boolean || type().kind == TypeKind::date)
      return wrong("a number");
    const QuantitySyntax& written = quantity(form.quantity);
    auto base = read_quantity(context_, written, nullptr, &type());
    if (!base) return;
    const bool is_price = attribute_.name == context_.names.find("price") && base->unit->dimension.currency &&
                          (type().dimension.currency || type().dimension.is_ratio());
    if (attribute_.name == context_.names.find("price") && !is_price && context_.currencies.size() != 1) {
      context_.messages.add(
          Code::wrong_dimension, written.span(),
          {"an amount of money", dimension_text(context_, base->unit->dimension)},
          context_.currencies.empty()
              ? "a currency is declared outside of any block: currency GBP; then price 40 GBP"
              : "write the currency behind it, as price 40 GBP");
      return;
    }
    if (!is_price && !expect_dimension(context_, *base, type(), written.span(), attribute_.shown_in)) return;
    const Unit* unit = base->bare ? nullptr : base->unit;
    if (form.spread == Spread::none && default_spread() != nullptr) {
      out_.given.default_spread = true;
      out_.cell.flags |= cell_default_spread;
    }
    ExactInterval exact = base->value;
    if (form.spread != Spread::none) {
      const bool symmetric = form.spread == Spread::symmetric;
      auto plus = read_width(context_, quantity(form.plus()), *base, type());
      auto minus = symmetric ? plus : read_width(context_, quantity(form.minus()), *base, type());
      if (!plus || !minus) return;
      const ExactInterval low = neg(symmetric ? abs(*plus) : *minus);
      const ExactInterval high = symmetric ? abs(*plus) : *plus;
      exact = add(exact, hull(low, high));
    } else if (const auto* spread = default_spread()) {
      const ExactInterval stated = std::exchange(exact, add(exact, ExactInterval::of(-*spread, *spread)));
      // nobody stated this spread: it does not reach beyond what the attribute can be
      if (attribute_.range && !intersect(stated, *attribute_.range).empty)
        exact = intersect(exact, *attribute_.range);
    }
    if (const auto multiples = in_pi(form, *base)) {
      exact = mul(*multiples, pi_exact(base->unit->pi_power));
      out_.given.of_pi = true;
    }
    finish_number(std::move(exact), unit);
  }

  void read(const RangeValue& form) {
    if (!type().is_number() || type().kind == TypeKind::boolean || type().kind == TypeKind::date)
      return wrong("a range");
    const Unit* unit = nullptr;
    ExactInterval range;
    if (!read_range(context_, form, type(), value_.span, range, nullptr, &unit)) return;
    const auto holds_pi = [&](QuantityId end) {
      if (!end || unit == nullptr || unit->pi_power == 0) return false;
      const QuantitySyntax& written = quantity(end);
      return !written.has_unit() ||
             read_unit(context_, context_.tree.unit_of(written))->pi_power == unit->pi_power;
    };
    out_.given.of_pi = holds_pi(form.lo) && holds_pi(form.hi);
    finish_number(std::move(range), unit);
  }

  void read(const WordsValue& form) {
    const auto text_of = [&](const Name& word) { return context_.text(word); };
    const auto words = context_.tree.words[form.words];
    if (type().kind == TypeKind::boolean) {
      const std::string word = text_of(words[0]);
      if (words.size() != 1 || (word != "yes" && word != "no")) return wrong(fmt::format("\"{}\"", word));
      return finish_number(ExactInterval::point(word == "yes" ? 1 : 0), nullptr);
    }
    if (type().kind == TypeKind::text && words.size() == 1)
      return finish_symbols(context_.set_of(words[0].symbol));
    if (type().kind != TypeKind::choice)
      return wrong(fmt::format("the word \"{}\"", text_of(words[0])), text_of(words[0]));
    std::vector<std::uint32_t> members;
    bool good = true;
    for (const auto& word : words) {
      const auto& known = context_.model.sets[type().choices].members;
      if (std::find(known.begin(), known.end(), word.symbol.index) == known.end()) {
        std::vector<std::string_view> names;
        for (const auto member : known) names.push_back(context_.names.text(Symbol{member}));
        context_.messages.add(Code::unknown_choice, word.span,
                              {text_of(word), context_.list_of(type().choices)},
                              context_.suggest(context_.names.text(word.symbol), names));
        good = false;
      }
      members.push_back(word.symbol.index);
    }
    if (good) finish_symbols(context_.set_of(std::move(members)));
  }

  void read(const TextValue& form) {
    const TextLiteral& text = context_.tree.texts[form.text];
    if (type().kind == TypeKind::text)
      return finish_symbols(context_.set_of(context_.names.intern(text.text)));
    if (type().kind != TypeKind::designation) return wrong("a text");
    const auto id = read_designation_text(context_, type().designation, text.text, text.span);
    if (id) finish_symbols(context_.set_of(std::vector<std::uint32_t>{id.index}));
  }

  void read(const DateValue& form) {
    if (type().kind != TypeKind::date) return wrong("a date");
    auto days = day_number(form.date);
    if (!days) return;  // said by the parser
    finish_number(ExactInterval::point(Rational(*days)), nullptr);
  }

  void read(const AdjustableValue& form) {
    if (!type().is_number() || type().kind == TypeKind::boolean || type().kind == TypeKind::date) {
      context_.messages.add(Code::adjustable_not_number, value_.span,
                            {context_.text(attribute_.name), type_text(context_, type())});
      return;
    }
    out_.cell.flags |= cell_adjustable;
    if (!value_.evidence) out_.given.grade = Grade::measured;  // who sets it knows it
    auto adjustable = read_adjustable(context_, form, type(), value_.span);
    if (!adjustable) return;
    // each setting is a value
    if (attribute_.range && !attribute_.range->contains(adjustable->range.lo_value)) return outside_range();
    if (attribute_.range && !attribute_.range->contains(adjustable->range.hi_value)) return outside_range();
    out_.given.adjustment = Adjustment{std::move(adjustable->step), std::move(adjustable->settings)};
    finish_number(std::move(adjustable->range), adjustable->unit);
  }

  Context& context_;
  const AttributeDef& attribute_;
  const Value& value_;
  ReadValue out_;
};

}  // namespace

ReadValue read_value(Context& context, ValueId id, const AttributeDef& attribute, Span assignment) {
  const Value& value = context.tree.values[id];
  ReadValue read = Reader(context, attribute, value).run();
  read.given.span = assignment;
  read.given.value_begin = value.span.begin;
  read.given.evidence = value.evidence;
  return read;
}

Cell missing_cell(Context& context, const AttributeDef& attribute) {
  Cell cell;
  cell.flags = cell_missing;
  const Type& type = attribute.type;
  if (type.is_number()) {
    cell.number = attribute.range ? to_interval(*attribute.range) : Interval::entire();
    if (type.kind == TypeKind::boolean) cell.number = Interval::of(0, 1);
    if (type.kind == TypeKind::count)
      cell.number = intersect(cell.number, Interval::of(0, std::numeric_limits<double>::infinity()));
    if (type.kind != TypeKind::quantity) cell.flags |= cell_integer;
  } else {
    cell.set_symbols(type.kind == TypeKind::choice && type.choices ? type.choices : context.any_member());
  }
  return cell;
}

void merge_disputed(Context& context, Cell& cell, const Cell& other) {
  constexpr std::uint32_t all_but_adjustable =
      0x1fU ^ cell_adjustable;  // nobody knows which of the two may be set
  cell.flags = (cell.flags | other.flags | cell_disputed) & all_but_adjustable;
  if (!cell.symbols()) {
    cell.number = hull(cell.number, other.number);
    return;
  }
  const SymbolicSet& a = context.model.sets[cell.symbols()];
  const SymbolicSet& b = context.model.sets[other.symbols()];
  if (a.all || b.all) {
    cell.set_symbols(context.any_member());
    return;
  }
  std::vector<std::uint32_t> members = a.members;
  members.insert(members.end(), b.members.begin(), b.members.end());
  cell.set_symbols(context.set_of(std::move(members)));
}

}  // namespace mm
