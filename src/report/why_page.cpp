#include "report/why_page.hpp"

#include <algorithm>

#include "report/check_sections.hpp"
#include "report/numbers.hpp"
#include "report/options.hpp"
#include "report/phrases.hpp"
#include "report/precision_text.hpp"
#include "report/regions.hpp"
#include "report/trace_text.hpp"

namespace mm {

namespace {

void tell_rule(Page& page, const CheckView& view, const RequirementDef& requirement,
               const std::string& numbers) {
  const Scene& scene = view.scene;
  page.blank();
  page.text("The rule, " + where(scene, requirement.span) + ":");
  std::string line = std::string(weight_word(requirement.weight)) + " " + scene.text(requirement.name) +
                     ": " + expression_text(scene, requirement.test_expr);
  if (requirement.when_expr) line += " when " + expression_text(scene, requirement.when_expr);
  page.text(line, 2, 4);
  if (!numbers.empty()) page.text("with numbers: " + numbers, 2, 4);
  page.text(
      "source: " + (requirement.source.empty() ? std::string("none given") : printable(requirement.source)),
      2, 4);
  if (requirement.settles_at != Gate::none)
    page.text("settles at: " + gate_word(requirement.settles_at), 2, 4);
}

void tell_values(Page& page, const CheckView& view, const RequirementDef& requirement,
                 const Outcome& outcome) {
  const Scene& scene = view.scene;
  if (outcome.reads.empty()) return;
  page.blank();
  page.text("The values:");
  for (const CellId cell : outcome.reads) {
    const auto owner = home_of(view.scene, cell);
    if (!owner || owner->def->type.kind == TypeKind::place) continue;
    std::string line = attribute_name(scene, *owner, true) + " " + as_written(scene, cell);
    const Given* given = given_of(scene, cell);
    if (owner->def->type.kind == TypeKind::quantity && given != nullptr) {
      const std::string value = converted_text(scene, *owner, cell, requirement.margin_unit);
      if (!value.empty()) line += " = " + value;
    }
    const std::string evidence = evidence_text(scene, cell);
    line += given == nullptr ? ""
                             : "; " + (!evidence.empty() ? evidence
                                       : (scene.build.cells[cell].flags & cell_adjustable) != 0
                                           ? std::string("to be set")
                                           : std::string("no evidence stated"));
    if (given != nullptr && given->from_fit) line += "; set where it is fitted";
    if (given != nullptr && given->rework < scene.build.reworks.size())
      line += "; by rework " + scene.text(scene.build.reworks[given->rework].name);
    if (given != nullptr && given->span.file) line += "; " + where(scene, given->span);
    for (const Given* other = given; other != nullptr && other->also;) {
      other = &scene.build.givens[other->also];
      line += "; the other: " + std::string(grade_word(other->grade)) + "; " + where(scene, other->span);
    }
    page.text(line, 2, 6);
  }
}

void tell_settling(Page& page, const CheckView& view, const Outcome& outcome) {
  const Scene& scene = view.scene;
  if (outcome.blames.empty()) return;
  page.blank();
  page.text(outcome.verdict == Verdict::setting            ? "What the right setting turns on:"
            : outcome.precision_limit || outcome.open_cell ? "What it turns on:"
                                                           : "What would settle it:");
  for (const Blame& blame : outcome.blames) {
    const AttributeDef& def = schema_of(scene.model(), scene.build, blame.entity).attributes[blame.attribute];
    const CellHome owner{blame.entity, blame.attribute, &def, 0};
    const Given* given = given_of(scene, blame.cell);
    const Unit unit = shown_unit(scene, def, given);
    std::string line = attribute_name(scene, owner, true) + ": ";
    line += blame.missing ? "not given" : "now " + as_written(scene, blame.cell);
    if (!def.measure.empty()) line += "; measure with " + printable(def.measure);
    if (blame.needed_half_width)
      line += "; to +- " + significant(in_unit(*blame.needed_half_width, unit, true), 2, Rounding::down) +
              unit_suffix(unit, true);
    const std::string answers = answers_text(scene, blame);
    if (!answers.empty()) line += "; " + answers;
    page.text(line, 2, 6);
  }
}

/// "wheel w1, after O1", "wheel w1, as it is now"
std::string case_name(const CheckView& view, const Finding& finding, const Case& c) {
  std::vector<std::string> names, reworks;
  for (const auto& [fit, candidate] : c.choices)
    names.push_back(view.scene.text(view.scene.build.fits[fit].name) + " " +
                    candidate_name(view.scene, fit, candidate));
  for (const std::uint32_t rework : c.reworks)
    reworks.push_back(view.scene.text(view.scene.build.reworks[rework].name));
  if (!reworks.empty()) names.push_back("after " + listed(reworks));
  if (reworks.empty() && !finding.reworks.empty()) names.emplace_back("as it is now");
  return listed(names, ", ");
}

constexpr std::size_t most_cases = 16;

void tell_cases(Page& page, const CheckView& view, const Summary& summary) {
  const Scene& scene = view.scene;
  const Finding& finding = view.finding(summary);
  if (finding.cases.size() < 2) return;
  for (std::size_t i = 0; i < finding.cases.size() && i < most_cases; ++i) {
    const Case& c = finding.cases[i];
    const Word word = case_word(c.outcome.verdict, summary.weight);
    std::string name(word_name(word));
    std::replace(name.begin(), name.end(), '_', ' ');
    const std::string margin = margin_text(scene, scene.requirement(finding), c.outcome);
    page.text(case_name(view, finding, c) + ": " + name + (margin.empty() ? "" : ", " + margin), 2, 6);
  }
  if (finding.cases.size() > most_cases)
    page.text("and " + counted(finding.cases.size() - most_cases, "more case") + ", in --json", 2, 6);
}

/// With the candidate that the query names; null where it names none.
const Option* asked_for(const CheckView& view, const Summary& summary, const WhyQuery& query) {
  for (const Option& option : summary.options)
    for (const auto& [fit, candidate] : option.choices)
      if (std::find(query.subjects.begin(), query.subjects.end(),
                    candidate_name(view.scene, fit, candidate)) != query.subjects.end())
        return &option;
  return nullptr;
}

/// The case told in full: of that candidate, else the one that stands for the finding, or the first to which
/// it applies.
std::size_t told_case(const CheckView& view, const Summary& summary, const WhyQuery& query) {
  if (const Option* asked = asked_for(view, summary, query)) return asked->now;
  const auto& cases = view.finding(summary).cases;
  std::size_t told = summary.shown_case;
  if (summary.word != Word::choice || cases[told].outcome.verdict != Verdict::not_applicable) return told;
  for (std::size_t i = 0; i < cases.size(); ++i)
    if (cases[i].reworks.empty() && cases[i].outcome.verdict != Verdict::not_applicable) return i;
  return told;
}

/// "fits: at least 3 mm to spare", "with low: fits, 10 mm to spare".
std::string headline(const CheckView& view, const Summary& summary, const WhyQuery& query) {
  const Scene& scene = view.scene;
  const Finding& finding = view.finding(summary);
  if (const Option* asked = asked_for(view, summary, query)) {
    const Outcome& outcome = finding.cases[asked->now].outcome;
    const std::string margin = margin_text(scene, scene.requirement(finding), outcome);
    const std::string evidence = asked->word == Word::conflict ? evidence_tail(outcome) : "";
    return "with " + option_name(scene, *asked) + ": " + asked->text + evidence +
           (margin.empty() ? "" : (asked->word == Word::pending ? "; as it is now " : ", ") + margin);
  }
  std::string out(summary.text());
  if (summary.word == Word::conflict) out += evidence_tail(finding.cases[summary.shown_case].outcome);
  if (summary.word == Word::caution) out += only_with(scene, summary, Word::caution);
  const std::string margin = summary.word == Word::choice ? std::string() : least_margin(scene, summary);
  return out + (margin.empty() ? "" : (summary.word == Word::pending ? "; as it is now " : ": ") + margin);
}

void tell_remarks(Page& page, const CheckView& view, const RequirementDef& requirement,
                  const Outcome& outcome) {
  if (outcome.verdict == Verdict::setting) {
    const std::string fitting = setting_text(view.scene, outcome);
    page.text(sentence(fitting.empty() ? no_setting_text(view.scene, outcome) : fitting));
  }
  if (outcome.open_reason) page.text(sentence(reason_text(view.scene, outcome)));
  if (outcome.open_cell) page.text(sentence(open_cell_text(view.scene, outcome)));
  if (outcome.work_limit)
    page.text(work_limit_text(view.scene, requirement, outcome));
  else if (outcome.precision_limit && !outcome.open_reason && !outcome.open_cell)
    page.text(sentence(not_decided_text(view.scene, requirement, outcome)));
  if (outcome.disputed) page.text("Sources differ on a value; the whole of what they span was taken.");
  if (outcome.default_spread)
    page.text("A value has no spread of its own; the usual spread for its evidence was taken.");
}

/// The others that cannot hold together with this one.
void tell_sets(Page& page, const CheckView& view, const Entry& entry) {
  const Scene& scene = view.scene;
  for (const ConflictSet& set : scene.results.conflict_sets) {
    bool mine = false;
    std::vector<std::string> others;
    for (const auto& [index, case_index] : set.members) {
      const bool is_mine = std::any_of(entry.members.begin(), entry.members.end(),
                                       [i = index](const Summary* s) { return s->finding == i; });
      mine = mine || is_mine;
      if (is_mine) continue;
      const Finding& finding = scene.results.findings[index];
      const std::string wanted = wanted_text(view, finding, case_index);
      others.push_back(entry_head(scene, {&view.summaries[index], {}, {}}) +
                       (wanted.empty() ? "" : " (" + wanted + ")"));
    }
    if (mine && !others.empty())
      page.text("It cannot hold together with " + listed(others) + ", whatever the values turn out to be" +
                (set.after.empty() ? "." : ", before " + reworks_text(scene, set.after) + " is done."));
  }
}

void tell_finding(Page& page, const CheckView& view, const Entry& entry, const WhyQuery& query) {
  const Scene& scene = view.scene;
  const Summary& summary = *entry.first;
  const Finding& finding = view.finding(summary);
  const RequirementDef& requirement = scene.requirement(finding);
  page.blank();
  page.text(entry_head(scene, entry) + marks(view, summary), 0, 2, Tone::bold);
  if (finding.cases.empty()) return;
  const std::size_t told = told_case(view, summary, query);
  const Outcome& outcome = finding.cases[told].outcome;
  page.text(sentence((summary.waived ? "waived; " : "") + headline(view, summary, query)));
  tell_cases(page, view, summary);
  if (finding.cases.size() > 1)
    page.text("What follows is told of one case: " + case_name(view, finding, finding.cases[told]) + ".");
  tell_remarks(page, view, requirement, outcome);
  tell_sets(page, view, entry);
  if (outcome.verdict == Verdict::conflict) {
    const std::string reason = reason_and_remedy(view, finding, told);
    if (!reason.empty()) page.text(reason);
  } else if (const std::string because = filled(view, finding, told, requirement.because); !because.empty()) {
    page.text((passes(outcome.verdict) ? "If it failed: " : "If it fails: ") + because + ".");
  }
  const TraceNode tree = settled_trace(view.tracer, finding, told);
  tell_rule(page, view, requirement,
            expression_with_numbers(scene, requirement.test_expr, tree, requirement.margin_unit));
  tell_values(page, view, requirement, outcome);
  tell_trace(page, scene, tree, requirement);
  tell_settling(page, view, outcome);
}

/// A name that means this finding and none of the others, or "".
std::string own_name(const Scene& scene, const Finding& finding, const WhyQuery& query) {
  for (const std::string& name : subject_names(scene, finding))
    if (matching_findings(scene, {query.requirement, {name}}).size() == 1) return name;
  return {};
}

void tell_next(Page& page, const CheckView& view, const std::vector<Entry>& entries, const WhyQuery& query,
               const WhyOptions& options) {
  const Scene& scene = view.scene;
  const std::string command = printable(options.command) + " " + printable(query.requirement) + " on ";
  std::vector<std::string> next;
  if (entries.size() > options.most) {
    page.blank();
    page.text("And " + std::to_string(entries.size() - options.most) + " more:");
    const std::size_t end = std::min(entries.size(), options.most + options.most_listed);
    for (std::size_t i = options.most; i < end; ++i)
      page.text(entry_head(scene, entries[i]) + ": " + entries[i].first->said, 2, 6);
    if (end < entries.size()) page.text("and " + std::to_string(entries.size() - end) + " more", 2, 6);
    const std::string name = own_name(scene, view.finding(*entries[options.most].first), query);
    if (!name.empty()) next.push_back(command + name);
  }
  if (entries.size() == 1 && entries[0].first->options.size() > 1) {
    const Summary& summary = *entries[0].first;
    const auto& cases = view.finding(summary).cases;
    const auto& told = cases[told_case(view, summary, query)].choices;
    for (const Option& option : summary.options) {
      if (option.choices == told || option.choices.empty()) continue;
      next.push_back(command + candidate_name(scene, option.choices[0].first, option.choices[0].second));
      break;
    }
  }
  if (next.empty()) return;
  page.blank();
  page.text("To see another:");
  for (const std::string& line : next) page.raw("  " + line);
}

}  // namespace

std::string why_page(const Scene& scene, const WhyQuery& query, const WhyOptions& options) {
  Tracer tracer(scene.results, scene.names);
  const Conclusion conclusion = not_searched(scene);  // whether there is a way out is not told here
  CheckView view{scene, tracer, conclusion, {}, true};
  std::vector<const Summary*> wanted;
  for (const std::size_t i : matching_findings(scene, query)) wanted.push_back(&view.summaries[i]);
  const auto entries = fold(scene, wanted);
  Page page(options.colour);
  page.text(build_name(scene) + " (" +
            (scene.build.decl != nullptr ? where(scene, scene.build.decl->span) : "") + ")");
  for (std::size_t i = 0; i < entries.size() && i < options.most; ++i)
    tell_finding(page, view, entries[i], query);
  tell_next(page, view, entries, query, options);
  return page.str();
}

}  // namespace mm
