#include "resolve/types.hpp"

#include <algorithm>

#include "resolve/quantities.hpp"

namespace mm {

namespace {

std::vector<std::string_view> type_words(const Context& context) {
  std::vector<std::string_view> words = UnitTable::dimension_words();
  for (const auto* word : {"count", "yes_no", "text", "date"}) words.emplace_back(word);
  for (const auto& [symbol, id] : context.choices) words.push_back(context.names.text(symbol));
  for (const auto& [symbol, id] : context.designations) words.push_back(context.names.text(symbol));
  return words;
}

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
  if (auto dimension = UnitTable::dimension_word(word)) return read.type = quantity_type(*dimension), read;
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

ReadType read_type(Context& context, const TypeSyntax& type, bool kinds_too) {
  ReadType read;
  if (!type.choices.empty()) {
    std::vector<std::uint32_t> members;
    for (const auto& choice : type.choices) members.push_back(choice.symbol.index);
    read.type = simple_type(TypeKind::choice, true);
    read.type.choices = context.set_of(std::move(members));
    return read;
  }
  if (type.unit.factors.size() == 1 && type.unit.factors[0].power == 1) {
    const Name& name = type.unit.factors[0].name;
    if (auto word = plain_word(context, name, kinds_too)) return *word;
    if (context.model.units.find(context.names.text(name.symbol)) == nullptr) {
      const std::string text = context.text(name);
      context.messages.add(Code::unknown_type, name.span, {text}, suggestion(text, type_words(context)));
      return read;
    }
  }
  if (auto unit = read_unit(context, type.unit)) {
    read.type = quantity_type(unit->dimension);
    read.unit = *unit;
  }
  return read;
}

std::optional<ExactInterval> read_range(Context& context, const RangeValue& range, const Type& type,
                                        Span span, const Unit* fallback, const Unit** unit) {
  // "12.5..13.0 mm": the unit stands once and serves both ends.
  const Unit* shared = nullptr;
  for (const auto* end : {&range.hi, &range.lo})
    if (*end && !(*end)->unit.empty() && shared == nullptr) shared = read_unit(context, (*end)->unit);
  const Unit* other = shared != nullptr ? shared : fallback;
  ExactInterval result = ExactInterval::entire();
  bool good = true;
  if (shared == nullptr && fallback == nullptr && range.lo && range.hi && type.kind == TypeKind::quantity &&
      !type.dimension.is_ratio()) {  // no unit at either end is one slip
    const Span both{span.file, range.lo->span.begin, range.hi->span.end};
    Measured bare;
    bare.unit = &no_unit();
    bare.bare = true;
    if (!expect_dimension(context, bare, type, both)) return std::nullopt;
  }
  const auto read_end = [&](const QuantitySyntax& end) -> std::optional<Measured> {
    auto measured = read_quantity(context, end, other);
    if (!measured || !expect_dimension(context, *measured, type, end.span)) return std::nullopt;
    return measured;
  };
  if (range.lo) {
    auto lo = read_end(*range.lo);
    if (lo) result = ExactInterval::of(lo->value.lo_value, lo->value.lo_value), result.hi_infinite = true;
    good = good && lo.has_value();
  }
  if (range.hi) {
    auto hi = read_end(*range.hi);
    if (hi) result.hi_value = hi->value.hi_value, result.hi_infinite = false;
    good = good && hi.has_value();
  }
  if (unit != nullptr && shared != nullptr) *unit = shared;
  if (!good) return std::nullopt;
  if (range.lo && range.hi && result.lo_value > result.hi_value) {
    context.messages.add(Code::range_backwards, span,
                         {std::string(context.sources.text(range.lo->span)),
                          std::string(context.sources.text(range.hi->span))},
                         "write the smaller end first");
    return std::nullopt;
  }
  return result;
}

AttributeDef read_attribute(Context& context, const AttributeDecl& decl) {
  AttributeDef def;
  def.name = decl.name.symbol;
  def.span = decl.span;
  ReadType read = read_type(context, decl.type);
  def.type = read.type;
  def.type.nominal = def.type.kind != TypeKind::quantity;
  def.shown_in = std::move(read.unit);
  if (decl.doc) def.doc = decl.doc->text;
  if (decl.measure) def.measure = decl.measure->text;
  if (def.type.kind == TypeKind::error) return def;
  if (decl.range) {
    if (!def.type.is_number() || def.type.kind == TypeKind::boolean || def.type.kind == TypeKind::date) {
      context.messages.add(Code::type_not_here, decl.range_span, {"a range"}, "only numbers have a range");
    } else {
      def.range = read_range(context, *decl.range, def.type, decl.range_span);
    }
  }
  for (const auto& spread : decl.spreads) {
    if (def.type.kind != TypeKind::quantity) {
      context.messages.add(Code::type_not_here, spread.span, {"a spread"}, "only quantities have a spread");
      continue;
    }
    auto amount = read_quantity(context, spread.amount);
    if (!amount || !expect_dimension(context, *amount, def.type, spread.amount.span)) continue;
    def.default_spread[static_cast<std::size_t>(spread.grade)] =
        Rational(amount->amount * amount->unit->factor);
  }
  // A value without evidence counts as claimed, and hearsay is not known better.
  for (const Grade grade : {Grade::unstated, Grade::hearsay}) {
    auto& spread = def.default_spread[static_cast<std::size_t>(grade)];
    if (!spread) spread = def.default_spread[static_cast<std::size_t>(Grade::claimed)];
  }
  return def;
}

void add_attributes(Context& context, Schema& schema, const std::vector<Name>& groups,
                    const std::vector<AttributeDecl>& attributes, const std::string& owner) {
  const auto add = [&](const AttributeDecl& decl) {
    const auto index = static_cast<std::uint32_t>(schema.attributes.size());
    const auto [found, added] = schema.index.try_emplace(decl.name.symbol, index);
    if (!added) {
      Message& message = context.messages.add(Code::duplicate_name, decl.name.span,
                                              {"attribute of " + owner, context.text(decl.name)});
      message.labels.push_back({schema.attributes[found->second].span, "first declared here"});
      return;
    }
    schema.attributes.push_back(read_attribute(context, decl));
  };
  for (const auto& group : groups) {
    auto found = context.groups.find(group.symbol);
    if (found == context.groups.end()) {
      context.unknown_in("group", group, context.groups);
      continue;
    }
    for (const auto& decl : found->second->attributes) add(decl);
  }
  for (const auto& decl : attributes) add(decl);
}

void add_part_properties(Context& context, Schema& schema) {
  const auto add = [&](const char* name, Type type, const char* doc) {
    AttributeDef def;
    def.name = context.names.intern(name);
    def.type = type;
    def.doc = doc;
    schema.index.emplace(def.name, static_cast<std::uint32_t>(schema.attributes.size()));
    schema.attributes.push_back(std::move(def));
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

}  // namespace mm
