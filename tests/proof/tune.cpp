// Limits that decide something: a comparison with a blind literal is nearly always settled at a glance. So
// every requirement is judged in some worlds first, and its literals are set inside, at the edge of, or
// beyond what was seen there.
#include <algorithm>

#include "judge.hpp"
#include "make.hpp"

namespace mm_proof {

namespace {

Rational rounded(const Rational& value, const Rational& grain, bool up) {
  const Real steps(value / grain);
  return (up ? ceil(steps) : floor(steps)).lo * grain;
}

void set(Node& node, Draw& draw) {
  if (node.seen.empty()) {
    node.value = Rational(draw.between(1, 20));
    return;
  }
  std::sort(node.seen.begin(), node.seen.end());
  const Rational &least = node.seen.front(), &most = node.seen.back();
  Rational span = most - least;
  if (span == 0) span = ::abs(most) / 20;
  if (span == 0) span = 1;
  Rational grain(1, 1000);
  while (grain * 100 > span && grain > Rational(1, 1'000'000'000)) grain /= 10;
  while (grain * 100'000 < span) grain *= 10;
  const bool up = draw.chance(50);
  const int way = draw.below(10);
  Rational at;
  if (way < 3) {
    at = draw.of(node.seen);
  } else if (way < 6) {
    at = up ? most : least;
  } else {
    at = up ? Rational(most + span * Rational(draw.between(1, 30), 40))
            : Rational(least - span * Rational(draw.between(1, 30), 40));
  }
  node.value = rounded(at, grain, up);
  static const Rational most_written("1000000000000000000000000000000");
  if (::abs(node.value) > most_written) node.value = most_written;
}

}  // namespace

void tune(Scene& scene, std::uint64_t seed) {
  Draw draw(seed);
  World world(scene, seed);
  Judge judge(scene, world);
  judge.observe = true;
  judge.range_pieces = 1;
  const auto look = [&](const Requirement& need, const Interface* interface, const Rule* rule,
                        const Binding& binding) {
    for (int i = 0; i < 8; ++i) {
      world.clear(draw.next());
      world.manner = i % 2;
      for (std::size_t f = 0; f < scene.fits.size(); ++f)
        world.candidates[f] = draw.below(static_cast<int>(scene.fits[f].candidates.size()));
      judge.requirement(need, interface, rule, binding);
    }
  };
  for (const Joint& joint : scene.joints) {
    const Interface& interface = scene.interfaces[static_cast<std::size_t>(joint.interface)];
    for (const Requirement& need : interface.requirements)
      look(need, &interface, nullptr, binding_of(scene, joint));
  }
  for (const Rule& rule : scene.rules) {
    const std::vector<Binding> matches = matches_of(scene, rule);
    for (const Requirement& need : rule.requirements) {
      for (std::size_t i = 0; i < matches.size() && i < 2; ++i) look(need, nullptr, &rule, matches[i]);
    }
  }
  // the literals of one comparison are set from the same values; the ends of a range in their order
  for (Node& node : scene.nodes) {
    for (Node* kid : node.kids) {
      if (kid != nullptr && kid->tuned) set(*kid, draw);
    }
    if (node.op == Op::in_range && node.kids[1]->tuned && node.kids[1]->value > node.kids[2]->value) {
      std::swap(node.kids[1]->value, node.kids[2]->value);
    }
  }
}

}  // namespace mm_proof
