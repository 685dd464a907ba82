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
    requirement.margin_dimension = mm_unit().dimension;
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

TEST_CASE("what answer means what") {
  Blame blame;
  CHECK(answers_text(blame, mm_unit()).empty());
  blame.fits_from = Limit{mm_of("41.2")};
  CHECK(answers_text(blame, mm_unit()) == "41.2 mm or more fits");
  blame.fails_to = Limit{mm_of("40.8")};
  CHECK(answers_text(blame, mm_unit()) == "41.2 mm or more fits, 40.8 mm or less does not");
  blame.fails_to = Limit{mm_of("40.8"), true};
  CHECK(answers_text(blame, mm_unit()) == "41.2 mm or more fits, less than 40.8 mm does not");
  blame.fails_to = Limit{mm_of("41.2"), true};
  CHECK(answers_text(blame, mm_unit()) == "41.2 mm or more fits, less does not");
  blame.fits_to = Limit{mm_of("50")};
  blame.fails_from = Limit{mm_of("50"), true};
  CHECK(answers_text(blame, mm_unit()) == "41.2 mm to 50 mm fits, outside that it does not");
  blame.fails_to = Limit{mm_of("40")};
  blame.fails_from = Limit{mm_of("52"), true};
  CHECK(answers_text(blame, mm_unit()) ==
        "41.2 mm to 50 mm fits, 40 mm or less, or more than 52 mm, does not");
  // a third is rounded so that the text never promises more than is sure
  Blame third;
  third.fits_from = Limit{Rational(1, 3000)};
  CHECK(answers_text(third, mm_unit()) == "0.3334 mm or more fits");
  third.fits_from.reset();
  third.fits_to = Limit{Rational(1, 3000)};
  CHECK(answers_text(third, mm_unit()) == "0.3333 mm or less fits");
  third.fails_from = Limit{Rational(1, 3000), true};
  CHECK(answers_text(third, mm_unit()) == "0.3333 mm or less fits, 0.3334 mm or more does not");
}

TEST_CASE("where the limit itself does not fit") {
  Blame blame;
  blame.fits_to = Limit{mm_of("15"), true};
  CHECK(answers_text(blame, mm_unit()) == "less than 15 mm fits");
  blame.fails_from = Limit{mm_of("15")};
  CHECK(answers_text(blame, mm_unit()) == "less than 15 mm fits, 15 mm or more does not");
  blame.fits_from = Limit{mm_of("10")};
  blame.fails_to = Limit{mm_of("10"), true};
  CHECK(answers_text(blame, mm_unit()) == "10 mm to less than 15 mm fits, outside that it does not");
  const SettingWindow open{CellId{}, {mm_of("10"), true}, {mm_of("12")}};
  CHECK(window_text(open, mm_unit()) == "more than 10 mm to 12 mm");
  CHECK_FALSE(open.empty());
  CHECK_FALSE(open.holds(mm_of("10")));
  CHECK(open.holds(mm_of("12")));
  CHECK(SettingWindow{CellId{}, {mm_of("10"), true}, {mm_of("10")}}.empty());
}

TEST_CASE("of a date the answers are days, of a count whole numbers") {
  Blame blame;
  const auto text = [&] { return answers_text(blame, Unit{}, std::nullopt, TypeKind::date); };
  blame.fits_to = Limit{20489};  // days from 1970-01-01 to 2026-02-05
  CHECK(text() == "2026-02-05 or earlier fits");
  blame.fails_from = Limit{20490};
  CHECK(text() == "2026-02-05 or earlier fits, later does not");
  blame.fails_from = Limit{Rational(40983, 2)};
  CHECK(text() == "2026-02-05 or earlier fits, 2026-02-08 or later does not");
  Blame half;  // a day and a half: the next whole day surely fits
  half.fits_from = Limit{Rational(41, 2)};
  CHECK(answers_text(half, Unit{}, std::nullopt, TypeKind::date) == "1970-01-22 or later fits");
  Blame count;
  count.fits_from = Limit{4};
  count.fails_to = Limit{3};
  CHECK(answers_text(count, Unit{}, std::nullopt, TypeKind::count) == "4 or more fits, less does not");
  count.fails_to = Limit{2};
  CHECK(answers_text(count, Unit{}, std::nullopt, TypeKind::count) == "4 or more fits, 2 or less does not");
}

TEST_CASE("sentences") {
  CHECK(sentence("the pin works and breaks") == "The pin works and breaks.");
  CHECK(sentence("Is it so?") == "Is it so?");
  CHECK(sentence("").empty());
}
