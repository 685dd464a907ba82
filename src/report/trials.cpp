#include "report/trials.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "report/json_parts.hpp"
#include "report/page.hpp"

namespace mm {

namespace {

WrittenAt written_at(const Scene& scene, Span span) {
  if (!span.file) return {};
  return {printable(scene.sources[span.file].path), scene.sources.place(span)};
}

std::string_view expected_word(Expectation::Word word) {
  switch (word) {
    case Expectation::Word::fits:
      return "fits";
    case Expectation::Word::conflict:
      return "conflict";
    case Expectation::Word::unknown:
      return "unknown";
    case Expectation::Word::setting:
      return "setting";
    case Expectation::Word::choice:
      return "choice";
    case Expectation::Word::also:
      return "needs_also";
    case Expectation::Word::caution:
      return "caution";
    case Expectation::Word::not_applicable:
      return "not_applicable";
    case Expectation::Word::pending:
      return "pending";
    case Expectation::Word::that:
      return "fits";
  }
  return "";
}

/// As an expectation speaks of it: planned work aside, the state as it is now.
Word word_now(const Summary& summary) {
  return summary.options.empty() || summary.partly || summary.word == Word::choice ? summary.word
                                                                                   : summary.options[0].today;
}

/// Of a finding of the requirement that the expectation names: it is on the subject.
bool is_on_subject(const Scene& scene, const Finding& finding, const Expectation& expectation) {
  if (!expectation.fit_name && !expectation.place) return true;
  const std::uint32_t joint = finding.binding->joint;
  if (joint != no_reg && scene.build.joints[joint].label == expectation.fit_name) return true;
  for (const EntityId entity : bound_entities(finding)) {
    const Instance& instance = scene.build.instances[scene.build.entities[entity].instance];
    if (instance.fit_name == expectation.fit_name &&
        (!expectation.place || instance.place == expectation.place))
      return true;
  }
  return false;
}

/// Findings by what an expectation names of them.
class FindingsByName {
 public:
  explicit FindingsByName(const Scene& scene) {
    for (std::size_t i = 0; i < scene.results.findings.size(); ++i) {
      const Finding& finding = scene.results.findings[i];
      const Symbol name = scene.requirement(finding).name;
      of_requirement_[finding.requirement].push_back(i);
      of_name_[name].push_back(i);
      const auto on = [&](Symbol subject) {
        auto& list = on_subject_[{name, subject}];
        if (list.empty() || list.back() != i) list.push_back(i);
      };
      const std::uint32_t joint = finding.binding->joint;
      if (joint != no_reg && scene.build.joints[joint].label) on(scene.build.joints[joint].label);
      for (const EntityId entity : bound_entities(finding))
        on(scene.build.instances[scene.build.entities[entity].instance].fit_name);
    }
  }

  /// All that may be meant, ascending.
  const std::vector<std::size_t>& of(const Expectation& expectation) const {
    if (expectation.word == Expectation::Word::that) return found(of_requirement_, expectation.that);
    if (!expectation.fit_name) return found(of_name_, expectation.requirement);
    return found(on_subject_, std::pair(expectation.requirement, expectation.fit_name));
  }
  bool judged(Symbol requirement) const { return of_name_.contains(requirement); }

 private:
  template <class Map, class Key>
  static const std::vector<std::size_t>& found(const Map& map, const Key& key) {
    static const std::vector<std::size_t> nothing;
    const auto at = map.find(key);
    return at == map.end() ? nothing : at->second;
  }

