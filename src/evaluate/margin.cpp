#include "evaluate/margin.hpp"

#include <algorithm>
#include <cmath>

namespace mm {

void clamp_margin(Verdict verdict, Interval& margin) {
  if (verdict == Verdict::fits) margin = Interval::of(std::max(margin.lo(), 0.0), std::max(margin.hi, 0.0));
  if (verdict == Verdict::conflict)
    margin = Interval::of(std::min(margin.lo(), 0.0), std::min(margin.hi, 0.0));
}

void find_margin(Bench& bench, const Variables& variables, const Slacks& slacks, Outcome& outcome) {
  if (!slacks.all_of_test() || slacks.has_equality()) return;
  std::optional<Interval> least;
  for (const Slack& slack : slacks.list()) {
    Interval range = slacks.told_range(bench, slack);
    for (const bool low : {true, false}) {
      if (variables.size() == 0) break;
      const std::size_t former = bench.box.at_ends();
      slacks.to_corner(bench, slack, low, variables.size());
      const Interval corner = slacks.told_range(bench, slack);
      bench.box.leave_ends(former);
      range =
          intersect(range, low ? Interval::of(corner.lo(), HUGE_VAL) : Interval::of(-HUGE_VAL, corner.hi));
    }
    least = least ? min(*least, range) : range;
  }
  if (least && slacks.list().size() > 1)
    least = intersect(*least, Interval::of(-HUGE_VAL, std::max(slacks.most_of_least(bench), least->lo())));
  if (least) clamp_margin(outcome.verdict, *least);
  if (least && std::isfinite(least->lo()) && std::isfinite(least->hi)) outcome.margin = least;
}

}  // namespace mm
