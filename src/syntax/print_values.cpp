// Names, quantities, values and types as text.
#include "syntax/print_nodes.hpp"

namespace mm {

std::string Wording::list(const std::vector<Name>& names) const {
  std::string result;
  for (const Name& n : names) {
    if (!result.empty()) result += std::string(",") + weak_break;
    result += name(n);
  }
  return result;
}

std::string Wording::path(const Path& p, std::size_t from) const {
  std::string result;
  for (std::size_t i = from; i < p.names.size(); ++i)
    result.append(i == from ? "" : ".").append(name(p.names[i]));
  return result;
}

std::string Wording::paths(const std::vector<Path>& list, std::string_view between) const {
  std::string result;
  for (const Path& p : list) result += (result.empty() ? "" : std::string(between)) + path(p);
  return result;
}

std::string Wording::quantity(const QuantitySyntax& q) const {
  std::string result = q.negative() ? "-" : "";
  result += raw(q.number().span);
  if (!q.has_own_unit()) return result;  // none, or lent: 12..24 mm
  const std::string_view unit = tree_.text(q.unit);
  if (unit != "%" || q.unit_begin != q.number_end) result += ' ';
  return result.append(unit);
}

std::string Wording::range(const RangeValue& v) const {
  if (!v.hi) return ">= " + quantity(v.lo);
  if (!v.lo) return "<= " + quantity(v.hi);
  return quantity(v.lo) + ".." + quantity(v.hi);
}

std::string Wording::spread(const QuantityValue& v) const {
  const auto amount = [&](QuantityId id) {
    return (tree_.quantities[id].negative() ? " " : "") + quantity(id);
  };
  switch (v.spread) {
    case Spread::none:
      return {};
    case Spread::symmetric:
      return " +- " + quantity(v.plus());
    case Spread::limits:
      return " +" + amount(v.plus()) + " -" + amount(v.minus());
  }
  return {};
}

std::string Wording::date(const DateSyntax& d) const { return raw(d.span); }

std::string Wording::value(ValueId id) const {
  const Value& value = tree_.values[id];
  struct Form {
    const Wording& w;
    const Value& value;
    std::string operator()(const UnknownValue&) const { return "?"; }
    std::string operator()(const QuantityValue& v) const { return w.quantity(v.quantity) + w.spread(v); }
    std::string operator()(const RangeValue& v) const { return w.range(v); }
    std::string operator()(const WordsValue& v) const {
      std::string result;
      for (const Name& word : w.tree_.words[v.words])
        result += (result.empty() ? "" : std::string(",") + weak_break) + w.name(word);
      return result;
    }
    std::string operator()(const TextValue& v) const { return w.text(w.tree_.texts[v.text]); }
    std::string operator()(const DateValue&) const {
      return w.raw({value.span.file, value.span.begin, value.span.begin + date_length});
    }
    std::string operator()(const AdjustableValue& v) const {
      const auto list = [&](std::size_t group) {
        std::string pieces;
        for (std::size_t i = 0; i < v.quantities.size(); ++i)
          pieces += (i == 0 ? " " : i % group == 0 ? ", " : " x ") + w.quantity(v.quantities[i]);
        return pieces;
      };
      switch (v.form) {
        case AdjustableValue::Form::sums:
          return "adjustable sums of" + list(2);
        case AdjustableValue::Form::one_of:
          return "adjustable one of" + list(1);
        case AdjustableValue::Form::range:
        case AdjustableValue::Form::stepped_range:
          break;
      }
      const std::string step =
          v.form == AdjustableValue::Form::stepped_range ? " step " + w.quantity(v.quantities[2]) : "";
      return "adjustable " + w.quantity(v.quantities[0]) + ".." + w.quantity(v.quantities[1]) + step;
    }
  };
  std::string result = std::visit(Form{*this, value}, value.form);
  if (const Evidence* evidence = tree_.evidence_of(value)) {
    constexpr std::string_view grades[] = {"measured", "tried",    "published",
                                           "claimed",  "unstated", "hearsay"};
    result += " per " + std::string(grades[static_cast<std::size_t>(evidence->grade)]);
    if (evidence->note) result += " " + text(tree_.texts[evidence->note]);
  }
  return result;
}

std::string Wording::type(const TypeSyntax& t) const {
  return (t.choices.empty() ? raw(t.unit.span) : "one of " + list(t.choices)) + (t.range_key ? " range" : "");
}

}  // namespace mm
