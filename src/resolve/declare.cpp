// First walk: every declared thing gets its id and its name, so that order in the files does not matter.
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
    for (const auto& choice : d.choices) members.push_back(choice.symbol.index);
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
                         {std::string(context.sources.text(d.definition.span()))},
                         "a unit is a positive amount of another unit");
  } else if (!context.model.units.declare(context.names.text(d.name.symbol), unit)) {
    context.messages.add(Code::duplicate_name, d.name.span, {"unit", context.text(d.name)},
                         "there is a unit of this name");
  }
}

}  // namespace

void declare_all(Context& context) {
  for (const auto& file : context.tree.files)
    for (const auto& declaration : file.declarations) visit_declaration(Declare{context}, declaration);
  for (const auto& file : context.tree.files)
    for (const auto& declaration : file.declarations)
      if (const auto* unit = declared_as<UnitDecl>(declaration)) declare_unit(context, *unit);
}

}  // namespace mm