  std::map<RequirementId, std::vector<std::size_t>> of_requirement_;
  std::map<Symbol, std::vector<std::size_t>> of_name_;
  std::map<std::pair<Symbol, Symbol>, std::vector<std::size_t>> on_subject_;
};

/// The verdicts found, each with where: "fits", or "fits (wheel + hub), conflict (wheel + shaft)".
std::string told(const std::map<std::string, std::vector<std::string>>& found) {
  if (found.size() == 1) return found.begin()->first;
  std::vector<std::string> items;
  for (const auto& [word, subjects] : found) items.push_back(word + " (" + subjects[0] + ")");
  return listed(items) + "; say which with \"on\"";
}

/// quantity, hand, open and left_over are judged without any rule file.
bool graph_meant(const Scene& scene, const GraphFinding& graph, const Expectation& expectation) {
  static const std::map<GraphFinding::What, std::string_view> names = {
      {GraphFinding::What::quantity_short, "quantity"},
      {GraphFinding::What::quantity_unstated, "quantity"},
      {GraphFinding::What::hand_short, "hand"},
      {GraphFinding::What::open_face, "open"}};
  const auto found = names.find(graph.what);
  return expectation.requirement && found != names.end() &&
         scene.names.text(expectation.requirement) == found->second;
}

/// "body.slot is not given": what keeps a verdict open; "" where no value is known to.
std::string kept_open_by(const Scene& scene, const Finding& finding) {
  const Blame* first = nullptr;
  for (const Case& c : finding.cases)
    for (const Blame& blame : c.outcome.blames)
      if (c.outcome.verdict == Verdict::unknown && (first == nullptr || (blame.missing && !first->missing)))
        first = &blame;
  if (first == nullptr) return {};
  const AttributeDef& def = schema_of(scene.model(), scene.build, first->entity).attributes[first->attribute];
  return attribute_name(scene, {first->entity, first->attribute, &def, 0}, true) +
         (first->missing ? " is not given" : " is not known well enough");
}

ExpectationResult judge_expectation(const Scene& scene, const FindingsByName& by_name,
                                    const Expectation& expectation) {
  ExpectationResult out;
  out.place = written_at(scene, expectation.span);
  const bool is_that = expectation.word == Expectation::Word::that;
  out.expected = std::string(expected_word(expectation.word)) +
                 (expectation.requirement ? " " + scene.text(expectation.requirement) : std::string());
  if (is_that) out.expected = "that this holds";
  out.is_that = is_that;
  std::string open;  // why it is unknown, where something is
  std::map<std::string, std::vector<std::string>> found;
  for (const std::size_t i : by_name.of(expectation)) {
    const Finding& finding = scene.results.findings[i];
    if (!is_on_subject(scene, finding, expectation)) continue;
    const Summary summary = summarize(scene, i);
    std::string where_it_is = subject_text(scene, finding);
    if (const Symbol place = finding.binding->place) where_it_is += " at " + scene.text(place);
    const bool after_work = expectation.word == Expectation::Word::pending;
    const Word word = after_work ? summary.word : word_now(summary);
    if (word == Word::unknown && open.empty()) open = kept_open_by(scene, finding);
    found[std::string(word_name(word))].push_back(where_it_is);
  }
  for (const GraphFinding& graph : scene.results.graph)
    if (graph_meant(scene, graph, expectation))
      found[std::string(word_name(graph_word(graph)))].push_back("the build");
  if (found.size() > 1) found.erase("not_applicable");
  if (found.empty()) {
    const bool elsewhere = expectation.fit_name && by_name.judged(expectation.requirement);
    const std::string place = expectation.place ? "." + scene.text(expectation.place) : std::string();
    out.got = elsewhere
                  ? "nothing on " + scene.text(expectation.fit_name) + place + ": it was judged elsewhere"
                  : "nothing was judged by that name";
    return out;
  }
  out.holds = found.size() == 1 && found.begin()->first == expected_word(expectation.word);
  out.got = told(found);
  if (is_that)
    out.got = found.begin()->first == "conflict" ? "it does not"
              : out.holds                        ? "it does"
                                                 : "it is not certain that it does";
  if (found.size() == 1 && !open.empty()) out.got += ": " + open;
  return out;
}

struct Count {
  std::size_t expectations = 0, failed = 0;
};

Count count(const std::vector<TrialResult>& results) {
  Count out;
  for (const TrialResult& result : results) {
    out.expectations += result.expectations.size();
    out.failed += result.failed();
  }
  return out;
}

}  // namespace

std::size_t TrialResult::failed() const {
  return static_cast<std::size_t>(
      std::count_if(expectations.begin(), expectations.end(), [](const auto& e) { return !e.holds; }));
}

TrialResult judge_trial(const Scene& scene) {
  TrialResult out;
  out.title = printable(scene.build.title);
  if (scene.build.decl != nullptr) out.place = written_at(scene, scene.build.decl->span);
  const FindingsByName by_name(scene);
  for (const Expectation& expectation : scene.build.expectations)
    out.expectations.push_back(judge_expectation(scene, by_name, expectation));
  return out;
}

std::string trial_page(const std::vector<TrialResult>& results, std::size_t without, bool colour) {
  Page page(colour);
  for (const TrialResult& result : results)
    for (const ExpectationResult& e : result.expectations)
      if (!e.holds)
        page.text("fails: " + e.place.file + ":" + std::to_string(e.place.place.line) + ": \"" +
                      result.title + "\": expected " + e.expected + (e.is_that ? ", but " : ", got ") + e.got,
                  0, 4, Tone::bad, 5);
  const Count n = count(results);
  const auto silent = static_cast<std::size_t>(std::count_if(
      results.begin(), results.end(), [](const TrialResult& r) { return r.expectations.empty(); }));
  std::string line = counted(results.size(), "trial") + ", " + counted(n.expectations, "expectation") + ": " +
                     (n.expectations == 0 ? std::string("nothing was looked at")
                      : n.failed == 0     ? std::string(n.expectations == 1 ? "it holds" : "all hold")
                                          : std::to_string(n.failed) + (n.failed == 1 ? " fails" : " fail"));
  std::vector<std::string> lacks;
  if (without != 0)
    lacks.push_back(counted(without, "file") + (without == 1 ? " holds" : " hold") + " no trial");
  if (silent != 0 && n.expectations != 0)
    lacks.push_back(counted(silent, "trial") + (silent == 1 ? " has" : " have") + " no expect");
  if (!lacks.empty()) line += ", but " + listed(lacks) + ": that is wrong use";
  page.text(line + ".");
  return page.str();
}

std::string trial_json(const std::vector<TrialResult>& results, int exit_status) {
  const auto place = [](const WrittenAt& at) -> Json {
    if (at.file.empty()) return nullptr;
    return {{"file", at.file}, {"line", at.place.line}, {"column", at.place.column}};
  };
  Json out = report_head("trial");
  const Count n = count(results);
  out["exit_status"] = exit_status;
  out["expectations"] = n.expectations;
  out["failed"] = n.failed;
  out["trials"] = Json::array();
  for (const TrialResult& result : results) {
    Json trial = {{"title", result.title}, {"place", place(result.place)}, {"expectations", Json::array()}};
    for (const ExpectationResult& e : result.expectations)
      trial["expectations"].push_back(
          {{"place", place(e.place)}, {"expected", e.expected}, {"got", e.got}, {"holds", e.holds}});
    out["trials"].push_back(std::move(trial));
  }
  return dump(out);
}

}  // namespace mm
