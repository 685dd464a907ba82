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
  std::string result = q.number.negative ? "-" : "";
  result += raw(q.number.span);
  const bool lent = q.unit.span.begin >= q.span.end;  // 12..24 mm
  if (q.unit.empty() || lent) return result;
  const std::string unit = raw(q.unit.span);
  return result + (unit == "%" && q.unit.span.begin == q.number.span.end ? "" : " ") + unit;
}

std::string Wording::range(const RangeValue& v) const {
  if (!v.hi) return ">= " + quantity(*v.lo);
  if (!v.lo) return "<= " + quantity(*v.hi);
  return quantity(*v.lo) + ".." + quantity(*v.hi);
}

std::string Wording::spread(const QuantityValue& v) const {
  if (!v.plus) return {};
  if (v.symmetric) return " +- " + quantity(*v.plus);
  return std::string(" +") + (v.plus->number.negative ? " " : "") + quantity(*v.plus) + " -" +
         (v.minus->number.negative ? " " : "") + quantity(*v.minus);
}

std::string Wording::date(const DateSyntax& d) const { return raw(d.span); }

std::string Wording::value(ValueId id) const {
  const Value& value = tree_.values[id];
  struct Form {
    const Wording& w;
    std::string operator()(const UnknownValue&) const { return "?"; }
    std::string operator()(const QuantityValue& v) const { return w.quantity(v.quantity) + w.spread(v); }
    std::string operator()(const RangeValue& v) const { return w.range(v); }
    std::string operator()(const WordsValue& v) const { return w.list(v.words); }
    std::string operator()(const TextValue& v) const { return w.text(v.text); }
    std::string operator()(const DateValue& v) const { return w.date(v.date); }
    std::string operator()(const AdjustableValue& v) const {
      std::string pieces;
      const auto add = [&](const std::string& piece) { pieces += (pieces.empty() ? " " : ", ") + piece; };
      for (const auto& piece : v.sums) add(w.quantity(piece.count) + " x " + w.quantity(piece.size));
      for (const auto& setting : v.one_of) add(w.quantity(setting));
      if (!v.sums.empty()) return "adjustable sums of" + pieces;
      if (!v.one_of.empty()) return "adjustable one of" + pieces;
      return "adjustable " + w.range(*v.range) + (v.step ? " step " + w.quantity(*v.step) : std::string());
    }
  };
  std::string result = std::visit(Form{*this}, value.form);
  if (value.evidence) {
    constexpr std::string_view grades[] = {"measured", "tried",    "published",
                                           "claimed",  "unstated", "hearsay"};
    result += " per " + std::string(grades[static_cast<std::size_t>(value.evidence->grade)]) +
              text(value.evidence->note);
  }
  return result;
}

std::string Wording::type(const TypeSyntax& t) const {
  return (t.choices.empty() ? raw(t.unit.span) : "one of " + list(t.choices)) + (t.range_key ? " range" : "");
}

}  // namespace mm
