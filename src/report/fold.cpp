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
  std::string out = std::string(summary.text()) + '|' + subject_text(scene, finding, false) + '|';
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

/// Of each of these: can it be that it is said more than once, and the place that it is at.
struct Wanted {
  bool again = false;  // most are not, and are not put in words to be compared
  Symbol place;
};

std::vector<Wanted> look_through(const Scene& scene, const std::vector<const Summary*>& wanted) {
  std::vector<Wanted> out(wanted.size());
  std::vector<std::pair<std::uint64_t, std::uint32_t>> hashes;  // equal where the statements are
  hashes.reserve(wanted.size());
  SubjectHash subject(scene, false);
  // in the order of the findings, which lie side by side: a walk from one to another would be slow
  std::vector<std::pair<std::uint32_t, std::uint32_t>> order;
  order.reserve(wanted.size());
  for (std::uint32_t i = 0; i < wanted.size(); ++i) order.emplace_back(wanted[i]->finding, i);
  if (!std::is_sorted(order.begin(), order.end())) std::sort(order.begin(), order.end());
  for (const auto& [at, i] : order) {
    const Finding& finding = scene.results.findings[at];
    out[i].place = finding.binding->place;
    const std::uint64_t about = mixed(subject.of(finding), finding.requirement.index);
    hashes.emplace_back(mixed(about, mixed(hash_of(wanted[i]->text()), finding.waiver)), i);
  }
  // side by side: a table of this many would be a walk through all of the memory
  std::sort(hashes.begin(), hashes.end());
  for (std::size_t i = 1; i < hashes.size(); ++i)
    if (hashes[i].first == hashes[i - 1].first)
      out[hashes[i].second].again = out[hashes[i - 1].second].again = true;
  return out;
}

struct Alike {  // findings of one statement
  std::size_t count = 0;
  std::unordered_map<std::string, std::size_t> entries;  // by their values
};

}  // namespace

std::vector<Entry> fold(const Scene& scene, const std::vector<const Summary*>& wanted) {
  const std::vector<Wanted> found = look_through(scene, wanted);
  std::unordered_map<std::string, Alike> alike;
  std::vector<Alike*> of(wanted.size(), nullptr);  // null: nothing that it could be equal to
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    if (!found[i].again) continue;
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
    if (found[i].place) entries[entry].places.push_back(found[i].place);
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
