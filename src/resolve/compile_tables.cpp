// Look-ups in tables.
#include <fmt/format.h>

#include "resolve/compiler.hpp"

namespace mm {

namespace {

std::uint32_t column_index(const TableDef& table, Symbol name) {
  for (std::uint32_t i = 0; i < table.columns.size(); ++i)
    if (table.columns[i].name == name) return i;
  return no_reg;
}

}  // namespace

bool Compiler::add_condition(Lookup& lookup, const TableDef& table, std::uint32_t column, BinaryOp op,
                             ExprId value, ExprId id) {
  Operand operand = compile(value);
  operand.expr = value;
  const AttributeDef& def = table.columns[column];
  if (operand.is_error() || def.type.kind == TypeKind::error) return false;
  if (op != BinaryOp::eq && !def.type.is_number()) {
    context_.messages.add(Code::not_a_number, span(value), {type_text(context_, def.type)}, "use \"=\"");
    return false;
  }
  if (def.type.is_number()) {
    if (operand.bare_word || !operand.type.is_number()) {
      context_.messages.add(Code::not_a_number, span(value), {what(operand)});
      return false;
    }
    Operand cell;
    cell.type = def.type;
    if (!same_dimension(cell, operand, "compare", id)) return false;
  } else {
    operand = fit_to(operand, def.type, context_.text(def.name));
    if (operand.is_error()) return false;
    note_compared(def.type);
  }
  lookup.conditions.push_back({column, op, operand.reg});
  return true;
}

Operand Compiler::visit(const LookupExpr& e, ExprId id) {
  auto found = context_.tables.find(e.table.symbol);
  if (found == context_.tables.end()) {
    context_.unknown_in("table", e.table, context_.tables);
    return error(id);
  }
  const TableDef& table = context_.model.tables[found->second];
  Lookup lookup;
  lookup.table = found->second;
  bool good = true;
  const auto column_of = [&](const Name& name) {
    const std::uint32_t column = column_index(table, name.symbol);
    if (column == no_reg) {
      std::vector<std::string_view> known;
      for (const auto& def : table.columns) known.push_back(context_.names.text(def.name));
      context_.messages.add(Code::column_unknown, name.span, {context_.text(table.name), context_.text(name)},
                            context_.suggest(context_.names.text(name.symbol), known));
      good = false;
    }
    return column;
  };
  for (const auto& condition : e.conditions) {
    const std::uint32_t column = column_of(condition.column);
    if (column != no_reg)
      good = add_condition(lookup, table, column, condition.op, condition.value, id) && good;
  }
  lookup.column = column_of(e.column);
  if (!good) return error(id);
  Type type = table.columns[lookup.column].type;
  if (type.kind == TypeKind::error) return error(id);
  type.nominal = true;
  return emit_lookup(OpCode::lookup, type, std::move(lookup));
}

Operand Compiler::visit(const InTableExpr& e, ExprId id) {
  auto found = context_.tables.find(e.table.symbol);
  if (found == context_.tables.end()) {
    context_.unknown_in("table", e.table, context_.tables);
    return error(id);
  }
  const TableDef& table = context_.model.tables[found->second];
  if (e.values.size() > table.columns.size()) {
    context_.messages.add(Code::argument_count, span(id),
                          {context_.text(table.name), fmt::format("at most {}", table.columns.size()),
                           std::to_string(e.values.size())});
    return error(id);
  }
  Lookup lookup;
  lookup.table = found->second;
  bool good = true;
  for (std::uint32_t i = 0; i < e.values.size(); ++i)
    good = add_condition(lookup, table, i, BinaryOp::eq, e.values[i], id) && good;
  if (!good) return error(id);
  return emit_lookup(OpCode::in_table, simple_type(TypeKind::boolean), std::move(lookup));
}

}  // namespace mm
