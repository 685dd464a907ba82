// The whole way from a claim to its verdict: plain, exact, monotone, single worlds, and cutting the box.
#pragma once
#include <memory>

#include "evaluate/halves.hpp"
#include "evaluate/slack.hpp"
#include "evaluate/tighten.hpp"

namespace mm {

Verdict verdict_of(const Judged& judged);

/// Worlds that were met: points of the box, judged without doubt.
struct Worlds {
  bool passes = false, fails = false, undefined = false, rows_disagree = false;
  void add(const Judged& judged);
  bool mixed() const { return passes && fails; }
};

struct Decision {
  Verdict verdict = Verdict::unknown;
  bool undefined = false;
  bool split = false;            // plain arithmetic did not suffice
  bool precision_limit = false;  // open, and no pair of worlds found
  bool certified = false;        // unknown: a passing and a failing world were found
  bool tightened = false;        // worlds at corners told, so that comparisons stand as tightened by doubles
  bool rows_disagree = false;  // in one of them a table gives several values, and it hangs on which is meant

  /// Neither decided nor shown to be open by the worlds that were met.
  bool is_open(const Worlds& worlds) const {
    return verdict == Verdict::unknown && !worlds.mixed() && !worlds.undefined;
  }
};

/// A claim over the present box, to be asked about more than once.
struct Inspection {
  Verdict verdict = Verdict::unknown;  // of a glance
  std::vector<Leaf> leaves;
  Slacks slacks;  // of a requirement's test

  /// Some comparison that is open moves with it.
  bool matters(std::size_t variable) const;
  /// More comparisons than one, not all of which must hold: they may settle it together.
  bool hangs_together() const;
};

class Search {
 public:
  Search(Bench& bench, std::size_t max_splits) : bench_(&bench), tightener_(bench), max_splits_(max_splits) {}

  /// Verdict over the present box (never `setting`). `variables` are the claim's open cells.
  Decision decide(const Claim& claim, const Variables& variables);
  /// As `decide`, without worlds and cutting: unknown means not decided. For many small questions.
  Verdict glance(const Claim& claim, const Variables& variables);
  /// The same in a part of the box that was inspected: for many parts of one box. `wanted`: see Tightener.
  Judged glance_within(const Claim& claim, const Variables& variables, const Inspection& inspected,
                       bool closely = false, Bits wanted = anything);
  /// As `decide`, where the last glance was at this box and left the claim open.
  Decision decide_on(const Claim& claim, const Judged& glanced);
  /// Comparisons as the last glance left them.
  const std::vector<Leaf>& leaves() const { return tightener_.leaves(); }
  /// `tightened`: what was asked last was to decide on this claim over this box, and left it so.
  Inspection inspect(const Claim& claim, const Variables& variables, bool tightened);
  /// From the next `decide` on: keeps the first world of each sort that it meets.
  void keep_worlds() { keep_worlds_ = true; }
  const std::shared_ptr<Certificate>& certificate() const { return certificate_; }

 private:
  Decision decide_test(const Claim& claim, const Variables& variables);
  Decision decide_further(const Claim& claim, Judged judged, bool fast);
  Decision with_conditions(const Claim& claim, Decision decision);
  bool never_applies(const Claim& claim, const Variables& variables);
  void keep_world(const Judged& judged, RowChoice rows = any_row, CellId at_root = {});
  void try_corners(const Claim& claim, Worlds& worlds, bool by_middle);
  void try_samples(const Claim& claim, Worlds& worlds, bool random);
  void try_crossings(const Claim& claim, Worlds& worlds);
  void try_walks(const Claim& claim, Worlds& worlds);
  void try_roots(const Claim& claim, Worlds& worlds);
  void try_world(const Claim& claim, Worlds& worlds);
  void try_rows(const Claim& claim, Worlds& worlds);
  void judge_rows(const Claim& claim, Decision& decision);
  void decide_known(const Claim& claim, Decision& decision);
  void look_closer(const Claim& claim, Worlds& worlds, Decision& decision);
  void judge_written(const Claim& claim, Worlds& worlds, Decision& decision);
  void look_at(const Claim& claim, Worlds& worlds, Decision& decision);
  void take_again(const Claim& claim);
  Judged judge_closely();
  Judged judge_piece(const Claim& claim);
  void judge_anywhere(const Claim& claim, Decision& decision);
  void arrange(Decision& decision);
  void try_stretches(const Claim& claim, Worlds& worlds, Decision& decision);
  struct StretchSearch;
  Judged glance(Bits wanted = anything);
  bool judge_stretches(StretchSearch& search, std::size_t level);
  void keep_ranges();
  void put_back();
  void cut(const Claim& claim, Worlds& worlds, Decision& decision);

  struct Piece {
    std::vector<Interval> numbers;  // by variable
    std::vector<const SymbolicSet*> symbols;
    std::uint32_t depth = 0;
  };
  void enter(const Piece& piece);
  void enter_middle(const Piece& piece);
  std::size_t axis(const Piece& piece) const;
  bool halve(const Piece& piece, std::size_t variable, Piece& low, Piece& high);

  Bench* bench_;
  Tightener tightener_;
  const Variables* variables_ = nullptr;
  std::size_t max_splits_;
  bool keep_worlds_ = false;
  bool looks_up_ = false;  // the present claim does
  std::shared_ptr<Certificate> certificate_;
  std::vector<std::pair<ExactInterval, const SymbolicSet*>> kept_;
  SymbolHalves halves_;
};

}  // namespace mm
