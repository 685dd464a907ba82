// The phrases that margins and answers are told in.
#include <doctest/doctest.h>

#include "report/phrases.hpp"
#include "report/regions.hpp"

using namespace mm;

namespace {

Unit mm_unit() { return *UnitTable().find("mm"); }

Rational mm_of(const char* amount) { return Rational(*read_number(amount) / 1000); }

struct World {
  Names names;
  Sources sources;
  Tree tree;
  Project project;
  Build build;
  Results results;
  RequirementDef requirement;

  World() {
    requirement.margin_unit = mm_unit();
    requirement.measure.dimension = mm_unit().dimension;
  }
  std::string margin(Verdict verdict, double lo_mm, double hi_mm) {
    const Scene scene{project, build, results, tree, sources, names, {}};
    Outcome outcome;
    outcome.verdict = verdict;
    outcome.margin = Interval::of(lo_mm / 1000, hi_mm / 1000);
    return margin_text(scene, requirement, outcome);
  }
};

}  // namespace

TEST_CASE("margins: by how much it misses or what is to spare") {
  World w;
  CHECK(w.margin(Verdict::conflict, -6.2, -6.2) == "misses by 6.2 mm");
  CHECK(w.margin(Verdict::conflict, -8, -6) == "misses by at least 6 mm");
  CHECK(w.margin(Verdict::fits, 3, 3) == "3 mm to spare");
  CHECK(w.margin(Verdict::fits, 1, 4) == "at least 1 mm to spare");
  CHECK(w.margin(Verdict::fits, 0, 0) == "nothing to spare");
  CHECK(w.margin(Verdict::unknown, -1.2, 3.2) == "between 1.2 mm short and 3.2 mm to spare");
  CHECK(w.margin(Verdict::not_applicable, 1, 1).empty());
}

TEST_CASE("a small miss is never shown as none, and is rounded to the careful side") {
  World w;
  CHECK(w.margin(Verdict::conflict, -0.01, -0.01) == "misses by 0.01 mm");
  CHECK(w.margin(Verdict::conflict, -1e-6, -1e-6) == "misses by 1e-6 mm");
  CHECK(w.margin(Verdict::conflict, -3, -1.0 / 3) == "misses by at least 0.3333 mm");
  CHECK(w.margin(Verdict::fits, 2.0 / 3, 5) == "at least 0.6666 mm to spare");
}

TEST_CASE("an endless margin is not told in numbers") {
  World w;
  const double endless = std::numeric_limits<double>::infinity();
  CHECK(w.margin(Verdict::unknown, -endless, endless).empty());
  CHECK(w.margin(Verdict::conflict, -endless, -1) == "misses by at least 1 mm");
}

std::string text_of(const ValueSet& fits, const ValueSet& fails, const Unit& unit = mm_unit(),
                    TypeKind kind = TypeKind::quantity) {
  Blame blame;
  blame.fits = fits;
  blame.fails = fails;
  return answers_text(blame, unit, std::nullopt, kind);
}

ValueSet from(const Limit& limit) { return ValueSet({limit, std::nullopt}); }
ValueSet up_to(const Limit& limit) { return ValueSet({std::nullopt, limit}); }
ValueSet between(const Limit& low, const Limit& high) { return ValueSet({low, high}); }
Limit at(const char* number, bool open = false) { return {mm_of(number), open}; }

