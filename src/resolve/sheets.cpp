#include "resolve/sheets.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "resolve/declarations.hpp"

namespace mm {

Sheet empty_sheet(Context& context, KindId kind_id) {
  Sheet sheet;
  sheet.kind = kind_id;
  const KindDef& kind = context.model.kinds[kind_id];
  const auto add = [&](const Schema& schema) {
    for (const auto& attribute : schema.attributes)
      sheet.cells.push_back({missing_cell(context, attribute), {}});
  };
  add(kind.schema);
  for (const auto& face : kind.faces) {
    sheet.face_offsets.push_back(static_cast<std::uint32_t>(sheet.cells.size()));
    add(context.model.interfaces[face.interface].sides[face.side].schema);
  }
  return sheet;
}

SheetTarget find_cell(Context& context, const Sheet& sheet, const Path& path) {
  const KindDef& kind = context.model.kinds[sheet.kind];
  const auto in_schema = [&](const Schema& schema, const Name& name, std::uint32_t offset,
                             const std::string& owner) {
    auto found = schema.index.find(name.symbol);
    if (found != schema.index.end())
      return SheetTarget{offset + found->second, &schema.attributes[found->second]};
    std::vector<std::string_view> known;
    for (const auto& attribute : schema.attributes) known.push_back(context.names.text(attribute.name));
    std::string hint = suggestion(context.names.text(name.symbol), known);
    if (hint.empty()) {  // perhaps it belongs to a face of the part
      for (const auto& face : kind.faces)
        if (context.model.interfaces[face.interface].sides[face.side].schema.index.contains(name.symbol))
          hint += fmt::format("{}\"{}.{}\"", hint.empty() ? "did you mean " : " or ", context.text(face.name),
                              context.text(name));
      if (!hint.empty()) hint += "?";
    }
    context.messages.add(Code::attribute_unknown, name.span, {owner, context.text(name)}, hint);
    return SheetTarget{};
  };
  const Name& first = path.names[0];
  if (path.names.size() == 1) return in_schema(kind.schema, first, 0, "a " + context.text(kind.name));
  std::vector<std::string_view> known;
  for (std::uint32_t f = 0; f < kind.faces.size(); ++f) {
    known.push_back(context.names.text(kind.faces[f].name));
    if (kind.faces[f].name != first.symbol) continue;
    if (path.names.size() > 2) break;
    const FaceDef& face = kind.faces[f];
    return in_schema(context.model.interfaces[face.interface].sides[face.side].schema, path.names[1],
                     sheet.face_offsets[f],
                     fmt::format("face {} of a {}", context.text(first), context.text(kind.name)));
  }
  context.unknown("face of a " + context.text(kind.name), first, known);
  return {};
}

void assign(Context& context, Sheet& sheet, const std::vector<Assignment>& assignments, bool replace,
            bool from_fit, std::uint32_t rework) {
  std::vector<std::uint32_t> set_here;
  for (const auto& assignment : assignments) {
    const SheetTarget target = find_cell(context, sheet, assignment.path);
    if (target.cell == no_reg) continue;
    if (target.cell == static_cast<std::uint32_t>(PartProperty::place)) {
      context.messages.add(Code::attribute_unknown, assignment.path.span, {"a part", "place"},
                           "\"fit ... at\" says the place");
      continue;
    }
    // The list of hands may hold one hand twice, which a set of words cannot say.
    ReadValue read = read_value(context, assignment.value, *target.attribute, assignment.span);
    if (!read.good) continue;
    read.given.from_fit = from_fit;
    read.given.rework = rework;
    SheetCell& cell = sheet.cells[target.cell];
    const bool again = std::find(set_here.begin(), set_here.end(), target.cell) != set_here.end();
    set_here.push_back(target.cell);
    if (target.cell == static_cast<std::uint32_t>(PartProperty::quantity))
      sheet.quantity_stated = (read.cell.flags & cell_missing) == 0;
    if (!again) {
      if (!replace && !cell.givens.empty()) continue;
      cell.cell = read.cell;
      cell.givens = {std::move(read.given)};
      continue;
    }
    const Given& first = cell.givens.front();
    if (read.given.grade == Grade::unstated || first.grade == Grade::unstated) {
      Message& message = context.messages.add(Code::attribute_twice, assignment.path.span,
                                              {std::string(context.sources.text(assignment.path.span))},
                                              "if two sources disagree, say with \"per\" how each is known");
      message.labels.push_back({first.span, "first given here"});
      continue;
    }
    merge_disputed(context, cell.cell, read.cell);
    cell.givens.push_back(std::move(read.given));
  }
}

std::vector<Symbol> hands_of(const Context& context, const std::vector<Assignment>& assignments) {
  std::vector<Symbol> hands;
  for (const auto& assignment : assignments) {
    if (assignment.path.names.size() != 1 || context.names.text(assignment.path.names[0].symbol) != "hand")
      continue;
    if (const auto* words = std::get_if<WordsValue>(&context.tree.values[assignment.value].form))
      for (const auto& word : words->words) hands.push_back(word.symbol);
  }
  return hands;
}

void find_part_kinds(Context& context) {
  for (auto& part : context.model.parts) {
    auto found = context.kinds.find(part.decl->kind.symbol);
    if (found == context.kinds.end()) {
      context.unknown_in("kind", part.decl->kind, context.kinds);
      continue;
    }
    part.kind = found->second;
  }
}

void check_parts(Context& context) {
  for (const auto& part : context.model.parts) {
    if (!part.kind || context.parts_read.contains(part.decl)) continue;
    if (surely_right(context, part.kind, part.decl->assignments)) continue;
    Sheet sheet = empty_sheet(context, part.kind);
    assign(context, sheet, part.decl->assignments, false, false, no_reg);
  }
}

}  // namespace mm
