// Headline words from hand-made verdicts: reworks, candidates, weights, waivers, and the exit status.
#include <doctest/doctest.h>

#include "report/no_choice.hpp"

using namespace mm;

namespace {

/// A build with one requirement a weight, `slots` fits of three candidates and planned reworks O1, O1b, O2.
struct World {
  Names names;
  Sources sources;
  Tree tree;
  Project project;
  Build build;
  Results results;

  World() {
    for (const Weight weight : {Weight::need, Weight::should, Weight::caution, Weight::also}) {
      RequirementDef requirement;
      requirement.name = names.intern("clearance");
      requirement.weight = weight;
      project.model.requirements.add(requirement);
    }
    for (const char* name : {"steel", "alloy", "wire", "short", "long", "tandem"}) {
      BuildPart part;
      part.name = names.intern(name);
      build.parts.push_back(part);
    }
    for (const char* name : {"wheel", "master"}) {
      Fit fit;
      fit.name = names.intern(name);
      const auto first = static_cast<std::uint32_t>(3 * build.fits.size());  // no part is in two slots
      fit.candidates = {first, first + 1, first + 2};
      fit.is_slot = true;
      build.fits.push_back(fit);
    }
    for (const char* name : {"O1", "O1b", "O2"}) {
      Rework rework;
      rework.name = names.intern(name);
      build.reworks.push_back(rework);
    }
  }

  Scene scene(std::string today = {}) {
    return {project, build, results, tree, sources, names, std::move(today)};
  }

  Finding& add(Weight weight = Weight::need) {
    Finding finding;
    finding.requirement = RequirementId{static_cast<std::uint32_t>(weight)};
    results.findings.push_back(finding);
    return results.findings.back();
  }

  /// Verdicts by mask over `reworks`, for one candidate of slot 0 (or none).
  static void cases(Finding& finding, std::vector<std::uint32_t> reworks, const std::vector<Verdict>& by_mask,
                    std::optional<std::uint32_t> candidate = {}) {
    finding.reworks = reworks;
    if (candidate) finding.slots = {0};
    for (std::size_t mask = 0; mask < by_mask.size(); ++mask) {
      Case c;
      if (candidate) c.choices = {{0, *candidate}};
      for (std::size_t i = 0; i < reworks.size(); ++i)
        if ((mask >> i & 1U) != 0) c.reworks.push_back(reworks[i]);
      c.outcome.verdict = by_mask[mask];
      finding.cases.push_back(c);
    }
  }

  Summary one(const std::vector<Verdict>& by_mask, std::vector<std::uint32_t> reworks = {},
              Weight weight = Weight::need) {
    cases(add(weight), std::move(reworks), by_mask);
    return summarize(scene(), results.findings.size() - 1);
  }

  int status() { return exit_status(scene(), conclude(scene())); }
};

constexpr auto fits = Verdict::fits, conflict = Verdict::conflict, unknown = Verdict::unknown,
               setting = Verdict::setting, none = Verdict::not_applicable;

}  // namespace

TEST_CASE("one case: its verdict, worded by the requirement's weight") {
  World w;
  CHECK(w.one({fits}).text() == "fits");
  CHECK(w.one({conflict}).text() == "conflict");
  CHECK(w.one({unknown}).text() == "unknown");
  CHECK(w.one({setting}).text() == "depends on the setting");
  CHECK(w.one({none}).word == Word::not_applicable);
  CHECK(w.one({conflict}, {}, Weight::should).text() == "conflict (should)");
  CHECK(w.one({conflict}, {}, Weight::caution).word == Word::caution);
  CHECK(w.one({conflict}, {}, Weight::also).text() == "needs also");
  CHECK(w.one({unknown}, {}, Weight::also).word == Word::unknown);
}