TEST_CASE("what answer means what") {
  CHECK(text_of({}, {}).empty());
  CHECK(text_of(from(at("41.2")), {}) == "41.2 mm or more fits");
  CHECK(text_of(from(at("41.2")), up_to(at("40.8"))) == "41.2 mm or more fits, 40.8 mm or less does not");
  CHECK(text_of(from(at("41.2")), up_to(at("40.8", true))) ==
        "41.2 mm or more fits, less than 40.8 mm does not");
  CHECK(text_of(from(at("41.2")), up_to(at("41.2", true))) == "41.2 mm or more fits, less does not");
  const ValueSet window = between(at("41.2"), at("50"));
  CHECK(text_of(window, up_to(at("41.2", true)).united(from(at("50", true)))) ==
        "41.2 mm to 50 mm fits, outside that it does not");
  CHECK(text_of(window, up_to(at("40")).united(from(at("52", true)))) ==
        "41.2 mm to 50 mm fits, 40 mm or less, or more than 52 mm, does not");
  // a third is rounded so that the text never promises more than is sure
  const Rational third(1, 3000);
  CHECK(text_of(from({third}), {}) == "0.3334 mm or more fits");
  CHECK(text_of(up_to({third}), {}) == "0.3333 mm or less fits");
  CHECK(text_of(up_to({third}), from({third, true})) == "0.3333 mm or less fits, 0.3334 mm or more does not");
}

TEST_CASE("what answer means what, in several pieces") {
  const ValueSet outside = up_to(at("5")).united(from(at("9")));
  CHECK(text_of(outside, between(at("5", true), at("9", true))) ==
        "5 mm or less, or 9 mm or more, fits, nothing else does");
  CHECK(text_of(outside, between(at("6"), at("8"))) ==
        "5 mm or less, or 9 mm or more, fits, 6 mm to 8 mm does not");
  CHECK(text_of(outside.united(between(at("6"), at("7"))), {}) ==
        "5 mm or less, 6 mm to 7 mm, or 9 mm or more, fits");
  CHECK(text_of({}, outside) == "5 mm or less, or 9 mm or more, does not fit");
  ValueSet many;
  for (long i = 0; i < 9; ++i) many = many.united(between({Rational(i * 2)}, {Rational(i * 2 + 1)}));
  CHECK(many.regions().size() == 9);
  CHECK(text_of(many, {}).empty());
}

TEST_CASE("where the limit itself does not fit") {
  CHECK(text_of(up_to(at("15", true)), {}) == "less than 15 mm fits");
  CHECK(text_of(up_to(at("15", true)), from(at("15"))) == "less than 15 mm fits, 15 mm or more does not");
  CHECK(text_of(between(at("10"), at("15", true)), up_to(at("10", true)).united(from(at("15")))) ==
        "10 mm to less than 15 mm fits, outside that it does not");
  const SettingWindow open{CellId{}, {mm_of("10"), true}, {mm_of("12")}};
  CHECK(window_text(open, mm_unit()) == "more than 10 mm to 12 mm");
  CHECK_FALSE(open.empty());
  CHECK_FALSE(open.holds(mm_of("10")));
  CHECK(open.holds(mm_of("12")));
  CHECK(SettingWindow{CellId{}, {mm_of("10"), true}, {mm_of("10")}}.empty());
}

TEST_CASE("of a date the answers are days, of a count whole numbers") {
  const auto date = [](const ValueSet& fits, const ValueSet& fails) {
    return text_of(fits, fails, Unit{}, TypeKind::date);
  };
  const ValueSet early = up_to({20489});  // days from 1970-01-01 to 2026-02-05
  CHECK(date(early, {}) == "2026-02-05 or earlier fits");
  CHECK(date(early, from({20490})) == "2026-02-05 or earlier fits, later does not");
  CHECK(date(early, from({Rational(40983, 2)})) ==
        "2026-02-05 or earlier fits, 2026-02-08 or later does not");
  // a day and a half: the next whole day surely fits
  CHECK(date(from({Rational(41, 2)}), {}) == "1970-01-22 or later fits");
  const auto count = [](const ValueSet& fits, const ValueSet& fails) {
    return text_of(fits, fails, Unit{}, TypeKind::count);
  };
  CHECK(count(from({4}), up_to({3})) == "4 or more fits, less does not");
  CHECK(count(from({4}), up_to({2})) == "4 or more fits, 2 or less does not");
}

TEST_CASE("sentences") {
  CHECK(sentence("the pin works and breaks") == "The pin works and breaks.");
  CHECK(sentence("Is it so?") == "Is it so?");
  CHECK(sentence("").empty());
}
