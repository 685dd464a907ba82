#include "report/fold.hpp"

#include <fmt/format.h>

#include <map>

#include "report/phrases.hpp"

namespace mm {

namespace {

/// Equal text: nothing but the place tells them apart.
std::string signature(const Scene& scene, const CellOwners& owners, const Summary& summary) {
  const Finding& finding = scene.results.findings[summary.finding];
  std::string out = fmt::format("{}|{}|{}|{}|", finding.requirement.index, summary.text, finding.waiver,
                                subject_text(scene, finding, false));
  for (const Case& c : finding.cases) {
    out += fmt::format("{};", static_cast<int>(c.outcome.verdict));
    if (c.outcome.margin) out += fmt::format("{},{};", c.outcome.margin->neg_lo, c.outcome.margin->hi);
    for (const CellId cell : c.outcome.reads) {
      const CellOwner* owner = owners.of(cell);
      if (owner == nullptr || owner->def->type.kind == TypeKind::place) continue;
      out += fmt::format("{} {} {},", owner->part, static_cast<const void*>(owner->def),
                         as_written(scene, cell));
    }
    out += '|';
  }
  return out;
}

}  // namespace

std::vector<Entry> fold(const Scene& scene, const CellOwners& owners,
                        const std::vector<const Summary*>& wanted) {
  std::vector<Entry> entries;
  std::map<std::string, std::size_t> seen;
  for (const Summary* summary : wanted) {
    const Symbol place = shared_place(scene, scene.results.findings[summary->finding]);
    const auto [at, added] = seen.emplace(signature(scene, owners, *summary), entries.size());
    if (added) entries.push_back({summary, {}, {}});
    entries[at->second].members.push_back(summary);
    if (place) entries[at->second].places.push_back(place);
  }
  return entries;
}

std::string entry_head(const Scene& scene, const Entry& entry, bool faces, std::size_t most) {
  const Finding& finding = scene.results.findings[entry.first->finding];
  std::string out = scene.text(scene.requirement(finding).name);
  const std::string subject = subject_text(scene, finding, faces, most);
  if (!subject.empty()) out += ": " + subject;
  return out + places_text(scene, entry.places);
}

}  // namespace mm
