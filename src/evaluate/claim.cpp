#include "evaluate/claim.hpp"

#include <algorithm>

namespace mm {

std::size_t Claim::parts(Part (&out)[3]) const {
  std::size_t count = 0;
  if (written != nullptr) {
    std::copy(written->begin(), written->end(), out);
    return written->size();
  }
  if (only_when) {
    out[count++] = {&requirement->program, requirement->when};
    return count;
  }
  if (rule != nullptr && rule->where != no_block) out[count++] = {&rule->where_program, rule->where};
  if (requirement == nullptr) return count;
  if (requirement->when != no_block) out[count++] = {&requirement->program, requirement->when};
  out[count++] = {&requirement->program, requirement->test};
  return count;
}

Judged judged_from(std::size_t count, const Bits (&parts)[3]) {
  Judged result;
  for (std::size_t i = 0; i + 1 < count; ++i) result.applies = and_bits(result.applies, parts[i]);
  result.holds =
      result.applies == surely_no ? surely_yes : or_bits(not_bits(result.applies), parts[count - 1]);
  return result;
}

Bench::Bench(const BuildIndex& of_build, Designations& shared)
    : index(of_build),
      designations(&shared),
      world(index),
      box(index),
      fast(of_build.model, shared),
      sharp(of_build.model, shared),
      slopes(of_build.model, shared),
      sharp_slopes(of_build.model, shared) {}

bool test_decides(Bench& bench, const Claim& claim) {
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  for (std::size_t p = 0; p + 1 < count; ++p) {
    bench.fast.start(*parts[p].program, *claim.binding, bench.world, bench.box);
    if (bench.fast.truth(parts[p].block) != surely_yes) return false;
  }
  return true;
}

void Bench::suppose(const Answers* answers) {
  fast.suppose(answers);
  sharp.suppose(answers);
  slopes.suppose(answers);
  sharp_slopes.suppose(answers);
}

void Bench::forget_programs() {
  fast.forget_programs();
  sharp.forget_programs();
  slopes.forget_programs();
  sharp_slopes.forget_programs();
}

std::int64_t Bench::steps_used(std::int64_t granted) const {
  return 4 * granted - fast.limits.steps - sharp.limits.steps - slopes.limits.steps -
         sharp_slopes.limits.steps;
}

HalfOfSteps::HalfOfSteps(Bench& bench) : bench_(bench) {
  const auto keep = [](std::int64_t& steps) {
    const std::int64_t kept = std::max<std::int64_t>(steps, 0) / 2;
    steps -= kept;
    return kept;
  };
  kept_[0] = keep(bench.fast.limits.steps);
  kept_[1] = keep(bench.sharp.limits.steps);
  kept_[2] = keep(bench.slopes.limits.steps);
  kept_[3] = keep(bench.sharp_slopes.limits.steps);
}

HalfOfSteps::~HalfOfSteps() {
  const auto give = [](std::int64_t& steps, std::int64_t kept) {
    steps = std::max<std::int64_t>(steps, 0) + kept;
  };
  give(bench_.fast.limits.steps, kept_[0]);
  give(bench_.sharp.limits.steps, kept_[1]);
  give(bench_.slopes.limits.steps, kept_[2]);
  give(bench_.sharp_slopes.limits.steps, kept_[3]);
}

void Bench::set_steps(std::int64_t steps) {
  fast.limits.steps = steps;
  sharp.limits.steps = steps;
  slopes.limits.steps = steps;
  sharp_slopes.limits.steps = steps;
}

}  // namespace mm
