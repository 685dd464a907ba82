#include "report/no_choice.hpp"

namespace mm {

Conclusion not_searched(const Scene& scene) {
  Conclusion out{summarize_all(scene)};
  for (const Summary& summary : out.summaries)
    if (!summary.waived) out.with_word[static_cast<std::size_t>(summary.word)].push_back(&summary);
  return out;
}

}  // namespace mm
