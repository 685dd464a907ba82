// A set of values of one number.
#pragma once
#include <optional>
#include <vector>

#include "base/rational.hpp"

namespace mm {

/// Where values of a set begin or end, in base units. open: `at` itself is not one of them.
struct Limit {
  Rational at;
  bool open = false;
  bool operator==(const Limit&) const = default;
};

/// Lies further up (else down) than another; of two at one value the one that is `open`, or is not, does.
inline bool outdoes(const Limit& limit, const Limit& other, bool up, bool open) {
  if (limit.at == other.at) return limit.open == open && other.open != open;
  return (limit.at > other.at) == up;
}
inline bool nothing_between(const Limit& from, const Limit& to) {
  return from.at > to.at || (from.at == to.at && (from.open || to.open));
}

/// From one limit to another; none: endless on that side.
struct Region {
  std::optional<Limit> from, to;
  bool operator==(const Region&) const = default;
};

/// Of two that are told one after the other.
bool begins_before(const Region& a, const Region& b);

/// Regions in ascending order, with something between each two of them that does not belong to the set.
class ValueSet {
 public:
  ValueSet() = default;
  /// Nothing where the region is empty.
  explicit ValueSet(const Region& region);
  static ValueSet all() { return ValueSet(Region{}); }

  const std::vector<Region>& regions() const { return regions_; }
  bool empty() const { return regions_.empty(); }
  ValueSet united(const ValueSet& other) const;
  ValueSet intersected(const ValueSet& other) const;
  /// The whole numbers of the set: ends are whole, and none is open.
  ValueSet whole() const;
  bool operator==(const ValueSet&) const = default;

 private:
  std::vector<Region> regions_;
};

/// Of a requirement along one value, whatever the others are: where it surely holds, and surely fails.
struct SureValues {
  ValueSet holds, fails;
};

}  // namespace mm