TEST_CASE("a fit says so when it rests on weak evidence") {
  World w;
  const auto graded = [&](Grade grade, bool read_any) {
    World::cases(w.add(), {}, {fits});
    w.results.findings.back().cases[0].outcome.evidence = grade;
    w.results.findings.back().cases[0].outcome.read_any = read_any;
    return std::string(summarize(w.scene(), w.results.findings.size() - 1).text());
  };
  CHECK(graded(Grade::measured, true) == "fits");
  CHECK(graded(Grade::published, true) == "fits");
  CHECK(graded(Grade::claimed, true) == "fits, on a claim");
  CHECK(graded(Grade::hearsay, true) == "fits, on hearsay");
  CHECK(graded(Grade::unstated, true) == "fits, on values with no evidence stated");
  CHECK(graded(Grade::hearsay, false) == "fits");  // constants alone
  CHECK(count_words(summarize_all(w.scene()), w.results).weak_fits == 3);
}

TEST_CASE("planned reworks are told, and never make a plain fit") {
  World w;
  CHECK(w.one({conflict, fits}, {0}).text() == "fits after O1");
  CHECK(w.one({conflict, fits}, {0}).word == Word::pending);
  CHECK(w.one({fits, conflict}, {0}).text() == "conflict after O1");
  CHECK(w.one({fits, conflict}, {0}).word == Word::breaks);
  CHECK(w.one({unknown, fits}, {2}).text() == "unknown now; fits after O2");
  CHECK(w.one({conflict, unknown}, {0}).text() == "conflict now; unknown after O1");
  CHECK(w.one({conflict, conflict}, {0}).text() == "conflict");
  CHECK(w.one({fits, fits}, {0}).word == Word::fits);
  CHECK(w.one({none, fits}, {0}).text() == "does not apply now; fits after O1");
  CHECK(w.one({none, fits}, {0}).word == Word::not_applicable);
  CHECK(w.one({fits, conflict}, {0}, Weight::caution).word == Word::caution);
}

TEST_CASE("two reworks: the half-way state is told") {
  World w;
  // masks: none, O1, O1b, both
  CHECK(w.one({fits, conflict, conflict, fits}, {0, 1}).text() ==
        "fits now; conflict after O1 or after O1b alone; fits after O1 and O1b");
  CHECK(w.one({fits, conflict, conflict, fits}, {0, 1}).word == Word::pending);
  CHECK(w.one({conflict, conflict, conflict, fits}, {0, 1}).text() == "fits after O1 and O1b");
  CHECK(w.one({conflict, fits, conflict, fits}, {0, 1}).text() ==
        "fits after O1, but still a conflict after O1b alone");
  CHECK(w.one({conflict, fits, conflict, conflict}, {0, 1}).text() == "conflict; fits after O1 alone");
}

TEST_CASE("candidates: one word where they agree, else the choice") {
  World w;
  w.build.fits[0].candidates = {0, 1};
  const auto pair = [&](Verdict a, Verdict b, Weight weight = Weight::need) {
    Finding& finding = w.add(weight);
    World::cases(finding, {}, {a}, 0);
    World::cases(finding, {}, {b}, 1);
    return summarize(w.scene(), w.results.findings.size() - 1);
  };
  CHECK(pair(conflict, fits).text() == "depends on the choice");
  CHECK(pair(conflict, conflict).text() == "conflict");
  CHECK(pair(fits, fits).word == Word::fits);
  CHECK(pair(none, fits).word == Word::fits);
  CHECK(pair(none, none).word == Word::not_applicable);
  CHECK(pair(fits, unknown).word == Word::choice);
  CHECK(pair(fits, conflict, Weight::caution).word == Word::caution);
  CHECK(pair(conflict, fits).options.size() == 2);
  CHECK(pair(conflict, fits).options[0].word == Word::conflict);
  w.build.fits[0].candidates = {0, 1, 2};  // of the third nothing is known
  CHECK(pair(conflict, conflict).word == Word::unknown);
  CHECK(pair(fits, fits).word == Word::unknown);
  CHECK(pair(fits, fits).partly);
}

