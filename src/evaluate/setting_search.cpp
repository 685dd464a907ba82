#include "evaluate/setting_search.hpp"

#include <algorithm>

namespace mm {

namespace {

constexpr std::size_t most_tried = 64;     // one by one
constexpr std::size_t most_decided = 8;    // with all that a verdict may take
constexpr std::size_t most_looks = 1'024;  // at stretches of settings
constexpr std::size_t enough_looks = 128;  // once settings differ, for where they begin to fit
constexpr std::size_t probes = 4;          // pieces between single settings that are tried first

}  // namespace

std::vector<SettingRun> runs_that_hold(const std::vector<Verdict>& found) {
  std::vector<SettingRun> runs;
  for (std::size_t i = 0; i < found.size(); ++i) {
    if (!passes(found[i])) continue;
    if (i > 0 && passes(found[i - 1]))
      runs.back().last = i;
    else
      runs.push_back({i, i});
  }
  return runs;
}

SettingSearch::SettingSearch(Bench& bench, const Claim& claim, const Variables& variables, Search& search,
                             const Inspection& inspected, const std::vector<Knob>& knobs)
    : bench_(bench),
      claim_(claim),
      variables_(variables),
      search_(search),
      inspected_(inspected),
      knobs_(knobs) {
  for (const Knob& knob : knobs) {
    whole_.push_back({0, knob.settings.size() - 1});
    together_ = std::min(together_ * knob.settings.size(), most_tried + 1);
  }
  for (std::size_t v = 0; v < variables.size(); ++v) {
    const bool set = std::any_of(knobs.begin(), knobs.end(), [&](const Knob& k) { return k.variable == v; });
    all_known_ =
        all_known_ && (set || !variables[v].number || bench.box.number(variables[v].cell).is_point());
  }
}

Found SettingSearch::run() {
  if (const Leaf* leaf = one_way())
    try_ends(*leaf);
  else
    try_all();
  if (knobs_.size() == 1 && !found_.any_holds && found_.any_open && inspected_.hangs_together()) {
    closely_ = true;
    try_all();
  }
  return std::move(found_);
}

void SettingSearch::try_all() {
  found_ = {};
  if (together_ <= most_tried) return cut_up(true);
  const std::vector<Verdict> probed = probe();
  found_.runs.clear();
  if (!found_.differ())
    cut_up(false);
  else if (knobs_.size() == 1)
    widen(probed);
}

/// The longest side in two; false where every side is one setting.
bool SettingSearch::cut(const Stretch& stretch, std::deque<Stretch>& todo) {
  const auto longest = std::max_element(
      stretch.begin(), stretch.end(),
      [](const SettingRun& a, const SettingRun& b) { return a.last - a.first < b.last - b.first; });
  if (longest->first == longest->last) return false;
  const auto side = static_cast<std::size_t>(longest - stretch.begin());
  const std::size_t middle = longest->first + (longest->last - longest->first) / 2;
  todo.push_back(stretch);
  todo.back()[side].last = middle;
  todo.push_back(stretch);
  todo.back()[side].first = middle + 1;
  return true;
}

Verdict SettingSearch::look(const Stretch& stretch) {
  for (std::size_t k = 0; k < knobs_.size(); ++k) {
    const SettingList& settings = knobs_[k].settings;
    bench_.box.narrow_exact(knobs_[k].cell,
                            ExactInterval::of(settings[stretch[k].first], settings[stretch[k].last]));
  }
  Judged judged;
  if (!bench_.spent()) {
    const bool one =
        std::all_of(stretch.begin(), stretch.end(), [](const SettingRun& r) { return r.first == r.last; });
    const bool closely = (one || closely_) && wanted_ == anything && inspected_.hangs_together();
    judged = search_.glance_within(claim_, variables_, inspected_, closely, wanted_);
    if (one && all_known_ && verdict_of(judged) == Verdict::unknown)
      judged = judge(bench_.sharp, bench_, claim_);  // where doubles only touch
    if (one && together_ <= most_decided && verdict_of(judged) == Verdict::unknown && !bench_.spent()) {
      const Verdict decided = search_.decide_on(claim_, judged).verdict;
      if (decided != Verdict::unknown) {
        found_.may_pass = found_.may_pass || passes(decided);
        return decided;
      }
    }
  }
  found_.may_pass = found_.may_pass || (judged.holds & may_yes) != 0 || (judged.applies & may_no) != 0;
  return verdict_of(judged);
}

/// The only comparison that is open, if it moves one way along the only knob: from one end of its settings to
/// the other the requirement is met ever better.
const Leaf* SettingSearch::one_way() const {
  if (knobs_.size() != 1 || together_ <= most_decided) return nullptr;
  const Leaf* open = nullptr;
  for (const Leaf& leaf : inspected_.leaves) {
    if (is_single(leaf.bits)) continue;
    if (open != nullptr || leaf.has_pieces || leaf.is_piece()) return nullptr;
    open = &leaf;
  }
  if (open == nullptr) return nullptr;
  const Direction along = open->moves[knobs_[0].variable];
  return along == may_rise || along == may_fall ? open : nullptr;
}

/// Both ends, then between one that holds and one that does not where those that hold begin.
void SettingSearch::try_ends(const Leaf& leaf) {
  const auto its_answer = [&] {
    for (const Leaf& now : search_.leaves())
      if (asks_as(now, leaf) && is_single(now.bits)) return now.bits;
    return anything;
  };
  const std::size_t last = whole_[0].last;
  const Verdict at_first = look({SettingRun{0, 0}});
  const Bits answer_at_first = its_answer();
  const Verdict at_last = look({SettingRun{last, last}});
  const bool first_holds = passes(at_first), last_holds = passes(at_last);
  wanted_ = first_holds ? answer_at_first : its_answer();
  found_.take(at_first, {0, 0});
  found_.take(at_last, {last, last});
  found_.one_by_one = true;
  found_.runs.clear();
  if (first_holds && last_holds) found_.runs.push_back({0, last});
  if (first_holds != last_holds) {
    std::size_t holds = first_holds ? 0 : last, beyond = last - holds;
    while (std::max(holds, beyond) - std::min(holds, beyond) > 1) {
      const std::size_t middle = (holds + beyond) / 2;
      (all_hold(middle, middle) ? holds : beyond) = middle;
    }
    found_.runs.push_back(first_holds ? SettingRun{0, holds} : SettingRun{holds, last});
  }
  wanted_ = anything;
}

std::size_t SettingSearch::probe_at(std::size_t knob, std::size_t i) const {
  return whole_[knob].last * i / probes;
}

/// A few single settings: where two of them differ, the rest cannot make all agree.
std::vector<Verdict> SettingSearch::probe() {
  std::vector<Verdict> out;
  for (std::size_t i = 0; i <= probes; ++i) {
    Stretch point;
    for (std::size_t k = 0; k < knobs_.size(); ++k) point.push_back({probe_at(k, i), probe_at(k, i)});
    out.push_back(look(point));
    found_.take(out.back(), point[0]);
    if (knobs_.size() > 1 && found_.differ()) break;
  }
  return out;
}

/// From the probes that hold on to those that just do, where what lies between is well-behaved.
void SettingSearch::widen(const std::vector<Verdict>& probed) {
  for (auto [first, last] : runs_that_hold(probed)) {
    while (last > first && !all_hold(probe_at(0, first), probe_at(0, last))) --last;
    SettingRun run{probe_at(0, first), probe_at(0, last)};
    std::size_t beyond = last == probes ? run.last + 1 : probe_at(0, last + 1);
    while (beyond - run.last > 1) {
      const std::size_t middle = run.last + (beyond - run.last) / 2;
      (all_hold(run.last, middle) ? run.last : beyond) = middle;
    }
    std::size_t below = first == 0 ? 0 : probe_at(0, first - 1);
    while (run.first - below > 1) {
      const std::size_t middle = below + (run.first - below) / 2;
      (all_hold(middle, run.first) ? run.first : below) = middle;
    }
    found_.runs.push_back(run);
  }
}

/// Long stretches first, and `each` setting by itself where that is wanted. What is not settled by then
/// counts as open. Of several knobs it ends where two of their settings differ: no window is read off.
void SettingSearch::cut_up(bool each) {
  std::deque<Stretch> todo{whole_};
  std::size_t left = most_looks;
  while (!todo.empty()) {
    const Stretch stretch = std::move(todo.front());
    todo.pop_front();
    if (each && cut(stretch, todo)) continue;
    if (left-- == 0 || bench_.spent()) {
      found_.any_open = true;
      return;
    }
    const Verdict verdict = look(stretch);
    if (verdict == Verdict::unknown && cut(stretch, todo)) continue;
    const bool before = found_.differ();
    found_.take(verdict, stretch[0]);
    if (before || !found_.differ()) continue;
    if (knobs_.size() > 1 && found_.may_pass) return;
    left = std::min(left, enough_looks);
  }
  found_.one_by_one = each;
}

}  // namespace mm
