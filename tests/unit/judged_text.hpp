// Text to verdicts for the tests of evaluate and solve: the whole way, so that a test is a text and what it
// means.
#pragma once
#include <stdexcept>
#include <string>

#include "evaluate/evaluate.hpp"
#include "resolve/resolve.hpp"
#include "solve/conflict_set.hpp"
#include "syntax/load.hpp"

namespace mm_test {

struct JudgedText {
  explicit JudgedText(std::string text, const mm::EvaluateOptions& options = {},
                      mm::Helpers* helpers = nullptr) {
    mm::load_text("test.build", std::move(text), sources, names, tree, messages);
    if (!messages.has_errors()) project = mm::resolve(tree, sources, names, messages, {}, helpers);
    std::string said;
    for (const mm::Message& message : messages.sorted(20, nullptr)) said += mm::render(message, sources);
    if (messages.has_errors()) throw std::runtime_error(said);
    results = mm::evaluate(project, build(), names, options);
  }

  const mm::Build& build() const { return project.builds.back(); }

  /// The n-th finding of a requirement.
  const mm::Finding& finding(std::string_view name, std::size_t n = 0) const {
    for (const mm::Finding& finding : results.findings) {
      if (names.text(project.model.requirements[finding.requirement].name) == name && n-- == 0)
        return finding;
    }
    throw std::runtime_error("no finding " + std::string(name));
  }
  const mm::Outcome& outcome(std::string_view name) const { return finding(name).cases[0].outcome; }
  mm::Verdict verdict(std::string_view name) const { return outcome(name).verdict; }
  std::size_t count(std::string_view name) const {
    std::size_t n = 0;
    for (const mm::Finding& finding : results.findings) {
      if (names.text(project.model.requirements[finding.requirement].name) == name) ++n;
    }
    return n;
  }

  mm::Sources sources;
  mm::Names names;
  mm::Tree tree;
  mm::Messages messages;
  mm::Project project;
  mm::Results results;
};

/// One part p with the given attributes ("a: ratio = 1..2; ..." split as declarations and values), one
/// requirement.
inline mm::Outcome judge_expression(const std::string& attributes, const std::string& values,
                                    const std::string& test, const std::string& before = "") {
  const JudgedText judged(before + "\nkind thing {\n" + attributes +
                          "\n}\nrule r {\n for p: thing\n need x: " + test + "\n}\npart a is thing {\n" +
                          values + "\n}\nbuild b { fit a: a }\n");
  return judged.outcome("x");
}

inline mm::Verdict verdict_of(const std::string& attributes, const std::string& values,
                              const std::string& test, const std::string& before = "") {
  return judge_expression(attributes, values, test, before).verdict;
}

inline std::string word(mm::Verdict verdict) {
  switch (verdict) {
    case mm::Verdict::not_applicable:
      return "not_applicable";
    case mm::Verdict::fits:
      return "fits";
    case mm::Verdict::setting:
      return "setting";
    case mm::Verdict::choice:
      return "choice";
    case mm::Verdict::unknown:
      return "unknown";
    case mm::Verdict::conflict:
      return "conflict";
  }
  return "";
}

}  // namespace mm_test
