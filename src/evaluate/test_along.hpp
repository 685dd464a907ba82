// A requirement along one of its values, however its comparisons are joined: `a <= 5 or a >= 9`, what an `if`
// chooses, what `every` asks of each part, and the conditions on which it is asked at all.
#pragma once
#include <deque>

#include "evaluate/limits.hpp"
#include "evaluate/unfold.hpp"

namespace mm {

/// Of one part of a claim: its `where`, its `when` or its test.
class PartAlong {
 public:
  /// Over the present box, which is to stay the same.
  PartAlong(Bench& bench, const Claim::Part& part, const Binding& binding, const Variables& variables);

  /// That are not decided over the box.
  std::size_t comparisons() const { return slacks_.list().size(); }
  SureValues along(std::size_t variable);

 private:
  void collect(const Block& block, std::size_t registers);
  SureValues compared(Reg truth, std::size_t variable);
  SureValues joined(const Op& op) const;

  Bench& bench_;
  const Variables& variables_;
  Slacks slacks_;
  std::vector<Op> ops_;           // that the result is joined of, in order
  std::vector<Bits> bits_;        // by register: over the box
  std::vector<SureValues> sure_;  // by register: along the present value
  Reg result_ = no_reg;
};

class TestAlong {
 public:
  TestAlong(Bench& bench, const Claim& claim, const Variables& variables);
  TestAlong(const TestAlong&) = delete;
  TestAlong& operator=(const TestAlong&) = delete;

  /// False: there are more comparisons than are looked at.
  bool is_known() const { return known_; }
  /// Where it surely passes, also because it is not asked there, and where it surely fails.
  SureValues along(std::size_t variable);

 private:
  Unfolded unfolded_;
  std::deque<PartAlong> parts_;  // as of the claim: the test last
  bool known_ = true;
};

}  // namespace mm
