// One world that meets several requirements at once, or the proof that there is none.
#pragma once
#include <vector>

#include "evaluate/setting_list.hpp"
#include "solve/members.hpp"

namespace mm {

enum class Answer : std::uint8_t { possible, impossible, open };

class WorldSearch {
 public:
  explicit WorldSearch(const BuildIndex& index)
      : designations_(index.model), bench_(index, designations_), search_(bench_, 0) {}

  Bench& bench() { return bench_; }
  /// In the present state of the build; open where so many steps or pieces do not suffice.
  Answer look(const std::vector<const Member*>& members, std::int64_t steps);

 private:
  struct Axis {
    CellId cell;
    bool integer = false;
    SettingList settings;  // the only values that it may have; empty: its whole range
  };
  using Piece = std::vector<Interval>;

  void gather(const std::vector<const Member*>& members);
  void release();
  bool meet(const std::vector<const Member*>& members);
  bool keep_settings();
  Verdict judge_piece(const std::vector<const Member*>& members, const Piece& piece);
  bool cut(const Piece& piece, std::vector<Piece>& todo) const;

  RoundUp rounding_;
  Designations designations_;
  Bench bench_;
  Search search_;
  std::vector<Axis> axes_;
};

}  // namespace mm
