#include "evaluate/value_set.hpp"

#include <algorithm>

namespace mm {

namespace {

bool is_empty(const Region& region) {
  return region.from && region.to && nothing_between(*region.from, *region.to);
}

/// Something lies between the end of one region and the beginning of the next.
bool are_apart(const Region& first, const Region& next) {
  if (!first.to || !next.from || next.from->at < first.to->at) return false;
  return next.from->at > first.to->at || (next.from->open && first.to->open);
}

Limit to_whole(const Limit& limit, bool from) {
  Rational whole = from ? ceil(limit.at) : floor(limit.at);
  if (limit.open && whole == limit.at) whole += from ? 1 : -1;
  return Limit{std::move(whole)};
}

}  // namespace

bool begins_before(const Region& a, const Region& b) {
  if (!a.from || !b.from) return !a.from && b.from;
  return outdoes(*b.from, *a.from, true, true);
}

ValueSet::ValueSet(const Region& region) {
  if (!is_empty(region)) regions_.push_back(region);
}

ValueSet ValueSet::united(const ValueSet& other) const {
  std::vector<Region> all = regions_;
  all.insert(all.end(), other.regions_.begin(), other.regions_.end());
  std::stable_sort(all.begin(), all.end(), begins_before);
  ValueSet out;
  for (const Region& region : all) {
    if (out.empty() || are_apart(out.regions_.back(), region)) {
      out.regions_.push_back(region);
      continue;
    }
    std::optional<Limit>& to = out.regions_.back().to;
    if (to && (!region.to || outdoes(*region.to, *to, true, false))) to = region.to;
  }
  return out;
}

ValueSet ValueSet::intersected(const ValueSet& other) const {
  ValueSet out;
  for (const Region& a : regions_) {
    for (const Region& b : other.regions_) {
      Region both = a;
      if (b.from && (!both.from || outdoes(*b.from, *both.from, true, true))) both.from = b.from;
      if (b.to && (!both.to || outdoes(*b.to, *both.to, false, true))) both.to = b.to;
      if (!is_empty(both)) out.regions_.push_back(both);
    }
  }
  return out;
}

ValueSet ValueSet::whole() const {
  ValueSet out;
  for (Region region : regions_) {
    if (region.from) region.from = to_whole(*region.from, true);
    if (region.to) region.to = to_whole(*region.to, false);
    if (!is_empty(region)) out.regions_.push_back(std::move(region));
  }
  return out;
}

}  // namespace mm
