// One thing to be judged: a requirement on one joint or match, in the present state of world and box.
#pragma once
#include "evaluate/machine.hpp"

namespace mm {

struct Claim {
  const RequirementDef* requirement = nullptr;
  const RuleDef* rule = nullptr;  // none for an interface's requirement
  const Binding* binding = nullptr;
  bool only_when = false;  // the requirement's `when`, as if it were the test

  struct Part {
    const Program* program;
    BlockIndex block;
  };
  const std::vector<Part>* written = nullptr;  // its parts, where they were written anew (see unfold.hpp)
  /// The rule's `where`, the requirement's `when` and its test: 1 to 3 parts, the test last.
  std::size_t parts(Part (&out)[3]) const;
};

/// What can happen over the box. applies: where and when. holds: not applies, or the test.
struct Judged {
  Bits applies = surely_yes;
  Bits holds = anything;

  bool not_applicable() const { return applies == surely_no; }
  bool decided() const { return is_single(holds) && (holds & may_undef) == 0; }
};

Judged judged_from(std::size_t count, const Bits (&parts)[3]);

/// Everything that judging needs, kept from claim to claim so that nothing is allocated again.
struct Bench {
  /// Both must outlive it.
  Bench(const BuildIndex& index, Designations& designations);

  const BuildIndex& index;
  Designations* designations;
  World world;
  Box box;
  Machine<Interval> fast;
  Machine<ExactInterval> sharp;
  Machine<Dual> slopes;
  Machine<ExactDual> sharp_slopes;
  ReadLog reads;

  /// Steps that all machines together may still run for the present claim.
  void set_steps(std::int64_t steps);
  /// How many of so many they have run, all together.
  std::int64_t steps_used(std::int64_t granted) const;
  /// Answers that all machines take (see Machine::suppose).
  void suppose(const Answers* answers);
  /// Before a program goes that machines have run.
  void forget_programs();
  bool spent() const { return fast.spent() || sharp.spent() || slopes.spent() || sharp_slopes.spent(); }
};

/// While it stays, all machines may run half of the steps that they had left.
class HalfOfSteps {
 public:
  explicit HalfOfSteps(Bench& bench);
  ~HalfOfSteps();
  HalfOfSteps(const HalfOfSteps&) = delete;
  HalfOfSteps& operator=(const HalfOfSteps&) = delete;

 private:
  Bench& bench_;
  std::int64_t kept_[4];  // by machine
};

template <class Num>
Judged judge(Machine<Num>& machine, const Bench& bench, const Claim& claim) {
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  Bits bits[3] = {surely_yes, surely_yes, surely_yes};
  for (std::size_t i = 0; i < count; ++i) {
    machine.start(*parts[i].program, *claim.binding, bench.world, bench.box);
    bits[i] = machine.truth(parts[i].block);
    if (i + 1 < count && bits[i] == surely_no) break;
  }
  Judged result = judged_from(count, bits);
  if (machine.spent()) result = {anything, anything};
  return result;
}

/// The rule's `where` and the requirement's `when` surely hold in the box: it is the test that decides.
bool test_decides(Bench& bench, const Claim& claim);

/// Runs the claim's parts one after another; after each, `use(part, number of the part, op)` for the
/// operations of its own block, the machine standing there.
template <class Num, class Use>
void each_step(Machine<Num>& machine, const Bench& bench, const Claim& claim, Use use) {
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  for (std::size_t p = 0; p < count; ++p) {
    machine.start(*parts[p].program, *claim.binding, bench.world, bench.box);
    machine.run(parts[p].block);
    for (const Op& op : parts[p].program->blocks[parts[p].block].ops) use(parts[p], p, op);
  }
}

}  // namespace mm
