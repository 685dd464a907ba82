#include "resolve/types.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_set>

#include "resolve/quantities.hpp"
#include "resolve/type_hints.hpp"

namespace mm {

namespace {

std::optional<ReadType> plain_word(Context& context, const Name& name, bool kinds_too) {
  const std::string word = context.text(name);
  ReadType read;
  if (word == "count") return read.type = simple_type(TypeKind::count, true), read;
  if (word == "yes_no") return read.type = simple_type(TypeKind::boolean, true), read;
  if (word == "date") return read.type = simple_type(TypeKind::date, true), read;
  if (word == "text" || word == "letter" || word == "word") {
    read.type = simple_type(TypeKind::text, true);
    read.letter = word == "letter";
    read.word = word == "word";
    return read;
  }
  if (auto dimension = UnitTable::dimension_word(word)) {
    read.type = quantity_type(*dimension);
    if (word == "temperature_difference") read.type.readings = 0;
    return read;
  }
  if (auto found = context.choices.find(name.symbol); found != context.choices.end()) {
    read.type = simple_type(TypeKind::choice, true);
    read.type.choices = found->second;
    return read;
  }
  if (auto found = context.designations.find(name.symbol); found != context.designations.end()) {
    read.type = simple_type(TypeKind::designation, true);
    read.type.designation = found->second;
    return read;
  }
  if (auto found = context.kinds.find(name.symbol); kinds_too && found != context.kinds.end()) {
    read.type = simple_type(TypeKind::part);
    read.type.part_kind = found->second;
    return read;
  }
  return std::nullopt;
}

}  // namespace

namespace {

const ReadType* known_type(Context& context, UnitId written) {
  auto& known = context.types_read;
  if (known.size() < context.tree.units.size()) known.resize(context.tree.units.size());
  return written && known[written.index] ? &*known[written.index] : nullptr;
}

}  // namespace

void check_choices(Context& context, std::span<const Name> choices) {
  std::unordered_set<Symbol> seen;
  for (const Name& choice : choices)
    if (!seen.insert(choice.symbol).second)
      context.messages.add(Code::duplicate_name, choice.span, {"word", context.text(choice)});
}

ReadType read_type(Context& context, const TypeSyntax& type, bool kinds_too) {
  ReadType read;
  if (!type.choices.empty()) {
    std::vector<std::uint32_t> members;
    for (const auto& choice : type.choices) members.push_back(choice.symbol.index);
    check_choices(context, type.choices);
    read.type = simple_type(TypeKind::choice, true);
    read.type.choices = context.set_of(std::move(members));
    return read;
  }
  if (const ReadType* known = known_type(context, type.unit.id)) return *known;
  const auto factors = type.unit.empty() ? Run<UnitFactorSyntax>() : context.tree.units[type.unit.id];
  if (factors.size() == 1 && factors[0].power == 1) {
    Name name{factors[0].name, type.unit.span};
    name.span.end = name.span.begin + static_cast<std::uint32_t>(context.names.text(name.symbol).size());
    if (auto word = plain_word(context, name, kinds_too)) {
      if (word->type.kind != TypeKind::part) context.types_read[type.unit.id.index] = word;
      return *word;
    }
    if (context.model.units.find(context.names.text(name.symbol)) == nullptr) {
      const std::string text = context.text(name);
      context.messages.add(Code::unknown_type, name.span, {text}, hint_for_unknown_type(context, text));
      return read;
    }
  }
  if (auto unit = read_unit(context, type.unit)) {
    read.type = quantity_type(unit->dimension);
    if (unit->for_differences) read.type.readings = 0;
    read.unit = unit;
    if (type.unit.id) context.types_read[type.unit.id.index] = read;
  }
  return read;
}

bool read_range(Context& context, const RangeValue& range, const Type& type, Span span, ExactInterval& result,
                const Unit* fallback, const Unit** unit) {
  // "12.5..13.0 mm": the unit stands once and serves both ends.
  const Unit* shared = nullptr;
  const auto& quantities = context.tree.quantities;
  for (const QuantityId end : {range.hi, range.lo}) {
    if (!end || !quantities[end].has_unit() || shared != nullptr) continue;
    shared = read_unit(context, context.tree.unit_of(quantities[end]), &type);
    if (shared == nullptr) return false;
  }
  const Unit* other = shared != nullptr ? shared : fallback;
  if (shared != nullptr && range.lo && range.hi &&
      !clear_ends(context, quantities[range.lo], quantities[range.hi], *shared))
    return false;
  bool good = true;
  if (shared == nullptr && fallback == nullptr && range.lo && range.hi && type.kind == TypeKind::quantity &&
      !type.dimension.is_ratio()) {  // no unit at either end is one slip
    const Span both{span.file, quantities[range.lo].span().begin, quantities[range.hi].span().end};
    Measured bare;
    bare.unit = &no_unit();
    bare.bare = true;
    if (!expect_dimension(context, bare, type, both)) return false;
  }
  const auto read_end = [&](QuantityId id, Rational& end, bool& infinite, Rational ExactInterval::*side) {
    infinite = id.is_none();
    if (infinite) return;
    const auto measured = read_quantity(context, quantities[id], other, &type);
    if (!measured || !expect_dimension(context, *measured, type, quantities[id].span()))
      good = false;
    else
      end = measured->value.*side;
  };
  read_end(range.lo, result.lo_value, result.lo_infinite, &ExactInterval::lo_value);
  read_end(range.hi, result.hi_value, result.hi_infinite, &ExactInterval::hi_value);
  if (unit != nullptr && shared != nullptr) *unit = shared;
  if (!good) return false;
  if (range.lo && range.hi && result.lo_value > result.hi_value) {
    context.messages.add(Code::range_backwards, span,
                         {std::string(context.sources.text(quantities[range.lo].span())),
                          std::string(context.sources.text(quantities[range.hi].span()))},
                         "write the smaller end first");
    return false;
  }
  return true;
}

AttributeDef read_attribute(Context& context, const AttributeDecl& decl) {
  AttributeDef def;
  def.name = decl.name.symbol;
  def.span = decl.span;
  ReadType read = read_type(context, decl.type);
  def.type = read.type;
  def.type.nominal = def.type.kind != TypeKind::quantity;
  def.shown_in = read.unit;
  if (decl.doc) def.doc = in_one_line(decl.doc->text);
  if (decl.measure) def.measure = in_one_line(decl.measure->text);
  if (def.type.kind == TypeKind::error) return def;
  if (decl.range) {
    if (!def.type.is_number() || def.type.kind == TypeKind::boolean || def.type.kind == TypeKind::date) {
      context.messages.add(Code::type_not_here, decl.range_span, {"a range"}, "only numbers have a range");
    } else {
      ExactInterval range;
      const Unit* unit = nullptr;
      if (read_range(context, *decl.range, def.type, decl.range_span, range, nullptr, &unit)) {
        def.range = std::move(range);
        if (unit != nullptr && !unit->text.empty()) def.ranged_in = unit;
      }
    }
  }
  for (const auto& spread : decl.spreads) {
    if (def.type.kind != TypeKind::quantity) {
      context.messages.add(Code::type_not_here, spread.span, {"a spread"}, "only quantities have a spread");
      continue;
    }
    auto amount = read_quantity(context, spread.amount, nullptr, &def.type);
    if (!amount || !expect_unsigned(context, spread.amount) ||
        !expect_dimension(context, *amount, def.type, spread.amount.span()))
      continue;
    def.default_spread[static_cast<std::size_t>(spread.grade)] = amount->amount * amount->unit->factor;
  }
  // A value without evidence counts as claimed, and hearsay is not known better.
  for (const Grade grade : {Grade::unstated, Grade::hearsay}) {
    auto& spread = def.default_spread[static_cast<std::size_t>(grade)];
    if (!spread) spread = def.default_spread[static_cast<std::size_t>(Grade::claimed)];
  }
  return def;
}

void attribute_twice(Context& context, const std::string& sort, const Name& name, const AttributeDef& first) {
  if (first.span.file) return context.declared_twice(sort, name, first.span);
  context.messages.add(Code::duplicate_name, name.span, {sort, context.text(name)},
                       fmt::format("every part has \"{}\": {}; leave this out, or choose another name",
                                   context.text(name), first.doc));
}

bool add_attributes(Context& context, Schema& schema, const std::vector<Name>& groups,
                    const std::vector<AttributeDecl>& attributes, const std::string& owner) {
  bool good = true;
  std::size_t most = schema.attributes.size() + attributes.size();
  for (const auto& group : groups)
    if (auto found = context.groups.find(group.symbol); found != context.groups.end())
      most += found->second->attributes.size();
  schema.attributes.reserve(most);
  const auto add = [&](const AttributeDecl& decl) {
    const auto index = static_cast<std::uint32_t>(schema.attributes.size());
    const auto [found, added] = schema.index.try_emplace(decl.name.symbol, index);
    if (!added) {
      attribute_twice(context, "attribute of " + owner, decl.name, schema.attributes[found->second]);
      return;
    }
    schema.attributes.push_back(read_attribute(context, decl));
  };
  for (const auto& group : groups) {
    auto found = context.groups.find(group.symbol);
    if (found == context.groups.end()) {
      context.unknown_in("group", group, context.groups, groups);
      good = false;
      continue;
    }
    context.groups_taken.insert(group.symbol);
    for (const auto& decl : found->second->attributes) add(decl);
  }
  for (const auto& decl : attributes) add(decl);
  return good;
}

namespace {

void make_part_properties(Context& context) {
  const auto add = [&](const char* name, Type type, const char* doc) {
    AttributeDef& def = context.part_properties.emplace_back();
    def.name = context.names.intern(name);
    def.type = type;
    def.doc = doc;
  };
  const auto words = [&](std::initializer_list<const char*> list) {
    std::vector<std::uint32_t> members;
    for (const char* word : list) members.push_back(context.names.intern(word).index);
    Type type = simple_type(TypeKind::choice, true);
    type.choices = context.set_of(std::move(members));
    return type;
  };
  Dimension money;
  if (context.currencies.size() == 1) {
    money.currency = context.currencies[0];
    money.currency_twelfths = 12;
  }
  context.part_properties.reserve(part_property_count);
  add("price", quantity_type(money), "what it costs");
  add("state", words({"in_hand", "ordered", "to_buy", "offered"}), "where the part is");
  add("quantity", simple_type(TypeKind::count, true), "how many there are");
  add("hand", words({"left", "right"}), "left or right");
  add("seller", simple_type(TypeKind::text, true), "who sells it");
  add("return_by", simple_type(TypeKind::date, true), "last day to send it back");
  add("tag", simple_type(TypeKind::text, true), "the builder's own mark");
  add("note", simple_type(TypeKind::text, true), "anything else");
  add("place", simple_type(TypeKind::place, true), "where it is fitted");
}

}  // namespace

void add_part_properties(Context& context, Schema& schema) {
  if (context.part_properties.empty()) make_part_properties(context);
  schema.attributes = context.part_properties;
  for (std::uint32_t i = 0; i < part_property_count; ++i) schema.index.emplace(schema.attributes[i].name, i);
}

void check_groups(Context& context) {
  for (const auto& [name, decl] : context.groups) {
    if (context.groups_taken.contains(name)) continue;
    Schema alone;
    add_attributes(context, alone, {}, decl->attributes, "group " + context.text(decl->name));
  }
}

}  // namespace mm
