// Reports of builds with many slots, planned reworks and waivers: what each says does not depend on how many
// others there are.
#include <doctest/doctest.h>

#include "judged_text.hpp"
#include "report/check_page.hpp"
#include "report/planned.hpp"

using namespace mm;
using mm_test::JudgedText;

namespace {

constexpr const char* len_rule =
    "kind thing { len: length }\nrule r { for p: thing\n need len_limit: p.len <= 5 mm }\n";

Scene scene_of(const JudgedText& judged) {
  return {judged.project, judged.build(), judged.results, judged.tree, judged.sources, judged.names, ""};
}

std::string page_of(const Scene& scene, const Conclusion& conclusion, bool all) {
  PageOptions options;
  options.all = all;
  return check_page(scene, conclusion, options);
}

/// Fits f0, f1, ... of two candidates: one is too long, and the other too wide where `no_way(i)`.
template <class NoWay>
std::string many_slots(int count, NoWay no_way) {
  std::string text =
      "kind thing { len: length  wid: length }\n"
      "rule r { for p: thing\n need len_limit: p.len <= 5 mm\n need wid_limit: p.wid <= 5 mm }\n";
  std::string build = "build many {\n";
  for (int i = 0; i < count; ++i) {
    const std::string n = std::to_string(i);
    text += "part a" + n + " is thing { len 6 mm; wid 2 mm }\n";
    text += "part b" + n + " is thing { len 3 mm; wid " + (no_way(i) ? "6 mm }\n" : "2 mm }\n");
    build += " fit f" + n + ": one of a" + n + ", b" + n + "\n";
  }
  return text + build + "}\n";
}

}  // namespace

TEST_CASE("each slot without a way out is a conflict of its own, however many there are") {
  const JudgedText judged(many_slots(60, [](int i) { return i % 2 == 1; }));
  const Scene scene = scene_of(judged);
  const Conclusion conclusion = conclude(scene);
  CHECK_FALSE(conclusion.avoidable);
  CHECK(conclusion.searched_all);
  REQUIRE(conclusion.no_choices.size() == 30);
  for (std::uint32_t i = 0; i < 30; ++i) {
    const NoChoice& set = conclusion.no_choices[i];
    CHECK(set.slots == std::vector<std::uint32_t>{2 * i + 1});
    CHECK(set.findings.size() == 2);
    CHECK(no_choice_text(scene, set) ==
          "f" + std::to_string(2 * i + 1) + ": whichever is chosen, one of len_limit and wid_limit fails");
  }
  const std::string page = page_of(scene, conclusion, false);
  CHECK(page.find("30 conflicts whatever is chosen") != std::string::npos);
  CHECK(page.find("f39: whichever is chosen") != std::string::npos);
  CHECK(page.find("f41: whichever is chosen,") == std::string::npos);
  CHECK(page.find("and 10 more conflicts whatever is chosen (--all names them)") != std::string::npos);
  const std::string all = page_of(scene, conclusion, true);
  CHECK(all.find("f59: whichever is chosen,") != std::string::npos);
  CHECK(all.find("more conflicts whatever") == std::string::npos);
}

TEST_CASE("with a way out for each of many slots there is one for all") {
  const JudgedText judged(many_slots(60, [](int) { return false; }));
  const Conclusion conclusion = conclude(scene_of(judged));
  CHECK(conclusion.avoidable);
  CHECK(conclusion.no_choices.empty());
}

TEST_CASE("each of many planned reworks has the effects that are its own") {
  std::string text = len_rule;
  std::string build = "build many {\n";
  for (int i = 0; i < 40; ++i) {
    const std::string n = std::to_string(i);
    text += "part a" + n + " is thing { len 6 mm }\n";
    build += " fit f" + n + ": a" + n + "\n rework cut" + n + " \"shorten it\" on f" + n + " { len " +
             (i % 4 == 0 ? "7" : "4") + " mm }\n";
  }
  const JudgedText judged(text + build + "}\n");
  const Scene scene = scene_of(judged);
  const Summaries summaries = summarize_all(scene);
  const auto work = planned_work(scene, summaries);
  REQUIRE(work.size() == 40);
  for (std::uint32_t i = 0; i < 40; ++i) {
    CHECK(work[i].rework == i);
    REQUIRE(work[i].effects.size() == (i % 4 == 0 ? 0 : 1));
    if (!work[i].effects.empty()) CHECK(work[i].effects[0].entry.first->finding == i);
  }
}

TEST_CASE("of many waivers each stands over what it names, the one that lasts longest first") {
  std::string text = len_rule;
  std::string build = "build many {\n place left, right\n";
  for (int i = 0; i < 30; ++i) {
    const std::string n = std::to_string(i);
    text += "part a" + n + " is thing { len 6 mm; quantity 2 }\n";
    build += " fit f" + n + ": a" + n + " at left, right\n";
    if (i % 3 == 0) build += " waive len_limit on f" + n + ".left because \"short\" until 2026-05-01\n";
    if (i % 6 == 0) build += " waive len_limit on f" + n + " because \"longer\" until 2026-07-01\n";
  }
  const JudgedText judged(text + build + "}\n");
  REQUIRE(judged.results.findings.size() == 60);
  for (const Finding& finding : judged.results.findings) {
    const Instance& instance =
        judged.build().instances[judged.build().entities[finding.binding->locals[0]].instance];
    const bool left = judged.names.text(instance.place) == "left";
    const std::string because =
        finding.waiver == no_reg ? "" : judged.build().waivers[finding.waiver].because;
    CHECK(because == (instance.fit % 6 == 0 ? "longer" : instance.fit % 3 == 0 && left ? "short" : ""));
  }
}
