// Second walk: types, fields, columns, sides and faces; no expressions yet.
#include <algorithm>
#include <unordered_set>

#include "resolve/declarations.hpp"
#include "resolve/designations.hpp"
#include "resolve/types.hpp"
#include "resolve/values.hpp"

namespace mm {

void read_designations(Context& context) {
  for (std::size_t i = 0; i < context.designation_decls.size(); ++i)
    read_designation(context, DesignationId{i}, *context.designation_decls[i]);
}

namespace {

std::vector<ExactInterval> covered_by(const Model& model, const TableDef& table, std::size_t column) {
  std::vector<ExactInterval> ranges, out;
  if (!table.key_range[column]) return out;
  for (const auto& row : table.rows)
    if (row[column].number) ranges.push_back(model.numbers[row[column].number].exact);
  const auto begins_before = [](const ExactInterval& a, const ExactInterval& b) {
    return a.lo_infinite || b.lo_infinite ? a.lo_infinite && !b.lo_infinite : a.lo_value < b.lo_value;
  };
  std::sort(ranges.begin(), ranges.end(), begins_before);
  for (ExactInterval& range : ranges) {
    const bool touches = !out.empty() && (out.back().hi_infinite || range.lo_infinite ||
                                          range.lo_value <= out.back().hi_value);
    if (!touches) {
      out.push_back(std::move(range));
    } else if (range.hi_infinite || (!out.back().hi_infinite && out.back().hi_value < range.hi_value)) {
      out.back().hi_infinite = range.hi_infinite;
      out.back().hi_value = std::move(range.hi_value);
    }
  }
  return out;
}

}  // namespace

void read_columns(Context& context) {
  for (std::size_t i = 0; i < context.table_decls.size(); ++i) {
    const TableDecl& decl = *context.table_decls[i];
    TableDef& def = context.model.tables[TableId{i}];
    FirstNames names;
    for (const auto& column : decl.columns) {
      names.declare(context, "column", column.name);
      def.columns.push_back(read_attribute(context, column));
      def.key_range.push_back(column.type.range_key);
    }
  }
}

void read_rows(Context& context) {
  for (std::size_t i = 0; i < context.table_decls.size(); ++i) {
    const TableDecl& decl = *context.table_decls[i];
    TableDef& def = context.model.tables[TableId{i}];
    for (const auto& row : decl.rows) {
      const Span span = row.empty() ? decl.span : context.tree.values[row.front()].span;
      if (row.size() != def.columns.size()) continue;  // said by the parser
      std::vector<ConstValue> cells;
      for (std::size_t c = 0; c < row.size(); ++c)
        if (auto cell = read_constant(context, row[c], def.columns[c], def.key_range[c]))
          cells.push_back(*cell);
      if (cells.size() != row.size()) continue;
      def.rows.push_back(std::move(cells));
      def.row_spans.push_back(span);
    }
    for (std::size_t c = 0; c < def.columns.size(); ++c)
      def.covered.push_back(covered_by(context.model, def, c));
  }
}

void read_formula_types(Context& context) {
  for (auto& formula : context.formula_list) {
    const FormulaDecl& decl = *formula.decl;
    FormulaDef def;
    def.name = decl.name.symbol;
    def.span = decl.name.span;
    def.body = decl.body;
    if (decl.source) def.source = decl.source->text;
    FirstNames names;
    for (const auto& parameter : decl.parameters) {
      names.declare(context, "parameter", parameter.name);
      const ReadType read = read_type(context, parameter.type, true);
      formula.parameters.push_back(read.type);
      def.parameters.push_back({parameter.name.symbol, read.type, read.unit, read.letter});
    }
    const ReadType result = read_type(context, decl.result);
    formula.result = result.type;
    formula.result.nominal = false;
    def.result = {{}, result.type, result.unit, result.letter};
    context.model.formulas.push_back(std::move(def));
  }
}

void read_sides(Context& context) {
  for (std::size_t i = 0; i < context.interface_decls.size(); ++i) {
    const InterfaceDecl& decl = *context.interface_decls[i];
    InterfaceDef& def = context.model.interfaces[InterfaceId{i}];
    FirstNames names;
    for (const auto& side : decl.sides) {
      SideDef made;
      made.name = side.name.symbol;
      made.many = side.many;
      made.span = side.name.span;
      names.declare(context, "side", side.name);
      if (!add_attributes(context, made.schema, side.groups, side.attributes, context.text(side.name)))
        context.sides_in_error.insert(Context::key_of_side(InterfaceId{i}, def.sides.size()));
      def.sides.push_back(std::move(made));
    }
    if (def.sides.size() < 2)
      context.messages.add(Code::too_few_sides, decl.name.span,
                           {context.text(decl.name), std::to_string(def.sides.size())});
  }
}

namespace {

void lay_out_sheet(const Model& model, KindDef& def) {
  def.sheet_size = static_cast<std::uint32_t>(def.schema.attributes.size());
  for (const auto& face : def.faces) {
    def.face_offsets.push_back(def.sheet_size);
    const Schema& schema = model.interfaces[face.interface].sides[face.side].schema;
    def.sheet_size += static_cast<std::uint32_t>(schema.attributes.size());
  }
}

}  // namespace

void read_kinds(Context& context) {
  for (std::size_t i = 0; i < context.kind_decls.size(); ++i) {
    const KindDecl& decl = *context.kind_decls[i];
    KindDef& def = context.model.kinds[KindId{i}];
    add_part_properties(context, def.schema);
    if (!add_attributes(context, def.schema, decl.groups, decl.attributes, context.text(decl.name)))
      context.kinds_in_error.insert(KindId{i});
    def.lets = decl.lets;
    FirstNames names;
    const auto lacks = [&](const auto& face) {
      for (const auto& name : face.names) context.faces_in_error[KindId{i}].insert(name.symbol);
    };
    for (const auto& face : decl.faces) {
      auto found = context.interfaces.find(face.interface.symbol);
      if (found == context.interfaces.end()) {
        context.unknown_in("interface", face.interface, context.interfaces);
        lacks(face);
        continue;
      }
      const InterfaceDef& interface = context.model.interfaces[found->second];
      std::uint32_t side = no_reg;
      std::vector<std::string_view> known;
      for (std::uint32_t s = 0; s < interface.sides.size(); ++s) {
        known.push_back(context.names.text(interface.sides[s].name));
        if (interface.sides[s].name == face.side.symbol) side = s;
      }
      if (side == no_reg) {
        context.unknown("side of " + context.text(face.interface), face.side, known);
        lacks(face);
        continue;
      }
      for (const auto& name : face.names) {
        names.declare(context, "face", name);
        if (def.schema.index.contains(name.symbol))
          context.messages.add(Code::duplicate_name, name.span, {"attribute", context.text(name)},
                               "a face and an attribute need different names");
        def.faces.push_back({name.symbol, found->second, side, face.optional, name.span});
      }
    }
    for (const auto& let : decl.lets) {
      if (const auto found = def.schema.index.find(let.name.symbol); found != def.schema.index.end())
        attribute_twice(context, "attribute", let.name, def.schema.attributes[found->second]);
      else
        names.declare(context, "face or value", let.name);
      context.derived_names.insert(let.name.symbol);
    }
    lay_out_sheet(context.model, def);
  }
}

}  // namespace mm
