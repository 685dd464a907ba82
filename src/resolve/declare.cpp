// First walk: every declared thing gets its id and its name, so that order in the files does not matter.
#include <algorithm>
#include <unordered_map>
#include <utility>

#include "resolve/declarations.hpp"
#include "resolve/quantities.hpp"
#include "resolve/types.hpp"

namespace mm {

namespace {

struct Declare {
  Context& context;

  void operator()(const UseDecl&) const {}
  void operator()(const BuildDecl& d) const {
    if (d.name) context.declare("build", *d.name);
  }
  void operator()(const CurrencyDecl& d) const {
    const auto& known = context.declared["currency"];
    const auto first = known.find(d.name.symbol);
    if (first != known.end() && first->second.file != d.name.span.file)
      return;  // rules and builds each say it
    if (!context.declare("currency", d.name)) return;
    if (context.model.units.declare_currency(d.name.symbol, context.names.text(d.name.symbol)))
      context.currencies.push_back(d.name.symbol);
    else
      context.messages.add(Code::duplicate_name, d.name.span, {"unit", context.text(d.name)},
                           "there is a unit of this name");
  }
  void operator()(const UnitDecl&) const {}  // after all currencies
  void operator()(const ChoiceDecl& d) const {
    if (!type_name(d.name)) return;
    std::vector<std::uint32_t> members;
    ChoiceDef& def = context.model.choices.emplace_back();
    def.name = d.name.symbol;
    def.span = d.name.span;
    for (const auto& choice : d.choices) {
      members.push_back(choice.symbol.index);
      def.words.push_back(choice.symbol);
    }
    check_choices(context, d.choices);
    context.choices.emplace(d.name.symbol, context.set_of(std::move(members)));
  }
  void operator()(const TableDecl& d) const {
    if (!context.declare("table", d.name)) return;
    TableDef def;
    def.name = d.name.symbol;
    def.span = d.name.span;
    if (d.doc) def.doc = in_one_line(d.doc->text);
    for (const auto& source : d.sources) def.sources.emplace_back(source.text);
    context.tables.emplace(d.name.symbol, context.model.tables.add(std::move(def)));
    context.table_decls.push_back(&d);
  }
  void operator()(const FormulaDecl& d) const {
    if (is_built_in(context.names.text(d.name.symbol))) {
      context.messages.add(Code::duplicate_name, d.name.span, {"formula", context.text(d.name)},
                           "this word has a meaning of its own");
      return;
    }
    if (!context.declare("formula", d.name)) return;
    context.formulas.emplace(d.name.symbol, static_cast<std::uint32_t>(context.formula_list.size()));
    context.formula_list.push_back({&d, {}, {}});
  }
  void operator()(const DesignationDecl& d) const {
    if (!type_name(d.name)) return;
    DesignationDef def;
    def.name = d.name.symbol;
    def.span = d.name.span;
    if (d.doc) def.doc = in_one_line(d.doc->text);
    context.designations.emplace(d.name.symbol, context.model.designations.add(std::move(def)));
    context.designation_decls.push_back(&d);
  }
  void operator()(const GroupDecl& d) const {
    if (context.declare("group", d.name)) context.groups.emplace(d.name.symbol, &d);
  }
  void operator()(const KindDecl& d) const {
    if (context.names.text(d.name.symbol) == "part") {
      context.messages.add(Code::duplicate_name, d.name.span, {"kind", "part"},
                           "\"part\" already means a part of any kind");
      return;
    }
    if (!context.declare("kind", d.name)) return;
    KindDef def;
    def.name = d.name.symbol;
    def.span = d.name.span;
    if (d.doc) def.doc = in_one_line(d.doc->text);
    context.kinds.emplace(d.name.symbol, context.model.kinds.add(std::move(def)));
    context.kind_decls.push_back(&d);
  }
  void operator()(const InterfaceDecl& d) const {
    if (!context.declare("interface", d.name)) return;
    InterfaceDef def;
    def.name = d.name.symbol;
    def.span = d.name.span;
    if (d.doc) def.doc = in_one_line(d.doc->text);
    context.interfaces.emplace(d.name.symbol, context.model.interfaces.add(std::move(def)));
    context.interface_decls.push_back(&d);
  }
  void operator()(const RuleDecl& d) const {
    if (context.declare("rule", d.name)) context.rule_decls.push_back(&d);
  }
  void operator()(const PartDecl& d) const {
    auto& parts = context.model.parts;
    const auto [index, added] =
        context.parts.try_emplace(d.name.symbol, static_cast<std::uint32_t>(parts.size()));
    if (!added) return context.declared_twice("part", d.name, parts[*index].decl->name.span);
    parts.push_back({&d, {}});
  }

