#include "report/list_words.hpp"

#include <algorithm>

#include "messages/message.hpp"
#include "report/numbers.hpp"
#include "report/page.hpp"
#include "report/values.hpp"
#include "units/dimension_words.hpp"

namespace mm {

namespace {

std::string dimension_words(const Dimension& dimension) {
  if (dimension.is_ratio()) return "plain number";
  for (const DimensionWord& row : dimension_word_table())
    if (row.dimension() == dimension) return std::string(row.word);
  return "quantity";
}

std::string members(const Offer& offer, SymbolicSetId set) {
  if (!set) return "a word";
  std::vector<std::string> names;
  for (const std::uint32_t member : as_written(offer.model, set))
    names.push_back(name_text(offer, Symbol{member}));
  return "one of " + listed(names, " or ");
}

}  // namespace

namespace {

std::string words_for(const Offer& offer, const Type& type, const Unit* shown_in) {
  switch (type.kind) {
    case TypeKind::quantity: {
      const std::string unit = shown_in ? shown_in->text : std::string();
      return dimension_words(type.dimension) + (unit.empty() ? "" : " in " + unit);
    }
    case TypeKind::count:
      return "count";
    case TypeKind::boolean:
      return "yes or no";
    case TypeKind::date:
      return "date";
    case TypeKind::choice:
      return members(offer, type.choices);
    case TypeKind::text:
      return "text";
    case TypeKind::designation:
      return name_text(offer, offer.model.designations[type.designation].name);
    case TypeKind::place:
      return "place";
    case TypeKind::part:
      return type.part_kind ? "part of kind " + name_text(offer, offer.model.kinds[type.part_kind].name)
                            : "part";
    default:
      return "";
  }
}

}  // namespace

std::string type_words(const Offer& offer, const AttributeDef& attribute) {
  return words_for(offer, attribute.type, attribute.shown_in);
}

std::string type_words(const Offer& offer, const NamedType& named) {
  return named.letter ? "one capital letter" : words_for(offer, named.type, named.shown_in);
}

std::string head_words(const Offer& offer, Symbol name, const std::string& doc, Span span) {
  return name_text(offer, name) + (doc.empty() ? "" : ": " + printable(doc)) + " (" +
         declared_at(offer, span) + ")";
}

std::string range_words(const Offer& offer, const AttributeDef& attribute) {
  if (!attribute.range) return {};
  return number_text(*attribute.range, unit_of(attribute, offer.model.units, offer.names));
}

std::string name_text(const Offer& offer, Symbol symbol) {
  return symbol ? printable(offer.names.text(symbol)) : std::string();
}

std::string declared_at(const Offer& offer, Span span) {
  if (!span.file) return {};
  return printable(offer.sources[span.file].path) + ":" + std::to_string(offer.sources.place(span).line);
}

std::vector<const AttributeDef*> stated(const Schema& schema, bool of_kind) {
  std::vector<const AttributeDef*> out;
  for (std::size_t i = of_kind ? part_property_count : 0; i < schema.attributes.size(); ++i)
    out.push_back(&schema.attributes[i]);
  return out;
}

std::string text_of(const Offer& offer, ExprId expr) {
  return printable(squeezed(offer.sources.text(offer.tree.exprs[expr].span)));
}

bool is_of_trial(const Offer& offer, const RequirementDef& requirement) {
  return !requirement.interface && requirement.rule >= offer.model.rules.size();
}

bool is_wanted(const Offer& offer, Symbol name, const std::vector<std::string>& wanted) {
  return wanted.empty() || std::find(wanted.begin(), wanted.end(), offer.names.text(name)) != wanted.end();
}

}  // namespace mm
