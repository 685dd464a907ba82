#include "resolve/value_hints.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "resolve/unit_hints.hpp"

namespace mm {

namespace {

constexpr std::array<std::string_view, 12> numbers_in_words = {
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"};

std::string hint_for_number(TypeKind wanted, std::string_view word) {
  const auto spelled = std::find(numbers_in_words.begin(), numbers_in_words.end(), word);
  const bool count = wanted == TypeKind::count;
  if (spelled != numbers_in_words.end())
    return fmt::format("write {}{}", spelled - numbers_in_words.begin() + 1,
                       count ? ", a whole number" : " and its unit, if it has one");
  return count && !word.empty() ? "write a whole number, as 4, or ? for what is not known yet"
                                : "write ? for what is not known yet";
}

/// Of ET25 for a length "25 mm".
std::string number_in(const Context& context, const AttributeDef& attribute, std::string_view word) {
  const std::size_t digits = word.find_first_of("0123456789");
  if (digits == std::string_view::npos ||
      word.find_first_not_of("0123456789", digits) != std::string_view::npos)
    return {};
  std::string unit;
  if (const Unit* told = attribute.told_in())
    unit = told->text;
  else if (attribute.type.kind == TypeKind::quantity)
    unit = unit_example(context, attribute.type.dimension);
  unit.resize(std::min(unit.find(' '), unit.size()));
  return std::string(word.substr(digits)) + (unit.empty() ? "" : " " + unit);
}

}  // namespace

std::string hint_for_value(const Context& context, const AttributeDef& attribute, bool quoted,
                           std::string_view word) {
  const TypeKind wanted = attribute.type.kind;
  switch (wanted) {
    case TypeKind::designation:
      return "put the size in quotes";
    case TypeKind::text:
      return "put the text in quotes";
    case TypeKind::boolean:
      return "write yes or no";
    case TypeKind::choice:
      return quoted ? "write the word without quotes" : "";
    case TypeKind::date:
      return "write year-month-day, as 2026-03-14";
    default:
      if (quoted) return "write it without quotes";
      if (const std::string number = number_in(context, attribute, word); !number.empty())
        return fmt::format("write the number {}, as {}; ? for what is not known yet",
                           number.find(' ') == std::string::npos ? "alone" : "with its unit", number);
      return hint_for_number(wanted, word);
  }
}

std::string hint_for_range(const Context& context, const AttributeDef& attribute) {
  const std::string unit_first = "look at the unit first";
  std::string_view declared = context.sources.text(attribute.span);
  const std::size_t in = declared.find(" in ");
  if (in == std::string_view::npos) return unit_first;
  declared = declared.substr(in + 4);
  declared = declared.substr(0, declared.find_first_of("\"\n#;{}"));
  declared = declared.substr(0, std::min(declared.find(" measure"), declared.find(" spread")));
  while (declared.ends_with(' ')) declared.remove_suffix(1);
  return fmt::format("it is declared for {}; {}", declared, unit_first);
}

}  // namespace mm
