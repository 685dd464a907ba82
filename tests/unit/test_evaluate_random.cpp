// Random expressions over random boxes: no sampled world may contradict a verdict, and every unknown that is
// called certified must show a passing and a failing world.
#include <doctest/doctest.h>

#include <random>

#include "evaluate/cases.hpp"
#include "judged_text.hpp"

using namespace mm;
using mm_test::JudgedText;

namespace {

class Writer {
 public:
  explicit Writer(unsigned seed) : random_(seed) {}

  std::string number(int depth) {
    if (depth == 0) {
      switch (pick(5)) {
        case 0:
          return std::to_string(pick(7)) + "." + std::to_string(pick(4)) + "5";
        case 1:
          return "p.n";
        default:
          return std::string("p.") + "xyz"[pick(3)];
      }
    }
    const std::string a = number(depth - 1), b = number(pick(depth));
    switch (pick(12)) {
      case 0:
      case 1:
        return "(" + a + " + " + b + ")";
      case 2:
      case 3:
        return "(" + a + " - " + b + ")";
      case 4:
      case 5:
        return "(" + a + " * " + b + ")";
      case 6:
        return "(" + a + " / " + b + ")";
      case 7:
        return "min(" + a + ", " + b + ")";
      case 8:
        return "abs(" + a + ")";
      case 9:
        return "(" + a + ") ^ 2";
      case 10:
        return "sqrt(" + a + ")";
      default:
        return "(if " + truth(0) + " then " + a + " else " + b + ")";
    }
  }

  std::string truth(int depth) {
    if (depth == 0) {
      const char* relations[] = {" <= ", " < ", " >= ", " > "};
      if (pick(8) == 0) return "p.s = " + std::string(pick(2) == 0 ? "red" : "green");
      if (pick(8) == 0) return "p.s = p.t";
      return number(pick(3)) + relations[pick(4)] + number(pick(2));
    }
    switch (pick(6)) {
      case 0:
        return "(" + truth(depth - 1) + " and " + truth(0) + ")";
      case 1:
        return "(" + truth(depth - 1) + " or " + truth(0) + ")";
      case 2:
        return "not (" + truth(depth - 1) + ")";
      case 3:
        return "(every q in 0..1 has " + number(1) + " + q >= " + number(1) + " * q)";
      default:
        return truth(0);
    }
  }

  std::string range() {
    const int lo = pick(9) - 4;
    const int hi = lo + pick(4);
    return std::to_string(lo) + ".." + std::to_string(hi) + (hi < 0 ? "" : "." + std::to_string(pick(10)));
  }

  int pick(int below) { return static_cast<int>(random_() % static_cast<unsigned>(below)); }

 private:
  std::mt19937 random_;
};

std::string build_text(Writer& writer) {
  std::string text =
      "choice colour = red, green, blue\n"
      "kind thing { x: ratio  y: ratio in -3..4  z: ratio  n: count  s: colour  t: colour }\n"
      "rule r {\n for p: thing\n";
  for (int i = 0; i < 8; ++i) {
    text += " need t" + std::to_string(i) + ": " + writer.truth(2);
    if (writer.pick(4) == 0) text += " when " + writer.truth(0);
    text += "\n";
  }
  text += "}\npart a is thing {\n x " + writer.range() + "\n";
  if (writer.pick(2) == 0) text += " y -2.." + std::to_string(writer.pick(5)) + "\n";
  text += " z " + std::to_string(writer.pick(5)) + " +- 0." + std::to_string(writer.pick(9)) + "\n n " +
          std::to_string(writer.pick(3)) + ".." + std::to_string(3 + writer.pick(3)) + "\n";
  if (writer.pick(2) == 0) text += " s green\n";
  return text + "}\nbuild b { fit a: a }\n";
}

/// A judged text, and a bench on which its findings can be judged again.
struct OnBench {
  explicit OnBench(const std::string& text)
      : judged(text), designations(judged.project.model), bench(*judged.results.index, designations) {}