  /// Choices and designations are types, beside the dimensions and units.
  bool type_name(const Name& name) const {
    const auto word = context.names.text(name.symbol);
    if (UnitTable::dimension_word(word) || word == "count" || word == "text" || word == "date" ||
        word == "yes_no") {
      context.messages.add(Code::duplicate_name, name.span, {"type", std::string(word)},
                           "this word has a meaning of its own");
      return false;
    }
    return context.declare("type", name);
  }
};

void declare_unit(Context& context, const UnitDecl& d) {
  if (!context.declare("unit", d.name)) return;
  auto measured = read_quantity(context, d.definition);
  if (!measured) return;
  Unit unit = *measured->unit;
  unit.factor *= measured->amount;
  unit.text = context.text(d.name);
  if (unit.factor <= 0 || unit.offset != 0) {
    context.messages.add(Code::number_unreadable, d.definition.span(),
                         {std::string(context.sources.text(d.definition.span())),
                          "it is not more than nothing, or has a zero of its own"},
                         "a unit is a positive amount of another unit");
  } else if (!context.model.units.declare(context.names.text(d.name.symbol), unit)) {
    context.messages.add(Code::duplicate_name, d.name.span, {"unit", context.text(d.name)},
                         "there is a unit of this name");
  }
}

/// Units in an order in which none is defined by a later one, as far as there is one.
class UnitOrder {
 public:
  explicit UnitOrder(const Context& context) : context_(context) {
    for (const auto& file : context.tree.files)
      for (const auto& declaration : file.declarations)
        if (const auto* unit = declared_as<UnitDecl>(declaration)) {
          at_.try_emplace(context.names.text(unit->name.symbol), units_.size());
          units_.push_back(unit);
        }
  }

  std::vector<const UnitDecl*> sorted() {
    std::vector<const UnitDecl*> out;
    std::vector<char> seen(units_.size(), 0);
    std::vector<std::pair<std::size_t, std::vector<std::size_t>>>
        open;  // a unit, and those that it still wants
    const auto begin = [&](std::size_t unit) {
      if (std::exchange(seen[unit], 1) == 0) open.emplace_back(unit, wanted_by(*units_[unit]));
    };
    for (std::size_t unit = 0; unit < units_.size(); ++unit) {
      begin(unit);
      while (!open.empty()) {
        auto& [top, wanted] = open.back();
        if (wanted.empty()) {
          out.push_back(units_[top]);
          open.pop_back();
          continue;
        }
        const std::size_t next = wanted.back();
        wanted.pop_back();
        begin(next);
      }
    }
    return out;
  }

 private:
  std::vector<std::size_t> wanted_by(const UnitDecl& unit) const {
    std::vector<std::size_t> out;
    if (at_.size() < 2 || !unit.definition.has_unit()) return out;
    const std::string_view text = context_.tree.text(unit.definition.unit);
    constexpr std::string_view between = "*/^ ()";
    for (std::size_t from = 0; (from = text.find_first_not_of(between, from)) != std::string_view::npos;) {
      const std::size_t to = std::min(text.find_first_of(between, from), text.size());
      if (const auto found = at_.find(text.substr(from, to - from)); found != at_.end())
        out.push_back(found->second);
      from = to;
    }
    return out;
  }

  const Context& context_;
  std::vector<const UnitDecl*> units_;
  std::unordered_map<std::string_view, std::size_t> at_;  // of each name the first
};

}  // namespace

void declare_all(Context& context) {
  for (const auto& file : context.tree.files)
    for (const auto& declaration : file.declarations) visit_declaration(Declare{context}, declaration);
  for (const UnitDecl* unit : UnitOrder(context).sorted()) declare_unit(context, *unit);
}

}  // namespace mm
