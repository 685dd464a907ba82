// The open cells that a claim reads: the axes of its box, and points on them.
#pragma once
#include <deque>
#include <vector>

#include "evaluate/claim.hpp"

namespace mm {

struct Variable {
  CellId cell;
  bool number = true;
  bool integer = false;
  bool adjustable = false;
  std::vector<std::uint32_t> members;  // symbols that tell apart everything the claim can ask
  bool complete = true;                // false: `members` are examples only (a missing designation)
  std::vector<std::uint32_t> asked;    // of examples: those that the claim itself names or reads
};

/// Stands for every word that no text names.
constexpr std::uint32_t first_fresh_symbol = 0xf0000000U;
constexpr bool is_fresh(std::uint32_t symbol) { return symbol >= first_fresh_symbol; }

/// Where in a variable's range: an end, or the middle.
enum class Spot : std::uint8_t { low, high, middle };

class Variables {
 public:
  /// The open cells that `judge` needs now, by cells in order of first use.
  void collect(Bench& bench, const Claim& claim, ReadLog& reads);

  std::size_t size() const { return list_.size(); }
  const Variable& operator[](std::size_t i) const { return list_[i]; }
  bool has_adjustable() const;

  /// Narrow the bench's box to one value of a variable.
  void place(Bench& bench, std::size_t variable, Spot spot) const;
  void place_random(Bench& bench, std::size_t variable, std::uint64_t& state) const;
  /// One-member set of a symbol.
  const SymbolicSet* single(std::uint32_t member) const;

 private:
  void collect_members(const Bench& bench, const Claim& claim);

  std::vector<Variable> list_;
  mutable std::deque<SymbolicSet> singles_;
};

/// Puts the variables' ranges back as they were when it goes.
class KeptRanges {
 public:
  KeptRanges(Bench& bench, const Variables& variables);
  ~KeptRanges() { restore(); }
  KeptRanges(const KeptRanges&) = delete;
  KeptRanges& operator=(const KeptRanges&) = delete;
  void restore();

 private:
  struct Kept {
    CellId cell;
    bool free, number;
    ExactInterval range;
    const SymbolicSet* symbols;
  };
  Bench* bench_;
  std::vector<Kept> kept_;
};

/// An exact value of the range near the spot; finite also where the range is not.
Rational value_at(const ExactInterval& range, bool integer, Spot spot);
Rational random_value(const ExactInterval& range, bool integer, std::uint64_t& state);
/// A fixed generator, so that the same input gives the same samples on any machine.
std::uint64_t next_random(std::uint64_t& state);

}  // namespace mm
