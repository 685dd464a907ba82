// By hand: what somebody would write who had these eight requirements and nothing else.
#include "interval/interval.hpp"
#include "peers.hpp"

namespace bench {

namespace {

using mm::Interval;

struct Joint {
  int holes_pin, holes_base, stud_pin, stud_base, finish_pin, finish_base;
  Interval circle_pin, circle_base, pilot, bore, gain, pull_pin, pull_base, reach, grip_pin, grip_base;
  Interval layers[10];
  double limit;
  bool has_grip;
};

std::vector<Joint> joints_of(const Rows& rows) {
  std::vector<Joint> joints;
  for (const auto& r : rows) {
    const auto range = [&](std::size_t at) { return Interval::of(r[at], r[at + 1]); };
    Joint j{r[holes_pin],
            r[holes_base],
            r[stud_pin],
            r[stud_base],
            r[finish_pin],
            r[finish_base],
            range(circle_pin),
            range(circle_base),
            range(pilot),
            range(bore),
            range(gain),
            range(pull_pin),
            range(pull_base),
            range(reach),
            range(grip_pin),
            range(grip_base),
            {},
            static_cast<double>(r[limit]),
            r[grip_pin] >= 0};
    for (std::size_t n = 0; n < 10; ++n) j.layers[n] = range(layers + 2 * n);
    joints.push_back(j);
  }
  return joints;
}

Counts judge_structs(const std::vector<Joint>& joints) {
  Counts counts;
  const mm::RoundUp upward;
  const auto at_most = [&](const Interval& value, double most) {
    counts.add(value.lo() <= most, value.hi > most);
  };
  const auto equal = [&](bool known, int a, int b) { counts.add(!known || a == b, !known || a != b); };
  for (const Joint& j : joints) {
    equal(true, j.holes_pin, j.holes_base);
    at_most(mm::abs(mm::sub(j.circle_pin, j.circle_base)), 20.5);
    at_most(mm::sub(j.pilot, j.bore), -5.5);
    equal(true, j.stud_pin, j.stud_base);
    at_most(mm::mul(j.gain, mm::sqrt(mm::mul(j.pull_pin, j.pull_base))), j.limit);
    Interval stack = Interval::point(0);
    for (const Interval& layer : j.layers) stack = mm::add(stack, layer);
    at_most(mm::sub(stack, j.reach), -200.5);
    if (j.has_grip)
      at_most(mm::sub(j.grip_base, j.grip_pin), 0);
    else
      counts.add(true, true);
    equal(j.finish_base >= 0, j.finish_pin, j.finish_base);
  }
  return counts;
}

}  // namespace

Told by_structs(const std::string& file) {
  Told told;
  const auto begin = Clock::now();
  const std::vector<Joint> joints = joints_of(rows_of(file));
  told.loading = since(begin);
  time_judging(told, [&] { return judge_structs(joints); });
  return told;
}

}  // namespace bench
