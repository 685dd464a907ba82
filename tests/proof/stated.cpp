#include "stated.hpp"

#include <cmath>
#include <cstdio>

namespace mm_proof {

namespace {

constexpr int most_steps = 60;  // of one walk
constexpr int walks = 4;

/// Surely less than nothing, or greater.
int sign_of(const Margin& margin) {
  if (margin.undefined) return 0;
  const bool below = !margin.some || (margin.number.known && margin.number.high() < 0);
  const bool above = !margin.some || (margin.number.known && margin.number.lo > 0);
  if (!margin.holds && below) return -1;
  return !margin.fails && above ? 1 : 0;
}

}  // namespace

std::string told(const mm::Precision& precision) {
  char text[64];
  std::snprintf(text, sizeof text, "%.3g..%.3g", precision.least, precision.most);
  return text;
}

/// The world as it stands.
StatedCheck::Seen StatedCheck::look(const Engine::Found& found) {
  ++tried_;
  const Truth truth =
      judge_.requirement(*found.requirement, found.interface, found.rule, found.binding).holds;
  Seen out;
  out.margin = judge_.margin(*found.requirement, found.interface, found.rule, found.binding, measure_);
  const Margin& margin = out.margin;
  const Real& number = margin.number;
  const bool within =
      margin.some &&
      (!number.known || ((!most_ || number.lo <= *most_) && (!least_ || number.high() >= *least_)));
  const int sign = sign_of(margin);
  if (truth == undefined)
    out.wrong = "it is undefined";
  else if ((sign < 0 && (truth & no) == 0) || (sign > 0 && (truth & yes) == 0))
    out.wrong = "its margin does not go with its answer";
  else if (!within && !(margin.holds && !most_) && !(margin.fails && !least_) && !margin.undefined)
    out.wrong = "its margin" +
                (margin.some && number.known ? " " + std::to_string(number.lo.get_d()) : std::string()) +
                " lies outside of what is stated";
  return out;
}

std::string StatedCheck::walk(const Engine::Found& found, bool down) {
  Seen best = look(found);
  if (!best.wrong.empty()) return best.wrong;
  for (int step = 0; step < most_steps; ++step) {
    const auto before = world_.redraw_one();
    if (!before) return {};
    const Seen now = look(found);
    if (!now.wrong.empty()) return now.wrong;
    const bool known = now.margin.some && now.margin.number.known;
    const bool was_known = best.margin.some && best.margin.number.known;
    const bool better = known && (!was_known || (down ? now.margin.number.lo < best.margin.number.lo
                                                      : now.margin.number.lo > best.margin.number.lo));
    if (better)
      best = now;
    else
      world_.give(before->first, before->second);
  }
  return {};
}

std::string StatedCheck::contradiction(const Engine::Found& found, const mm::Precision& precision,
                                       int worlds) {
  measure_ = engine_.dim(precision.measure);
  const Rational scale = scale_of(measure_);
  const auto bound = [&](double end) {
    return std::isfinite(end) ? std::optional<Rational>(Rational(end) * scale) : std::nullopt;
  };
  least_ = bound(precision.least);
  most_ = bound(precision.most);
  if (!least_ && !most_) return "nothing is stated";
  judge_.range_pieces = 6;
  for (int i = 0; i < worlds; ++i) {
    world_.manner = i % 2;
    enter_();
    const std::string wrong = i < 2 * walks ? walk(found, i < walks) : look(found).wrong;
    if (!wrong.empty()) return wrong;
  }
  return {};
}

}  // namespace mm_proof
