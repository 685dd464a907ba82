// Verdicts by columns against the machine, row by row: random plain requirements on random joints, with
// missing values, touches, negative numbers and ranges over zero.
#include <doctest/doctest.h>

#include <random>

#include "evaluate/column_run.hpp"
#include "judged_text.hpp"

using namespace mm;
using mm_test::JudgedText;
using mm_test::word;

namespace {

class JointsText {
 public:
  /// `counts`: how many values a count may have; of more than three, none is missing.
  explicit JointsText(unsigned seed, unsigned counts = 3) : random_(seed), counts_(counts) {}

  std::string text(std::size_t joints, int needs = 12) {
    std::string out =
        "choice colour = red, green, blue\n"
        "designation size \"S{a: count}x{b: mm}\"\n"
        "interface seat \"x\" {\n"
        " one side pin { u: length  v: length  p: length  w: ratio in 0..9  n: count  c: colour  d: size }\n"
        " one side base { u: length  v: length  p: length  w: ratio  n: count  c: colour  d: size }\n"
        " many side layer { t: length  k: count }\n";
    for (int i = 0; i < needs; ++i) out += " need r" + std::to_string(i) + ": " + test() + "\n";
    out +=
        "}\nkind pins { face f: seat.pin }\nkind bases { face f: seat.base }\n"
        "kind packs { face l0, l1, l2: seat.layer }\n";
    std::string build = "build b {\n";
    for (std::size_t j = 0; j < joints; ++j) {
      const std::string at = std::to_string(j);
      out += "part p" + at + " is pins { f { " + values() + " } }\n";
      out += "part q" + at + " is bases { f { " + values() + " } }\n";
      out += "part k" + at + " is packs {";
      for (int l = 0; l < 3; ++l)
        out += " l" + std::to_string(l) + " { t " + length() + "  k " + std::to_string(pick(5)) + " }";
      out += " }\n";
      build += " fit p" + at + ": p" + at + " fit q" + at + ": q" + at + " fit k" + at + ": k" + at + "\n";
      build += " join seat { pin p" + at + ".f  base q" + at + ".f  layer k" + at + ".l0";
      for (int l = 1; l < 3; ++l) build += pick(4) == 0 ? "" : ", k" + at + ".l" + std::to_string(l);
      build += " }\n";
    }
    return out + build + "}\n";
  }

 private:
  unsigned pick(unsigned n) { return static_cast<unsigned>(random_() % n); }

  std::string length() {
    const int middle = static_cast<int>(pick(9)) - 2;
    switch (pick(5)) {
      case 0:
        return std::to_string(middle) + " mm";
      case 1:
        return std::to_string(middle) + ".1 mm";
      default:
        return std::to_string(middle) + ".0.." +
               std::to_string(middle + static_cast<int>(pick(3)) + (middle < 0 ? 2 : 0)) +
               (middle < -1 ? ".0 mm" : ".3 mm");
    }
  }
  std::string values() {
    std::string out = "p " + std::to_string(pick(5)) + ".5 mm; ";  // a column of points
    for (const char* name : {"u", "v"}) out += pick(6) == 0 ? "" : std::string(name) + " " + length() + "; ";
    if (pick(6) != 0) out += "w " + std::to_string(pick(4)) + ".." + std::to_string(4 + pick(3)) + "; ";
    if (counts_ > 3 || pick(6) != 0) out += "n " + std::to_string(pick(counts_)) + "; ";
    constexpr const char* colours[] = {"red", "green", "blue"};
    if (pick(5) != 0) out += std::string("c ") + colours[pick(3)] + "; ";
    if (pick(5) != 0) out += "d \"S" + std::to_string(pick(3)) + "x" + std::to_string(pick(2)) + ".50\"; ";
    return out;
  }

  std::string side() { return pick(2) == 0 ? "pin" : "base"; }
  std::string number(unsigned depth) {  // a length
    if (depth == 0) {
      switch (pick(8)) {
        case 4:
          return side() + ".p";
        case 0:
          return std::to_string(pick(6)) + ".3 mm";
        case 1:
          return "(sum of layer.t)";
        case 2:
          return pick(2) == 0 ? "(min of layer.t)" : "(max of layer.t)";
        case 3:
          return side() + ".d.b";
        default:
          return side() + (pick(2) == 0 ? ".u" : ".v");
      }
    }
    const std::string a = number(depth - 1), b = number(pick(depth));
    switch (pick(9)) {
      case 0:
      case 1:
        return "(" + a + " + " + b + ")";
      case 2:
      case 3:
        return "(" + a + " - " + b + ")";
      case 4:
        return "abs(" + a + ")";
      case 5:
        return std::string(pick(2) == 0 ? "min(" : "max(") + a + ", " + b + ")";
      case 6:
        return "(" + side() + ".w * " + a + ")";
      case 7:
        return "(" + a + " / (" + side() + ".w + " + std::to_string(pick(2)) + "))";
      default:
        return "sqrt(" + a + " * " + b + ")";
    }
  }
  std::string test() {
    switch (pick(12)) {
      case 0:
        return "pin.c = base.c";
      case 1:
        return "pin.d = base.d";
      case 2:
        return "pin.n = base.n";
      case 3:
        return side() + ".c = red";
      case 4:
        return number(1) + " <= " + number(1) + " and " + number(0) + " < " + number(1);
      case 5:
        return number(1) + " within 0.3 mm of " + number(1);
      default:
        return number(pick(3)) + (pick(3) == 0 ? " < " : " <= ") + number(pick(2));
    }
  }

