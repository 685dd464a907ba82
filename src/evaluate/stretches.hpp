// One open value cut where comparisons of it alone change: points and open stretches, in each of which every
// such comparison has one answer, also at the ends, which a box cannot leave out. `x > 5 or x * x <= 25` is
// plain in each of them.
#pragma once
#include "evaluate/algebra.hpp"
#include "evaluate/variables.hpp"

namespace mm {

/// A comparison, or a question whether a table has a number, that hangs on one value alone. The number is
/// what is looked up, or the upper side less the lower.
struct Question {
  const Op* op = nullptr;
  Rational factor, constant;             // of the number: factor * value + constant
  std::vector<const NumberConst*> rows;  // of a table
};

/// The questions about one value, and where their answers change.
struct Stretches {
  std::size_t variable = 0;
  std::vector<Question> questions;
  std::vector<Rational> stops;  // ascending

  std::size_t count() const { return 2 * stops.size() + 1; }
  /// What of the value's range lies in a stretch: below the first stop, at it, above it, and so on. Its ends
  /// belong to it only where it is a point; empty where nothing does.
  ExactInterval range(std::size_t stretch, const ExactInterval& whole, bool integer) const;
  /// The answer to each question in a stretch.
  Answers answers(std::size_t stretch) const;
};

/// Of all questions outside of quantifiers that are open over the box as it stands, and of counts that may be
/// few whole numbers; the values asked about most come first.
std::vector<Stretches> find_stretches(Bench& bench, const Claim& claim, const Variables& variables);

}  // namespace mm
