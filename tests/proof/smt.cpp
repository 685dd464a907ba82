#include "smt.hpp"

#include <set>

#include "smt_translator.hpp"

namespace mm_proof {

using namespace smt;

int write_smt(const Scene& scene, std::uint64_t number, int most, int timeout_ms, std::string& out) {
  Engine engine;
  if (!engine.judge(scene, text_of(scene), 4000, false)) return 0;
  int written = 0;
  std::set<std::string> seen;
  for (const Engine::Found& found : engine.found) {
    for (const mm::Case& state : found.finding->cases) {
      if (written == most) return written;
      World world(scene, 1);
      engine.enter(state, world);
      Translator translator(scene, world);
      translator.bind(found);
      Claim applies{"true", "false"};
      if (found.rule != nullptr && found.rule->where != nullptr)
        applies = translator.truth(*found.rule->where);
      if (found.requirement->when != nullptr) {
        const Claim when = translator.truth(*found.requirement->when);
        applies = {all(applies.yes, when.yes), any(applies.no, when.no)};
      }
      const Claim test = translator.truth(*found.requirement->test);
      const Claim holds{any(applies.no, test.yes), all(applies.yes, test.no)};
      if (holds.yes.size() > 20'000) continue;
      const std::string body = translator.cells() + holds.yes + holds.no;
      if (!seen.insert(body).second) continue;
      const mm::Outcome& outcome = state.outcome;
      const std::string id = std::to_string(number) + "." + std::to_string(written);
      out += ";@ " + id + " " + word_of(outcome.verdict) + (outcome.certified ? " certified" : " -") +
             (outcome.precision_limit ? " precision" : " -") + " " + found.requirement->name + ": " +
             expression_text(scene, *found.requirement->test);
      if (found.requirement->when != nullptr)
        out += " when " + expression_text(scene, *found.requirement->when);
      out += "\n";
      const auto ask = [&](const char* name, const std::string& claim) {
        out += "(reset)\n(set-option :timeout " + std::to_string(timeout_ms) + ")\n" + translator.cells() +
               "(assert " + claim + ")\n(echo \"@ " + id + " " + name + "\")\n(check-sat)\n";
      };
      ask("not_yes", denied(holds.yes));
      ask("not_no", denied(holds.no));
      ask("applies", denied(applies.no));
      ++written;
    }
  }
  return written;
}

}  // namespace mm_proof