  JudgedText judged;
  RoundUp rounding;
  Designations designations;
  Bench bench;
};

void release(Bench& bench, const Variables& variables) {
  for (std::size_t v = 0; v < variables.size(); ++v) bench.box.release(variables[v].cell);
}

/// Draws worlds of one finding and compares them with its verdict. Returns what is wrong, or nothing.
std::string contradiction(const JudgedText& judged, Bench& bench, const Finding& finding, int worlds) {
  const RequirementDef& requirement = judged.project.model.requirements[finding.requirement];
  const Claim claim{&requirement, &judged.project.model.rules[requirement.rule], finding.binding};
  const Outcome& outcome = finding.cases[0].outcome;
  bench.set_steps(1'000'000'000);
  bench.reads.start();
  Variables variables;
  variables.collect(bench, claim, bench.reads);
  std::uint64_t state = 88172645463325252ULL;
  for (int world = 0; world < worlds; ++world) {
    for (std::size_t v = 0; v < variables.size(); ++v) {
      const std::uint64_t draw = next_random(state) % 6;
      if (draw == 0) variables.place(bench, v, Spot::low);
      if (draw == 1) variables.place(bench, v, Spot::high);
      if (draw > 1) variables.place_random(bench, v, state);
    }
    const Judged found = judge(bench.sharp, bench, claim);
    release(bench, variables);
    if (outcome.verdict == Verdict::fits && (found.holds & may_yes) == 0) return "fits, but a value fails";
    if (outcome.verdict == Verdict::conflict && (found.holds & may_no) == 0)
      return "conflict, but a value passes";
    if (outcome.verdict == Verdict::not_applicable && (found.applies & may_no) == 0)
      return "applies after all";
  }
  return "";
}

}  // namespace

TEST_CASE("no world contradicts a verdict") {
  std::size_t decided = 0, certified = 0, open = 0;
  for (unsigned seed = 1; seed <= 150; ++seed) {
    Writer writer(seed);
    const std::string text = build_text(writer);
    CAPTURE(text);
    OnBench on(text);
    const JudgedText& judged = on.judged;
    Bench& bench = on.bench;
    for (const Finding& finding : judged.results.findings) {
      CAPTURE(judged.names.text(judged.project.model.requirements[finding.requirement].name));
      const std::string wrong = contradiction(judged, bench, finding, 60);
      CHECK(wrong == "");
      const Outcome& outcome = finding.cases[0].outcome;
      if (outcome.verdict != Verdict::unknown) {
        ++decided;
      } else if (outcome.certified || outcome.undefined) {
        ++certified;
      } else {
        ++open;
        CHECK(outcome.precision_limit);
      }
    }
  }
  CHECK(decided > 300);
  CHECK(certified > 100);
  CHECK(open < 12);  // of 1200: what neither worlds nor cutting settle
}

namespace {

/// What a machine says of a claim: its bits, and of its test the way in which it moves.
template <class Num>
std::string said(Machine<Num>& machine, const Bench& bench, const Claim& claim, const Variable* active) {
  const CellId cell = active != nullptr ? active->cell : CellId{};
  if constexpr (std::is_same_v<Num, Dual>)
    machine.set_active(cell, cell ? bench.box.number(cell) : Interval::point(0));
  if constexpr (std::is_same_v<Num, ExactDual>)
    machine.set_active(cell, cell ? bench.box.exact(cell) : ExactInterval::point(0));
  const Judged judged = judge(machine, bench, claim);
  const auto direction =
      judged.not_applicable() ? still : machine.direction_of(machine.run(claim.requirement->test));
  return std::to_string(judged.applies) + " " + std::to_string(judged.holds) + " " +
         std::to_string(direction);
}

template <class Num>
void compare_with_new(Machine<Num>& kept, Bench& bench, const Claim& claim, const Variable* active) {
  Machine<Num> fresh(bench.index.model, *bench.designations);
  fresh.limits = kept.limits;
  CHECK(said(kept, bench, claim, active) == said(fresh, bench, claim, active));
}

}  // namespace

TEST_CASE("what a machine keeps from other boxes changes nothing") {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    Writer writer(seed);
    std::string text = build_text(writer);
    // one that few pieces of a range leave open, and many decide
    text.insert(
        text.find("}\npart a"),
        " need fine: every q in 0..1 has (q - 0.31) * (q - 0.52) * (q - 0.83) + p.z - p.z >= -0.136\n");
    CAPTURE(text);
    OnBench on(text);
    const JudgedText& judged = on.judged;
    Bench& bench = on.bench;
    for (const Finding& finding : judged.results.findings) {
      const RequirementDef& requirement = judged.project.model.requirements[finding.requirement];
      const Claim claim{&requirement, &judged.project.model.rules[requirement.rule], finding.binding};
      bench.set_steps(1'000'000'000);
      bench.reads.start();
      Variables variables;
      variables.collect(bench, claim, bench.reads);
      std::uint64_t state = seed;
      for (int turn = 0; turn < 12 && variables.size() != 0; ++turn) {
        const std::size_t v = writer.pick(static_cast<int>(variables.size()));
        const Variable& variable = variables[v];
        const int move = writer.pick(5);
        if (move == 0) variables.place(bench, v, Spot::middle);
        if (move == 1) variables.place_random(bench, v, state);
        if (move == 2) bench.box.release(variable.cell);
        // another one again and again: the box tells a few changes from many
        const std::size_t other = writer.pick(static_cast<int>(variables.size()));
        for (std::size_t more = writer.pick(3) == 0 ? writer.pick(40) : 0; more > 0; --more)
          variables.place_random(bench, other, state);
        const std::size_t ends = bench.box.at_ends();
        if (move == 3 && variable.number) bench.box.to_end(variable.cell, writer.pick(2) == 0);
        bench.fast.limits.range_pieces = writer.pick(2) == 0 ? 4 : 128;
        const Variable* active = variable.number ? &variable : nullptr;
        compare_with_new(bench.fast, bench, claim, nullptr);
        compare_with_new(bench.sharp, bench, claim, nullptr);
        compare_with_new(bench.slopes, bench, claim, active);
        compare_with_new(bench.sharp_slopes, bench, claim, active);
        bench.box.leave_ends(ends);
      }
      release(bench, variables);
    }
  }
}
