// Words for what is not known: which value, what answer means what, and what waits for it.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "report/numbers.hpp"
#include "report/page.hpp"
#include "report/phrases.hpp"
#include "report/regions.hpp"
#include "report/unknown_groups.hpp"
#include "report/values.hpp"

namespace mm {

const AttributeDef& attribute_of(const Scene& scene, const UnknownGroup& group) {
  return schema_of(scene.model(), scene.build, group.entity).attributes[group.attribute];
}

namespace {

constexpr std::size_t most_words = 4;

/// So that what fits fits both, and what fails fails one of them. False where that cannot be said.
bool meet(Blame& into, const Blame& other) {
  if (into.same_answers(other)) return true;
  if (!into.fitting.empty() || !other.fitting.empty()) {
    std::vector<std::uint32_t> both;
    for (const std::uint32_t word : into.fitting)
      if (std::find(other.fitting.begin(), other.fitting.end(), word) != other.fitting.end())
        both.push_back(word);
    into.fitting = std::move(both);
    into.others_fail = into.others_fail && other.others_fail;
    return !into.fitting.empty();
  }
  into.fits = into.fits.intersected(other.fits);
  into.fails = into.fails.united(other.fails);
  return into.fails != ValueSet::all();
}

}  // namespace

std::vector<std::string> fitting_words(const Scene& scene, const Blame& blame) {
  const TypeKind kind =
      schema_of(scene.model(), scene.build, blame.entity).attributes[blame.attribute].type.kind;
  std::vector<std::string> words;
  for (const std::uint32_t word : blame.fitting)
    words.push_back(kind == TypeKind::boolean ? (word == 0 ? "no" : "yes")
                                              : set_text(scene, {false, {word}}, kind));
  return words;
}

std::string answers_text(const Scene& scene, const Blame& blame) {
  const AttributeDef& def = schema_of(scene.model(), scene.build, blame.entity).attributes[blame.attribute];
  if (blame.fitting.empty())
    return answers_text(blame, shown_unit(scene, def, given_of(scene, blame.cell)), known_width(scene, blame),
                        def.type.kind);
  std::vector<std::string> words = fitting_words(scene, blame);
  if (blame.more_words && words.size() > 1) return {};  // examples alone
  if (words.size() > most_words + 1) {
    const std::size_t more = words.size() - most_words;
    words.resize(most_words);
    words.push_back(std::to_string(more) + " more");
  }
  const std::string out = listed(words, " or ") + " fits";
  if (!blame.others_fail || blame.more_words) return out;
  return out + (words[0] == "yes"  ? ", no does not"
                : words[0] == "no" ? ", yes does not"
                                   : ", nothing else does");
}

namespace {

/// Half of what fits about the middle of the value as it is known: a reading may lie anywhere in it.
std::optional<Rational> half_of_window(const Scene& scene, const Blame& blame) {
  const ExactInterval range = ExactInterval::from(scene.build.cells[blame.cell].number);
  if (blame.missing || range.empty || range.lo_infinite || range.hi_infinite) return std::nullopt;
  const Rational middle = (range.lo_value + range.hi_value) / 2;
  const Rational rounding = (range.hi_value - range.lo_value) / 1'000'000;
  for (const auto& [from, to] : blame.fits.regions())
    if (from && to && from->at < to->at && from->at <= middle + rounding && middle - rounding <= to->at)
      return (to->at - from->at) / 2;
  return std::nullopt;
}

/// Of all that waits in one state of the planned work.
Answers answers_of(const Scene& scene, const std::vector<const Waiting*>& waiting) {
  const Waiting& first = *waiting[0];
  const auto all = std::make_unique<Blame>(*first.blame);  // GCC 12 fears for a copy on the stack
  const bool of_candidate = candidate_with(scene, first.blame->entity, first.blame->cell) != no_reg;
  std::string candidate = first.candidate;
  for (const Waiting* each : waiting) {
    const bool meant = each->candidate == candidate || (of_candidate && each->candidate.empty());
    if (of_candidate && candidate.empty())
      candidate = each->candidate;
    else if (!meant && !each->blame->same_answers(*all))
      return {};
    if (!meet(*all, *each->blame)) return {};
  }
  Answers out;
  out.text = answers_text(scene, *all);
  out.needed_half_width = half_of_window(scene, *all);
  return out;
}

using Listed = std::vector<std::pair<std::string, std::vector<const Waiting*>>>;

std::vector<const Waiting*>& listed_under(Listed& lists, const std::string& name) {
  for (auto& [its, waiting] : lists)
    if (its == name) return waiting;
  return lists.emplace_back(name, std::vector<const Waiting*>()).second;
}

/// What all of them wait for; no text where that cannot be said in a few words.
Answers answers_by_state(const Scene& scene, const std::vector<const Waiting*>& all) {
  Listed by_state;
  std::vector<const Waiting*> in_each;  // what planned work does not change
  for (const Waiting* waiting : all)
    (waiting->state.empty() ? in_each : listed_under(by_state, waiting->state)).push_back(waiting);
  if (by_state.empty()) return answers_of(scene, in_each);
  if (!in_each.empty() && by_state[0].first != as_it_is) by_state.insert(by_state.begin(), {as_it_is, {}});
  Answers out;
  std::vector<std::string> told;
  for (auto& [state, waiting] : by_state) {
    waiting.insert(waiting.end(), in_each.begin(), in_each.end());
    told.push_back(answers_of(scene, waiting).text);
    out.by_state = out.by_state || told.back() != told[0];
  }
  for (std::size_t i = 0; i < (out.by_state ? told.size() : 1); ++i) {
    if (told[i].empty()) return {};
    out.text += (i == 0 ? "" : "; ") + (out.by_state ? by_state[i].first + " " : "") + told[i];
  }
  return out;
}

}  // namespace

Answers group_answers(const Scene& scene, const UnknownGroup& group) {
  constexpr std::size_t most_candidates = 3;
  std::vector<const Waiting*> all;
  for (const Waiting& waiting : group.waiting) all.push_back(&waiting);
  Answers out = answers_by_state(scene, all);
  if (!out.text.empty()) return out;
  Listed by_candidate;
  for (const Waiting* waiting : all) listed_under(by_candidate, waiting->candidate).push_back(waiting);
  if (by_candidate.size() < 2 || by_candidate.size() > most_candidates) return out;
  std::string text;
  for (const auto& [candidate, waiting] : by_candidate) {
    const std::string& state = waiting[0]->state;
    const bool one_state = std::all_of(waiting.begin(), waiting.end(),
                                       [&](const Waiting* each) { return each->state == state; });
    const std::string answers = one_state ? answers_of(scene, waiting).text : std::string();
    if (answers.empty() || candidate.empty()) return out;
    text += (text.empty() ? "with " : "; with ") + candidate + " " + answers;
  }
  return {std::move(text), false, true, {}};
}

std::uint32_t candidate_with(const Scene& scene, EntityId entity, CellId cell) {
  const Instance& instance = scene.build.instances[scene.build.entities[entity].instance];
  if (scene.build.fits[instance.fit].candidates.size() < 2) return no_reg;
  const auto home = home_of(scene, cell);
  return home ? home->part : no_reg;
}

std::string group_name(const Scene& scene, const UnknownGroup& group) {
  const std::string name =
      attribute_name(scene, CellHome{group.entity, group.attribute, &attribute_of(scene, group), 0});
  const std::uint32_t part = candidate_with(scene, group.entity, group.cell);
  const bool several = std::any_of(group.waiting.begin(), group.waiting.end(), [&](const Waiting& w) {
    return candidate_with(scene, w.blame->entity, w.blame->cell) != part;
  });  // planned work gives it to each of them
  return part == no_reg || several ? name : name + " of " + scene.text(scene.build.parts[part].name);
}

std::string others_text(const Scene& scene, const std::vector<Blame>& blames, const std::string& but) {
  std::vector<std::string> names;
  for (const Blame& blame : blames) {
    const AttributeDef& def = schema_of(scene.model(), scene.build, blame.entity).attributes[blame.attribute];
    const std::string name = attribute_name(scene, CellHome{blame.entity, blame.attribute, &def, 0});
    if (but == name || but.starts_with(name + " of ") ||
        std::find(names.begin(), names.end(), name) != names.end())
      continue;
    names.push_back(name);
  }
  constexpr std::size_t most = 4;
  if (names.size() > most + 1) {
    const std::size_t more = names.size() - most;
    names.resize(most);
    names.push_back(std::to_string(more) + " more");
  }
  return listed(names);
}

std::string waiting_text(const Scene& scene, const std::vector<Waiting>& waiting) {
  std::vector<std::string> names;
  std::vector<std::vector<Symbol>> places;
  std::vector<std::vector<std::string>> candidates, states;
  for (const Waiting& w : waiting) {
    const Finding& finding = scene.results.findings[w.summary->finding];
    const std::string name = scene.text(scene.requirement(finding).name);
    auto at = static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
    if (at == names.size()) {
      names.push_back(name);
      places.emplace_back();
      candidates.emplace_back();
      states.emplace_back();
    }
    if (const Symbol place = finding.binding->place) places[at].push_back(place);
    auto& with = candidates[at];
    if (!w.candidate.empty() && std::find(with.begin(), with.end(), w.candidate) == with.end())
      with.push_back(w.candidate);
    if (std::find(states[at].begin(), states[at].end(), w.state) == states[at].end())
      states[at].push_back(w.state);
  }
  std::vector<std::string> items;
  for (std::size_t i = 0; i < names.size(); ++i) {
    std::string item = names[i] + places_text(scene, places[i]);
    std::vector<std::string> notes;
    if (!candidates[i].empty() && candidates[i].size() <= 3)
      notes.push_back("with " + listed(candidates[i], " or "));
    if (states[i].size() == 1 && !states[i][0].empty()) notes.push_back(states[i][0]);
    if (!notes.empty()) item += " (" + listed(notes, "; ") + ")";
    items.push_back(std::move(item));
  }
  return listed(items);
}

}  // namespace mm
