#include "report/fold.hpp"

#include <algorithm>
#include <cstdint>
#include <type_traits>
#include <unordered_map>

#include "base/hash.hpp"
#include "report/phrases.hpp"

namespace mm {

namespace {

template <class Plain>
void add_bytes(std::string& to, Plain value) {
  static_assert(std::has_unique_object_representations_v<Plain> || std::is_same_v<Plain, double>);
  to.append(reinterpret_cast<const char*>(&value), sizeof value);
}

/// What it is about and what is said of it: equal bytes, equal so far. Neither this nor `values` is for
/// reading.
std::string statement(const Scene& scene, const Summary& summary) {
  const Finding& finding = scene.results.findings[summary.finding];
  std::string out = summary.text + '|' + subject_text(scene, finding, false) + '|';
  add_bytes(out, finding.requirement.index);
  add_bytes(out, finding.waiver);
  return out;
}

/// Where these are equal too, nothing but the place tells two findings apart.
std::string values(const Scene& scene, const Summary& summary) {
  std::string out;
  for (const Case& c : scene.results.findings[summary.finding].cases) {
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

/// Equal where the statements are.
std::uint64_t statement_hash(const Scene& scene, const Summary& summary) {
  const Finding& finding = scene.results.findings[summary.finding];
  const std::uint64_t about = mixed(subject_hash(scene, finding, false), finding.requirement.index);
  return mixed(about, mixed(hash_of(summary.text), finding.waiver));
}

/// Which of these are possibly said more than once: most are not, and are not put in words to be compared.
std::vector<bool> said_again(const Scene& scene, const std::vector<const Summary*>& wanted) {
  std::vector<bool> again(wanted.size(), false);
  std::vector<std::pair<std::uint64_t, std::uint32_t>> hashes;
  hashes.reserve(wanted.size());
  for (std::uint32_t i = 0; i < wanted.size(); ++i) hashes.emplace_back(statement_hash(scene, *wanted[i]), i);
  // side by side: a table of this many would be a walk through all of the memory
  std::sort(hashes.begin(), hashes.end());
  for (std::size_t i = 1; i < hashes.size(); ++i)
    if (hashes[i].first == hashes[i - 1].first) again[hashes[i].second] = again[hashes[i - 1].second] = true;
  return again;
}

struct Alike {  // findings of one statement
  std::size_t count = 0;
  std::unordered_map<std::string, std::size_t> entries;  // by their values
};

}  // namespace

std::vector<Entry> fold(const Scene& scene, const std::vector<const Summary*>& wanted) {
  const std::vector<bool> again = said_again(scene, wanted);
  std::unordered_map<std::string, Alike> alike;
  std::vector<Alike*> of(wanted.size(), nullptr);  // null: nothing that it could be equal to
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    if (!again[i]) continue;
    of[i] = &alike[statement(scene, *wanted[i])];
    ++of[i]->count;
  }
  std::vector<Entry> entries;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    std::size_t entry = entries.size();
    if (of[i] != nullptr && of[i]->count > 1)
      entry = of[i]->entries.emplace(values(scene, *wanted[i]), entry).first->second;
    if (entry == entries.size()) entries.push_back({wanted[i], {}, {}});
    entries[entry].members.push_back(wanted[i]);
    const Symbol place = scene.results.findings[wanted[i]->finding].binding->place;
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
