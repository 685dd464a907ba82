#include "resolve/sheets.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/article.hpp"
#include "resolve/declarations.hpp"
#include "resolve/quick_check.hpp"

namespace mm {

namespace {

const Schema& schema_of(const Model& model, const FaceDef& face) {
  return model.interfaces[face.interface].sides[face.side].schema;
}

}  // namespace

Sheet empty_sheet(Context& context, KindId kind_id) {
  Sheet sheet;
  sheet.kind = kind_id;
  const KindDef& kind = context.model.kinds[kind_id];
  const auto add = [&](const Schema& schema) {
    for (const auto& attribute : schema.attributes)
      sheet.cells.push_back({missing_cell(context, attribute), {}});
  };
  add(kind.schema);
  for (const auto& face : kind.faces) add(schema_of(context.model, face));
  return sheet;
}

namespace {

/// There is no such cell: says what there is.
void say_unknown(Context& context, KindId kind_id, const WrittenPath& path) {
  const KindDef& kind = context.model.kinds[kind_id];
  const auto in_schema = [&](const Schema& schema, const Name& name, const std::string& owner) {
    std::vector<std::string_view> known;
    for (const auto& attribute : schema.attributes) known.push_back(context.names.text(attribute.name));
    std::string hint = context.suggest(context.names.text(name.symbol), known);
    if (hint.empty()) {  // perhaps it belongs to a face of the part
      for (const auto& face : kind.faces)
        if (schema_of(context.model, face).index.contains(name.symbol))
          hint += fmt::format("{}\"{}.{}\"", hint.empty() ? "did you mean " : " or ", context.text(face.name),
                              context.text(name));
      if (!hint.empty()) hint += "?";
    }
    context.messages.add(Code::attribute_unknown, name.span, {owner, context.text(name)}, hint);
  };
  const Name& first = path.names[0];
  if (context.lacks_face(kind_id, first.symbol)) return;
  if (path.names.size() == 1) {
    for (const auto& face : kind.faces) {
      if (face.name != first.symbol) continue;
      const Schema& schema = schema_of(context.model, face);
      const std::string name = context.text(first);
      context.messages.add(Code::attribute_unknown, first.span, {with_article(context.text(kind.name)), name},
                           schema.attributes.empty()
                               ? fmt::format("\"{}\" is a face", name)
                               : fmt::format("\"{}\" is a face: give what belongs to it, as {}.{}", name,
                                             name, context.text(schema.attributes.front().name)));
      return;
    }
    if (!context.kinds_in_error.contains(kind_id))
      in_schema(kind.schema, first, with_article(context.text(kind.name)));
    return;
  }
  std::vector<std::string_view> known;
  for (const auto& face : kind.faces) {
    known.push_back(context.names.text(face.name));
    if (face.name != first.symbol) continue;
    if (path.names.size() > 2) break;
    if (context.sides_in_error.contains(Context::key_of_side(face.interface, face.side))) return;
    return in_schema(
        schema_of(context.model, face), path.names[1],
        fmt::format("face {} of {}", context.text(first), with_article(context.text(kind.name))));
  }
  context.unknown("face of " + with_article(context.text(kind.name)), first, known);
}

}  // namespace

SheetTarget find_cell(Context& context, const Sheet& sheet, const Assignment& assignment) {
  const Paths& paths = context.tree.paths;
  const KindDef& kind = context.model.kinds[sheet.kind];
  const Symbol last = paths.last(assignment.path);
  const auto in_schema = [&](const Schema& schema, std::uint32_t offset) {
    const auto found = schema.index.find(last);
    if (found == schema.index.end()) return SheetTarget{};
    return SheetTarget{offset + found->second, &schema.attributes[found->second]};
  };
  SheetTarget target;
  const std::uint32_t length = paths.length(assignment.path);
  if (length == 1) target = in_schema(kind.schema, 0);
  if (length == 2) {
    const Symbol first = paths.last(paths.outer(assignment.path));
    std::uint32_t f = 0;
    while (f < kind.faces.size() && kind.faces[f].name != first) ++f;
    if (f < kind.faces.size())
      target = in_schema(schema_of(context.model, kind.faces[f]), kind.face_offsets[f]);
  }
  if (target.cell == no_reg)
    say_unknown(context, sheet.kind, written_path(context.tree, context.names, assignment));
  return target;
}

namespace {

Span path_span(const Context& context, const Assignment& assignment) {
  return written_path(context.tree, context.names, assignment).span;
}

/// One word is the hand of every piece, several are a piece each: as many as there are.
void check_hands(Context& context, const Sheet& sheet, IdRange<AssignmentId> assignments) {
  const SheetCell& quantity = sheet.cells[static_cast<std::uint32_t>(PartProperty::quantity)];
  const SheetCell& hand = sheet.cells[static_cast<std::uint32_t>(PartProperty::hand)];
  if (quantity.givens.size() != 1 || hand.givens.size() != 1 || !quantity.givens[0].exact.is_point()) return;
  const std::size_t listed = hands_of(context, assignments).size();
  const Rational there = quantity.givens[0].exact.lo_value;
  if (listed < 2 || there == Rational(listed)) return;
  Message& message = context.messages.add(Code::hand_count, hand.givens[0].span,
                                          {std::to_string(listed), decimal_text(there)},
                                          "one word alone is the hand of every piece");
  message.labels.push_back({quantity.givens[0].span, "the quantity is given here"});
}

/// What is disputed is told from the least up, in whatever order it is said.
bool lies_below(const Given& a, const Given& b) {
  if (a.exact.empty || b.exact.empty) return false;
  if (a.exact.lo_infinite || b.exact.lo_infinite) return a.exact.lo_infinite && !b.exact.lo_infinite;
  return a.exact.lo_value < b.exact.lo_value;
}

}  // namespace

void assign(Context& context, Sheet& sheet, IdRange<AssignmentId> assignments, bool replace, bool from_fit,
            std::uint32_t rework, const std::vector<std::uint32_t>& beside) {
  std::vector<std::uint32_t> set_here, disputed;
  for (const auto& assignment : context.tree.assignments[assignments]) {
    const SheetTarget target = find_cell(context, sheet, assignment);
    if (target.cell == no_reg) continue;
    if (target.cell == static_cast<std::uint32_t>(PartProperty::place)) {
      context.messages.add(Code::attribute_unknown, path_span(context, assignment), {"a part", "place"},
                           "\"fit ... at\" says the place");
      continue;
    }
    if (target.cell == static_cast<std::uint32_t>(PartProperty::quantity) && (from_fit || rework != no_reg)) {
      const bool fit = rework == no_reg;
      context.messages.add(
          Code::attribute_unknown, path_span(context, assignment), {fit ? "a fit" : "a rework", "quantity"},
          fit ? "how many there are stands on the part; \"each 2\" says how many a place takes"
              : "how many there are stands on the part, as quantity 4");
      continue;
    }
    ReadValue read =
        read_value(context, assignment.value, *target.attribute, context.tree.span_of(assignment));
    if (!read.good) continue;
    read.given.from_fit = from_fit;
    read.given.rework = rework;
    SheetCell& cell = sheet.cells[target.cell];
    const bool again = std::find(set_here.begin(), set_here.end(), target.cell) != set_here.end();
    set_here.push_back(target.cell);
    const bool set_beside = !again && !cell.givens.empty() && rework != no_reg &&
                            std::find(beside.begin(), beside.end(), cell.givens[0].rework) != beside.end();
    if (!again && !set_beside) {
      if (!replace && !cell.givens.empty()) continue;
      cell.cell = read.cell;
      cell.givens.clear();
      cell.givens.push_back(std::move(read.given));
      continue;
    }
    const Given& first = cell.givens.front();
    if (again && (read.given.grade == Grade::unstated || first.grade == Grade::unstated)) {
      const Span path = path_span(context, assignment);
      Message& message =
          context.messages.add(Code::attribute_twice, path, {std::string(context.sources.text(path))},
                               "if two sources disagree, say with \"per\" how each is known");
      message.labels.push_back({first.span, "first given here"});
      continue;
    }
    merge_disputed(context, cell.cell, read.cell);
    cell.givens.push_back(std::move(read.given));
    disputed.push_back(target.cell);
  }
  std::sort(disputed.begin(), disputed.end());
  disputed.erase(std::unique(disputed.begin(), disputed.end()), disputed.end());
  for (const std::uint32_t at : disputed) {
    std::vector<Given>& givens = sheet.cells[at].givens;
    std::stable_sort(givens.begin(), givens.end(), lies_below);
  }
  if (!replace) check_hands(context, sheet, assignments);
}

std::vector<Symbol> hands_of(const Context& context, IdRange<AssignmentId> assignments) {
  const Tree& tree = context.tree;
  std::vector<Symbol> hands;
  for (const auto& assignment : tree.assignments[assignments]) {
    if (!is_property(context, assignment, "hand")) continue;
    if (const auto* words = std::get_if<WordsValue>(&tree.values[assignment.value].form))
      for (const auto& word : tree.words[words->words]) hands.push_back(word.symbol);
  }
  return hands;
}

bool is_property(const Context& context, const Assignment& assignment, std::string_view name) {
  const Paths& paths = context.tree.paths;
  return paths.length(assignment.path) == 1 && context.names.text(paths.last(assignment.path)) == name;
}

void find_part_kinds(Context& context) {
  context.parts_read.resize(context.model.parts.size());
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
  QuickCheck surely_right(context);
  for (std::size_t p = 0; p < context.model.parts.size(); ++p) {
    const PartDef& part = context.model.parts[p];
    if (!part.kind || context.parts_read[p]) continue;
    if (surely_right(part.kind, part.decl->assignments)) continue;
    Sheet sheet = empty_sheet(context, part.kind);
    assign(context, sheet, part.decl->assignments, false, false, no_reg);
  }
}

}  // namespace mm