  std::mt19937 random_;
  unsigned counts_;
};

}  // namespace

namespace {

/// Compares all findings; how many verdicts are open.
std::size_t compare(const std::string& text, bool details, std::size_t needs, std::size_t joints) {
  EvaluateOptions by_columns, by_machine;
  by_machine.columns = false;
  by_columns.details = by_machine.details = details;
  const JudgedText columns(text, by_columns), machine(text, by_machine);
  REQUIRE(columns.results.findings.size() == needs * joints);
  REQUIRE(machine.results.findings.size() == needs * joints);
  std::size_t open = 0;
  for (std::size_t i = 0; i < columns.results.findings.size(); ++i) {
    const Finding& one = columns.results.findings[i];
    const Outcome &a = one.cases[0].outcome, &b = machine.results.findings[i].cases[0].outcome;
    const std::string rule =
        "need " + std::string(columns.names.text(columns.project.model.requirements[one.requirement].name)) +
        ":";
    CAPTURE(text.substr(text.find(rule), text.find('\n', text.find(rule)) - text.find(rule)));
    CAPTURE(i / needs);
    CHECK(word(a.verdict) == word(b.verdict));
    if (b.verdict == Verdict::unknown) ++open;
    if (!details) continue;
    CHECK(a.reads == b.reads);
    CHECK(a.evidence == b.evidence);
    REQUIRE(a.margin.has_value() == b.margin.has_value());
    if (!a.margin) continue;
    CHECK(a.margin->lo() == doctest::Approx(b.margin->lo()));
    if (b.verdict != Verdict::fits) CHECK(a.margin->hi <= b.margin->hi + 1e-15);  // of abs(x) the sharper
  }
  return open;
}

}  // namespace

TEST_CASE("columns say what the machine says") {
  std::size_t open = 0;
  for (unsigned seed = 1; seed <= 4; ++seed) {
    const std::string text = JointsText(seed).text(40);
    for (const bool details : {false, true}) open += compare(text, details, 12, 40);
  }
  CHECK(open > 1000);
}

TEST_CASE("columns say the same of more joints than they take at once") {
  constexpr std::size_t joints = ColumnRun::block + 77;
  std::size_t open = 0;
  for (const unsigned seed : {7U, 9U, 10U, 11U})  // whose formulas the machine is soon done with
    open += compare(JointsText(seed).text(joints, 2), false, 2, joints);
  CHECK(open > 1000);
}

TEST_CASE("columns say the same of more whole numbers than have codes") {
  constexpr std::size_t joints = ColumnRun::block + 77;
  std::string text = JointsText(2, 3000).text(joints, 1);
  const std::size_t need = text.find("need r0: ");
  text.replace(need, text.find('\n', need) - need, "need r0: pin.n <= base.n * pin.w");
  CHECK(compare(text, false, 1, joints) > 100);
}

TEST_CASE("threads say what one of them says") {
  const std::string text = JointsText(5).text(40);
  EvaluateOptions alone, together;
  alone.columns = together.columns = false;
  alone.threads = 1;
  together.threads = 4;
  const JudgedText one(text, alone), four(text, together);
  REQUIRE(one.results.findings.size() == 12 * 40);
  REQUIRE(four.results.findings.size() == 12 * 40);
  for (std::size_t i = 0; i < one.results.findings.size(); ++i) {
    CAPTURE(i);
    const Outcome& a = one.results.findings[i].cases[0].outcome;
    const Outcome& b = four.results.findings[i].cases[0].outcome;
    CHECK(word(a.verdict) == word(b.verdict));
    CHECK(a.reads == b.reads);
    CHECK(a.evidence == b.evidence);
    REQUIRE(a.open_reason.has_value() == b.open_reason.has_value());
    if (a.open_reason) CHECK((*a.open_reason == *b.open_reason));
    CHECK(a.blames.size() == b.blames.size());
    REQUIRE(a.margin.has_value() == b.margin.has_value());
    if (!a.margin) continue;
    CHECK(a.margin->lo() == b.margin->lo());
    CHECK(a.margin->hi == b.margin->hi);
  }
}
