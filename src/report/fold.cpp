#include "report/fold.hpp"

#include <cstdint>
#include <type_traits>
#include <unordered_map>

#include "report/phrases.hpp"

namespace mm {

namespace {

template <class Plain>
void add_bytes(std::string& to, Plain value) {
  static_assert(std::has_unique_object_representations_v<Plain> || std::is_same_v<Plain, double>);
  to.append(reinterpret_cast<const char*>(&value), sizeof value);
}

/// Equal bytes: nothing but the place tells them apart. Not for reading.
std::string signature(const Scene& scene, const Summary& summary) {
  const Finding& finding = scene.results.findings[summary.finding];
  std::string out = summary.text + '|' + subject_text(scene, finding, false) + '|';
  add_bytes(out, finding.requirement.index);
  add_bytes(out, finding.waiver);
  for (const Case& c : finding.cases) {
    add_bytes(out, c.outcome.verdict);
    add_bytes(out, c.outcome.margin.has_value());
    if (c.outcome.margin) {
      add_bytes(out, c.outcome.margin->neg_lo + 0.0);  // one zero, not two
      add_bytes(out, c.outcome.margin->hi + 0.0);
    }
    for (const CellId cell : c.outcome.reads) {
      const auto owner = home_of(scene, cell);
      if (!owner || owner->def->type.kind == TypeKind::place) continue;
      add_bytes(out, owner->part);
      add_bytes(out, reinterpret_cast<std::uintptr_t>(owner->def));
      out += as_written(scene, cell) + ',';
    }
    out += '|';
  }
  return out;
}

}  // namespace

std::vector<Entry> fold(const Scene& scene, const std::vector<const Summary*>& wanted) {
  std::vector<Entry> entries;
  const auto requirement = [&](const Summary* summary) {
    return scene.results.findings[summary->finding].requirement.index;
  };
  std::unordered_map<std::uint32_t, std::size_t> times;
  for (const Summary* summary : wanted) ++times[requirement(summary)];
  std::unordered_map<std::string, std::size_t> seen;
  for (const Summary* summary : wanted) {
    std::size_t entry = entries.size();
    if (times[requirement(summary)] > 1)  // else there is nothing that it could be equal to
      entry = seen.emplace(signature(scene, *summary), entry).first->second;
    if (entry == entries.size()) entries.push_back({summary, {}, {}});
    entries[entry].members.push_back(summary);
    const Symbol place = shared_place(scene, scene.results.findings[summary->finding]);
    if (place) entries[entry].places.push_back(place);
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
