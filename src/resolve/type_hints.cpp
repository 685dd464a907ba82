#include "resolve/type_hints.hpp"

#include <fmt/format.h>

#include <utility>

#include "units/unit_table.hpp"

namespace mm {

namespace {

std::vector<std::string_view> type_words(const Context& context) {
  std::vector<std::string_view> words = UnitTable::dimension_words();
  for (const auto* word : {"count", "yes_no", "text", "date"}) words.emplace_back(word);
  for (const auto& [symbol, id] : context.choices) words.push_back(context.names.text(symbol));
  for (const auto& [symbol, id] : context.designations) words.push_back(context.names.text(symbol));
  return words;
}

/// Words that stand for a type elsewhere.
constexpr std::pair<std::string_view, std::string_view> other_types[] = {
    {"number", "ratio, or count for whole numbers"},
    {"decimal", "ratio"},
    {"real", "ratio"},
    {"float", "ratio"},
    {"integer", "count"},
    {"int", "count"},
    {"quantity", "count"},
    {"bool", "yes_no"},
    {"boolean", "yes_no"},
    {"string", "text"},
    {"words", "text"},
    {"enum", "one of, as one of flat, round"},
    {"choice", "one of, as one of flat, round"},
    {"weight", "mass"},
    {"distance", "length"},
    {"size", "length, or the name of a designation"},
    {"diameter", "length"},
    {"price", "the currency, as EUR"},
    {"money", "the currency, as EUR"},
    {"cost", "the currency, as EUR"},
};

}  // namespace

std::string hint_for_unknown_type(Context& context, const std::string& text) {
  for (const auto& [seen, right] : other_types)
    if (seen == text) return fmt::format("it is written {}", right);
  return context.suggest(text, type_words(context));
}

}  // namespace mm