TEST_CASE("a waiver hides nothing and may expire") {
  World w;
  Waiver waiver;
  waiver.until = "2026-06-01";
  w.build.waivers.push_back(waiver);
  World::cases(w.add(), {}, {conflict});
  w.results.findings[0].waiver = 0;
  CHECK(summarize(w.scene(), 0).waived);
  CHECK(summarize(w.scene(), 0).word == Word::conflict);
  CHECK(summarize(w.scene("2026-06-01"), 0).waived);
  CHECK(summarize(w.scene("2026-06-02"), 0).waiver_expired);
  CHECK_FALSE(summarize(w.scene("2026-06-02"), 0).waived);
  CHECK(w.status() == 0);
  CHECK(exit_status(w.scene("2026-06-02"), conclude(w.scene("2026-06-02"))) == 1);
}

TEST_CASE("exit status: fits and cautions 0, open or nothing judged 2, conflict 1") {
  World w;
  CHECK(w.status() == 2);
  w.one({none});
  CHECK(w.status() == 2);
  w.one({fits});
  CHECK(w.status() == 0);
  w.one({conflict}, {}, Weight::caution);
  CHECK(w.status() == 0);
  w.one({conflict}, {}, Weight::also);
  CHECK(w.status() == 2);
  w.one({conflict}, {}, Weight::should);
  CHECK(w.status() == 1);
}

TEST_CASE("exit status: a search that was cut off proves no conflict") {
  World w;
  w.one({fits});
  Conclusion conclusion = conclude(w.scene());
  conclusion.avoidable = false;
  CHECK(exit_status(w.scene(), conclusion) == 1);
  conclusion.searched_all = false;
  CHECK(exit_status(w.scene(), conclusion) == 2);
  w.one({conflict});
  conclusion.summaries = summarize_all(w.scene());  // this one is a conflict whatever is chosen
  CHECK(exit_status(w.scene(), conclusion) == 1);
}

TEST_CASE("exit status: what the graph shows") {
  World w;
  w.one({fits});
  const auto with = [&](GraphFinding::What what) {
    w.results.graph.clear();
    GraphFinding finding;
    finding.what = what;
    w.results.graph.push_back(finding);
    return w.status();
  };
  CHECK(with(GraphFinding::What::quantity_short) == 1);
  CHECK(with(GraphFinding::What::hand_short) == 1);
  CHECK(with(GraphFinding::What::quantity_unstated) == 2);
  CHECK(with(GraphFinding::What::open_face) == 2);
  CHECK(with(GraphFinding::What::left_over_part) == 0);
}

TEST_CASE("exit status: a conflict counts when no choice and no planned work avoids it") {
  World w;
  Finding& first = w.add();
  World::cases(first, {}, {conflict}, 0);
  World::cases(first, {}, {fits}, 1);
  World::cases(first, {}, {fits}, 2);
  CHECK(w.status() == 2);  // alloy or wire will do
  Finding& second = w.add();
  World::cases(second, {}, {fits}, 0);
  World::cases(second, {}, {conflict}, 1);
  World::cases(second, {}, {fits}, 2);
  CHECK(w.status() == 2);  // wire
  Finding& third = w.add();
  World::cases(third, {}, {fits}, 0);
  World::cases(third, {}, {fits}, 1);
  World::cases(third, {}, {conflict}, 2);
  CHECK(w.status() == 1);  // each candidate falls on another requirement
}

TEST_CASE("exit status: reworks that one requirement wants and another forbids") {
  World w;
  w.one({conflict, fits}, {0});
  CHECK(w.status() == 2);
  w.one({fits, conflict}, {0});
  CHECK(w.status() == 1);
}

TEST_CASE("every conflict of a set is a conflict") {
  World w;
  w.one({unknown});
  CHECK(w.status() == 2);
  w.results.conflict_sets.push_back({{{0, 0}}, {}});
  CHECK(w.status() == 1);
}
