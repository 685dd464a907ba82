// A claim written out over the box as it stands: a quantifier over parts as what it asks of each of them, one
// over a range of numbers as what it asks at the ends, where those speak for the whole; a comparison of an
// `if`, or of the greater of two, as an `if`, `and` or `or` of comparisons. The answer is the same in every
// world of the box, and what the comparisons have to do with each other is plain.
#pragma once
#include <deque>

#include "evaluate/claim.hpp"

namespace mm {

class Unfolded {
 public:
  /// freely: a quantifier over a range whose ends do not speak for it is written out at any one number of it.
  /// What then holds whatever that number is, or fails, does so in the claim too; nothing else is told.
  /// fully: one is asked at single numbers beside; and in a sum or count, what may be meant is written as an
  /// `if`. Says the same, in more comparisons. briefly: without either.
  enum class Extent : std::uint8_t { freely, fully, briefly };
  Unfolded(Bench& bench, const Claim& claim, Extent extent = Extent::briefly);
  ~Unfolded();
  Unfolded(const Unfolded&) = delete;
  Unfolded& operator=(const Unfolded&) = delete;

  /// False: nothing was there to write out, or more than there is room for.
  bool differs() const { return differs_; }
  /// Some quantifier was written out freely.
  bool is_free() const;
  /// It was written fully, and not all of that would have been written briefly.
  bool says_more() const { return differs_ && says_more_; }
  /// Good in every part of the box, while this and the claim it was made of stay.
  const Claim& claim() const { return claim_; }

 private:
  Bench* bench_;
  Claim claim_;
  Binding binding_;  // that of the claim, then the parts that quantifiers were written out for
  std::deque<Program> programs_;
  std::vector<Claim::Part> parts_;
  bool differs_ = false, says_more_ = false;
};

}  // namespace mm
