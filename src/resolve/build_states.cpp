// Versions of parts under reworks, the cells that hold their values; waivers, stages, expectations.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <unordered_set>

#include "model/cell_note.hpp"
#include "resolve/build_context.hpp"
#include "resolve/declarations.hpp"
#include "resolve/places_asked.hpp"

namespace mm {

namespace {

constexpr std::size_t max_reworks = 6;

std::string date_text(const Context& context, const DateSyntax& date) {
  return std::string(context.sources.text(date.span));
}

/// One more version; `only`: there is no other.
void add_cells(BuildContext& b, Instance& instance, const Sheet& sheet, bool only) {
  Build& build = b.build;
  Context& context = b.context;
  SheetAttributes attributes(context.model, context.model.kinds[sheet.kind]);
  for (std::size_t i = 0; i < sheet.cells.size(); ++i) {
    Cell cell = sheet.cells[i].cell;
    GivenId also;
    for (auto given = sheet.cells[i].givens.rbegin(); given != sheet.cells[i].givens.rend(); ++given) {
      const GivenId added = build.givens.add(*given);
      build.givens[added].also = also;
      also = added;
    }
    cell.given = also;
    if (i == static_cast<std::size_t>(PartProperty::place)) {
      // without one it is where nothing else is; where nobody asks, all of those may be in one
      const Symbol at =
          instance.place
              ? instance.place
              : context.names.intern(b.places_are_asked ? "(" + context.text(instance.fit_name) + ")"
                                                        : std::string("()"));
      cell.set_symbols(context.set_of(at));
      cell.flags = 0;
    }
    if (i == static_cast<std::size_t>(PartProperty::hand) && instance.place) {
      // Of a pair, the piece that belongs at this place.
      const Symbol hand = b.place_hand[instance.place];
      const auto& offered = context.model.sets[cell.symbols()].members;
      if (hand && std::find(offered.begin(), offered.end(), hand.index) != offered.end() && cell.given)
        cell.set_symbols(context.set_of(hand));
    }
    if (i == static_cast<std::size_t>(PartProperty::quantity) && !cell.given) {
      // one where one stands; for several the sheet does not say
      const Fit& fit = build.fits[instance.fit];
      const bool several = fit.each > 1 || fit.instances.size() > 1;
      cell.number = several ? Interval::of(1, HUGE_VAL) : Interval::point(1);
      cell.flags = several ? cell_integer | cell_missing : cell_integer;
    }
    CellNote note = note_of(context.model, build, cell, attributes.next());
    note.fixed = only && (cell.flags & cell_adjustable) == 0;
    build.notes.push_back(note);
    const CellId id = build.cells.add(cell);
    if (!instance.cells) instance.cells = id;
  }
  instance.sheet_size = static_cast<std::uint32_t>(sheet.cells.size());
  ++instance.versions;
}

}  // namespace

void add_reworks(BuildContext& b) {
  Context& context = b.context;
  if (b.decl.reworks.empty()) return;
  b.done.resize(b.build.instances.size());
  b.planned.resize(b.build.instances.size());
  FirstNames names;
  for (const auto& decl : b.decl.reworks) {
    names.declare(context, "rework", decl.name);
    Rework rework;
    rework.name = decl.name.symbol;
    rework.done = decl.done;
    rework.span = decl.name.span;
    if (decl.doc) rework.doc = in_one_line(decl.doc->text);
    if (decl.by) rework.by = decl.by->text;
    const auto instances = find_instances(b, decl.target, nullptr);
    rework.instances.assign(instances.begin(), instances.end());
    const auto index = static_cast<std::uint32_t>(b.build.reworks.size());
    for (const auto i : rework.instances) {
      if (decl.done) {
        b.done[i].emplace_back(index, &decl);
        continue;
      }
      if (b.planned[i].size() >= max_reworks) {
        context.messages.add(Code::too_many_versions, decl.span,
                             {std::to_string(max_reworks), context.text(b.build.instances[i].fit_name)});
        continue;
      }
      b.planned[i].emplace_back(index, &decl);
      b.build.instances[i].reworks.push_back(index);
    }
    b.build.reworks.push_back(std::move(rework));
  }
}

namespace {

void make_versions(BuildContext& b, std::uint32_t index, const std::vector<Sheet>& sheets) {
  Instance& instance = b.build.instances[index];
  std::vector<std::uint32_t> beside;
  const auto rework = [&](Sheet& sheet, const BuildContext::ReworkOf& by) {
    assign(b.context, sheet, by.second->assignments, true, false, by.first, beside);
    beside.push_back(by.first);
  };
  static const std::vector<BuildContext::ReworkOf> nothing;
  const auto& done = b.done.empty() ? nothing : b.done[index];
  const auto& planned = b.planned.empty() ? nothing : b.planned[index];
  const bool only = sheets.size() == 1 && planned.empty();
  for (std::size_t c = 0; c < sheets.size(); ++c) {
    if (done.empty() && planned.empty()) {
      add_cells(b, instance, sheets[c], only);
      continue;
    }
    Sheet as_done = sheets[c];
    beside.clear();
    for (const auto& by : done) rework(as_done, by);
    for (std::uint32_t mask = 0; mask < 1U << planned.size(); ++mask) {
      Sheet sheet = as_done;
      beside.clear();
      for (std::size_t r = 0; r < planned.size(); ++r)
        if ((mask >> r & 1U) != 0) rework(sheet, planned[r]);
      add_cells(b, instance, sheet, only);
    }
  }
}

std::size_t cells_to_make(const BuildContext& b) {
  std::size_t cells = 0;
  for (const Instance& instance : b.build.instances)
    cells += (b.build.fits[instance.fit].candidates.size() << instance.reworks.size()) *
             b.context.model.kinds[instance.kind].sheet_size;
  return cells;
}

}  // namespace

/// The candidates' sheets are read once a fit; only an instance that is reworked has a copy of its own.
void make_cells(BuildContext& b) {
  b.build.notes.reserve(cells_to_make(b));
  b.places_are_asked = asks_for_places(b.context, b.build);
  for (std::size_t f = 0; f < b.build.fits.size(); ++f) {
    const Fit& fit = b.build.fits[f];
    std::vector<Sheet> sheets;
    for (const auto candidate : fit.candidates) {
      const BuildPart& part = b.build.parts[candidate];
      Sheet sheet = empty_sheet(b.context, part.kind);
      assign(b.context, sheet, part.decl->assignments, false, false, no_reg);
      if (const std::uint32_t of_model = b.part_of_model[candidate]; of_model != no_reg)
        b.context.parts_read[of_model] = true;
      assign(b.context, sheet, b.fit_decls[f]->overrides, true, true, no_reg);
      sheets.push_back(std::move(sheet));
    }
    for (const auto i : fit.instances) make_versions(b, i, sheets);
  }
}

namespace {

/// What the graph itself finds, without a rule, may be expected.
constexpr std::array<std::string_view, 4> of_the_graph{"quantity", "hand", "open", "left_over"};

bool known_requirement(BuildContext& b, const Name& name, bool of_graph_too) {
  Context& context = b.context;
  if (context.requirement_names.contains(name.symbol)) return true;
  const auto word = context.names.text(name.symbol);
  std::vector<std::string_view> known;
  if (of_graph_too) known.assign(of_the_graph.begin(), of_the_graph.end());
  if (std::find(known.begin(), known.end(), word) != known.end()) return true;
  if (context.model.requirements.size() <= context.names_for_hints)
    for (const auto& requirement : context.model.requirements)
      known.push_back(context.names.text(requirement.name));
  if (std::find(of_the_graph.begin(), of_the_graph.end(), word) != of_the_graph.end()) {
    context.messages.add(Code::waive_not_rule, name.span, {std::string(word)},
                         "say on the part what is there, as quantity 4 or hand left, right");
    return false;
  }
  context.messages.add(Code::unknown_name, name.span, {"requirement", std::string(word)},
                       context.suggest(word, known));
  return false;
}

std::unordered_set<Symbol> joint_labels(const Build& build) {
  std::unordered_set<Symbol> out;
  for (const auto& joint : build.joints)
    if (joint.label) out.insert(joint.label);
  return out;
}

/// "on wheel.rear_left", "on wheel", or a joint's name.
bool read_subject(BuildContext& b, const std::unordered_set<Symbol>& labels, const std::optional<Path>& on,
                  Symbol& fit_name, Symbol& place) {
  if (!on) return true;
  if (on->names.size() == 1 && labels.contains(on->names[0].symbol))
    return fit_name = on->names[0].symbol, true;
  std::vector<Name> rest;
  const auto instances = find_instances(b, *on, &rest);
  if (instances.empty()) return false;
  fit_name = on->names[0].symbol;
  if (instances.size() == 1 && rest.size() < on->names.size() - 1)
    place = b.build.instances[instances[0]].place;
  return true;
}

}  // namespace

void add_waivers(BuildContext& b) {
  if (b.decl.waivers.empty()) return;
  const auto labels = joint_labels(b.build);
  for (const auto& decl : b.decl.waivers) {
    Waiver waiver;
    waiver.requirement = decl.requirement.symbol;
    waiver.span = decl.span;
    if (decl.because) waiver.because = in_one_line(decl.because->text);
    if (decl.by) waiver.by = decl.by->text;
    if (decl.until) waiver.until = date_text(b.context, *decl.until);
    const bool known = known_requirement(b, decl.requirement, false);
    if (read_subject(b, labels, decl.on, waiver.fit_name, waiver.place) && known)
      b.build.waivers.push_back(std::move(waiver));
  }
}

void add_stages(BuildContext& b) {
  FirstNames names;
  for (const auto& decl : b.decl.stages) {
    names.declare(b.context, "stage", decl.name);
    Stage stage;
    stage.name = decl.name.symbol;
    stage.span = decl.span;
    if (decl.doc) stage.doc = in_one_line(decl.doc->text);
    for (const auto& name : decl.uses) {
      const auto instances = find_instances(b, Path{{&name, 1}, name.span}, nullptr);
      stage.instances.insert(stage.instances.end(), instances.begin(), instances.end());
    }
    b.build.stages.push_back(std::move(stage));
  }
}

void add_expectations(BuildContext& b) {
  using Word = Expectation::Word;
  static constexpr std::pair<std::string_view, Word> words[] = {
      {"fits", Word::fits},       {"conflict", Word::conflict},
      {"unknown", Word::unknown}, {"setting", Word::setting},
      {"choice", Word::choice},   {"also", Word::also},
      {"caution", Word::caution}, {"not_applicable", Word::not_applicable},
      {"pending", Word::pending}};
  if (b.decl.expects.empty()) return;
  const auto labels = joint_labels(b.build);
  for (const auto& decl : b.decl.expects) {
    Expectation expectation;
    expectation.span = decl.span;
    if (!decl.verdict) {
      expectation.that = compile_expectation(b.context, decl.that);
      b.build.expectations.push_back(expectation);
      continue;
    }
    const std::string word = b.context.text(*decl.verdict);
    std::vector<std::string_view> known;
    bool good = false;
    for (const auto& [text, value] : words) {
      known.push_back(text);
      if (text != word) continue;
      expectation.word = value;
      good = true;
    }
    if (!good)
      b.context.messages.add(Code::verdict_word, decl.verdict->span, {word}, suggestion(word, known));
    if (decl.requirement) {
      expectation.requirement = decl.requirement->symbol;
      good = known_requirement(b, *decl.requirement, true) && good;
    }
    good = read_subject(b, labels, decl.on, expectation.fit_name, expectation.place) && good;
    if (good) b.build.expectations.push_back(expectation);
  }
}

}  // namespace mm
