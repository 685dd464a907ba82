#include "report/planned.hpp"

#include <algorithm>
#include <map>
#include <tuple>

#include "report/options.hpp"
#include "report/page.hpp"

namespace mm {

namespace {

/// What a verdict owes to planned work, over the candidates for which it is so.
struct Turn {
  PlannedTurn planned;
  std::string note;
  std::vector<std::string> candidates;
  bool operator<(const Turn& other) const {
    return std::tie(planned.reworks, planned.kind, note, candidates) <
           std::tie(other.planned.reworks, other.planned.kind, other.note, other.candidates);
  }
};

/// "conflict after O1 alone", "unknown now"; "" of what simply fits after it.
std::string note_of(const Option& option, PlannedTurn::Kind kind) {
  std::vector<std::string> notes;
  const std::string& text = option.text;
  // "fits now; conflict after O1 alone; fits after ..."
  if (option.word == Word::pending && option.fits_today()) {
    const auto first = text.find("; "), last = text.rfind("; ");
    if (last == std::string::npos) return {};
    return kind == PlannedTurn::Kind::keeps ? text.substr(first + 2, last - first - 2)
                                            : text.substr(last + 2);
  }
  if (option.word == Word::pending || kind == PlannedTurn::Kind::may_settle)
    if (const auto end = std::min(text.find("; fits after"), text.find(" now; unknown after"));
        end != std::string::npos)
      notes.push_back(text.substr(0, end) + (text.compare(end, 4, " now") == 0 ? " now" : ""));
  if (const auto but = text.find(", but "); but != std::string::npos) notes.push_back(text.substr(but + 2));
  if (kind == PlannedTurn::Kind::settles && !option.aside.empty()) notes.push_back(option.aside);
  return listed(notes, "; ");
}

std::vector<Turn> turns_of(const Scene& scene, const Summary& summary) {
  std::vector<Turn> out;
  for (const Option& option : summary.options)
    for (const PlannedTurn& planned : option.turns) {
      const std::string note = note_of(option, planned.kind);
      auto turn = std::find_if(out.begin(), out.end(), [&](const Turn& t) {
        return t.planned.reworks == planned.reworks && t.planned.kind == planned.kind && t.note == note;
      });
      if (turn == out.end()) turn = out.insert(out.end(), {planned, note, {}});
      turn->candidates.push_back(option_name(scene, option, " with "));
    }
  for (Turn& turn : out)
    if (turn.candidates.size() == summary.options.size()) turn.candidates.clear();
  return out;
}

}  // namespace

std::vector<PlannedWork> planned_work(const Scene& scene, const Summaries& summaries) {
  std::map<Turn, std::vector<const Summary*>> by_turn;
  std::vector<std::vector<decltype(by_turn)::const_iterator>> of_rework(scene.build.reworks.size());
  for (const Summary& summary : summaries) {
    if (summary.waived) continue;
    for (Turn& turn : turns_of(scene, summary)) {
      const auto [at, is_new] = by_turn.try_emplace(std::move(turn));
      at->second.push_back(&summary);
      if (!is_new) continue;
      for (const std::uint32_t r : at->first.planned.reworks) of_rework[r].push_back(at);
    }
  }
  std::vector<PlannedWork> out;
  for (std::uint32_t r = 0; r < scene.build.reworks.size(); ++r) {
    if (scene.build.reworks[r].done) continue;
    PlannedWork work{r, {}};
    for (const auto& at : of_rework[r]) {
      const auto& [turn, members] = *at;
      std::vector<std::uint32_t> others = turn.planned.reworks;
      std::erase(others, r);
      for (Entry& entry : fold(scene, members))
        work.effects.push_back({std::move(entry), others, turn.planned.kind, turn.candidates, turn.note});
    }
    out.push_back(std::move(work));
  }
  return out;
}

}  // namespace mm
