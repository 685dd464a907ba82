#include "resolve/context.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/article.hpp"
#include "base/hash.hpp"
#include "base/near_miss.hpp"

namespace mm {

const Lets& Context::lets_of(KindId kind) {
  return lets.try_emplace(kind, model.kinds[kind].lets).first->second;
}

bool Context::declare(const std::string& sort, const Name& name) {
  const auto [found, added] = declared[sort].try_emplace(name.symbol, name.span);
  if (added) return true;
  declared_twice(sort, name, found->second);
  return false;
}

void Context::declared_twice(const std::string& sort, const Name& name, Span first) {
  Message& message =
      messages.add(Code::duplicate_name, name.span, {sort, text(name)}, "give one of them another name");
  message.labels.push_back({first, "first declared here"});
}

std::string in_one_line(std::string_view text) {
  std::string out(text);
  std::replace(out.begin(), out.end(), '\n', ' ');
  return out;
}

std::string suggestion(std::string_view wanted, std::vector<std::string_view> known) {
  std::sort(known.begin(), known.end());
  const std::string near = nearest_name(wanted, known);
  return near.empty() ? std::string{} : fmt::format("did you mean \"{}\"?", near);
}

std::string Context::suggest(std::string_view wanted, std::vector<std::string_view> known) {
  if (known.size() > names_for_hints) return {};
  names_for_hints -= known.size();
  return suggestion(wanted, std::move(known));
}

Message& Context::unknown(const std::string& sort, const Name& name, std::vector<std::string_view> known,
                          std::span<const Name> listed) {
  std::vector<std::string_view> wanted = known;
  if (listed.size() <= names_for_hints) {
    names_for_hints -= listed.size();
    std::unordered_set<std::string_view> there;
    for (const Name& other : listed) there.insert(names.text(other.symbol));
    std::erase_if(wanted, [&](std::string_view one) { return there.contains(one); });
  }
  std::string hint = suggest(names.text(name.symbol), std::move(wanted));
  if (hint.empty() && !known.empty() && known.size() <= 12) {
    std::sort(known.begin(), known.end());
    known.erase(std::unique(known.begin(), known.end()), known.end());
    hint = fmt::format("known here: {}", fmt::join(known, ", "));
  }
  return messages.add(Code::unknown_name, name.span, {sort, text(name)}, std::move(hint));
}

SymbolicSetId Context::set_of(std::vector<std::uint32_t> members) {
  std::vector<std::uint32_t> as_they_stand = members;
  std::sort(members.begin(), members.end());
  members.erase(std::unique(members.begin(), members.end()), members.end());
  if (members.size() == 1) return set_of(Symbol{members[0]});
  if (auto found = set_index.find(members); found != set_index.end()) return found->second;
  const SymbolicSetId id = model.sets.add({false, members});
  if (as_they_stand != members) model.sets_as_written.emplace(id, std::move(as_they_stand));
  set_index.emplace(std::move(members), id);
  return id;
}

SymbolicSetId Context::set_of(Symbol symbol) {
  if (symbol.index >= single_sets.size()) single_sets.resize(std::max(names.size(), 2 * single_sets.size()));
  SymbolicSetId& set = single_sets[symbol.index];
  if (!set) set = model.sets.add({false, {symbol.index}});
  return set;
}

SymbolicSetId Context::any_member() {
  if (!any_set) any_set = model.sets.add({true, {}});
  return any_set;
}

NumberId Context::number(ExactInterval value, int pi_power) {
  const NumberId id = model.numbers.emplace();
  NumberConst& made = model.numbers[id];
  made.bounds = to_interval(value);
  made.exact = std::move(value);
  made.pi_power = pi_power;
  return id;
}

NumberId Context::pi() {
  if (!pi_number) pi_number = number(pi_exact(), 1);
  return pi_number;
}

NumberId Context::literal(const ExactInterval& value, const Type& type, int pi_power) {
  const Ratio* point = value.is_point() ? value.lo_value.small() : nullptr;
  if (point == nullptr) return number(value, pi_power);
  const std::uint64_t hash =
      mixed(static_cast<std::uint64_t>(point->top), static_cast<std::uint64_t>(point->bottom));
  const auto is_it = [&](std::uint32_t i) {
    const Literal& known = literals[i];
    return known.value == *point && known.type.kind == type.kind && known.type.nominal == type.nominal &&
           known.type.dimension == type.dimension;
  };
  const std::uint32_t at = literals_at.find(hash, is_it);
  if (at != IndexTable::none) return literals[at].number;
  literals_at.add(hash, static_cast<std::uint32_t>(literals.size()));
  literals.push_back({*point, type, number(value)});
  return literals.back().number;
}

std::string Context::list_of(SymbolicSetId set) const {
  std::string out;
  const auto& members = as_written(model, set);
  constexpr std::size_t longest = 1000;  // characters of a list that somebody is to read
  for (std::size_t i = 0; i < members.size(); ++i) {
    if (out.size() > longest) return fmt::format("{} and {} more", out, members.size() - i);
    if (i > 0) out += i + 1 == members.size() ? " or " : ", ";
    out += names.text(Symbol{members[i]});
  }
  return out;
}

std::string dimension_text(const Context& context, const Dimension& dimension) {
  const std::string name = dimension_name(dimension, context.names);
  if (name == "ratio") return "a plain number";
  if (dimension.currency && name == context.text(dimension.currency)) return "an amount in " + name;
  return with_article(name);
}

std::string type_text(const Context& context, const Type& type) {
  switch (type.kind) {
    case TypeKind::error:
      return "in error";
    case TypeKind::quantity:
      return dimension_text(context, type.dimension);
    case TypeKind::count:
      return "a count";
    case TypeKind::boolean:
      return "yes or no";
    case TypeKind::date:
      return "a date";
    case TypeKind::choice:
      return type.choices ? "one of " + context.list_of(type.choices) : "a word";
    case TypeKind::text:
      return "a text";
    case TypeKind::designation:
      return with_article(context.text(context.model.designations[type.designation].name));
    case TypeKind::place:
      return "a place";
    case TypeKind::part:
      return type.part_kind
                 ? fmt::format("a part of kind {}", context.text(context.model.kinds[type.part_kind].name))
                 : "a part";
    case TypeKind::face:
    case TypeKind::many_side: {
      const InterfaceDef& interface = context.model.interfaces[type.interface];
      return fmt::format("the \"{}\" side of {}", context.text(interface.sides[type.side].name),
                         context.text(interface.name));
    }
  }
  return {};
}

Type quantity_type(const Dimension& dimension, bool nominal) {
  Type type;
  type.kind = TypeKind::quantity;
  type.dimension = dimension;
  type.nominal = nominal;
  return type;
}

Type simple_type(TypeKind kind, bool nominal) {
  Type type;
  type.kind = kind;
  type.nominal = nominal;
  return type;
}

}  // namespace mm
