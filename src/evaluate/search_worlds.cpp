// Single worlds of the box: where a claim passes and where it fails shows that it is open.
#include "evaluate/crossings.hpp"
#include "evaluate/search.hpp"
#include "evaluate/walks.hpp"

namespace mm {

void Worlds::add(const Judged& judged) {
  if (judged.holds == surely_yes) passes = true;
  if (judged.holds == surely_no) fails = true;
  if (judged.holds == may_undef) undefined = true;
}

void Search::try_world(const Claim& claim, Worlds& worlds) {
  Judged judged = judge(bench_->fast, *bench_, claim);
  if (!is_single(judged.holds)) judged = judge(bench_->sharp, *bench_, claim);
  worlds.add(judged);
  if (keep_worlds_) keep_world(judged);
  if (looks_up_ && judged.holds == undecided) try_rows(claim, worlds);
}

/// The box is one world, as far as the claim reads it.
void Search::keep_world(const Judged& judged, RowChoice rows, CellId at_root) {
  if (!is_single(judged.holds)) return;
  std::vector<WorldValue>& world = judged.holds == surely_yes  ? certificate_->passes
                                   : judged.holds == surely_no ? certificate_->fails
                                                               : certificate_->undefined;
  if (!world.empty()) return;
  if (judged.holds == surely_yes) certificate_->passing_rows = rows;
  if (judged.holds == surely_no) certificate_->failing_rows = rows;
  for (std::size_t i = 0; i < variables_->size(); ++i) {
    const Variable& variable = (*variables_)[i];
    const CellOwner owner = bench_->index.owner(variable.cell);
    WorldValue value{variable.cell, owner.entity, owner.attribute, 0, no_reg};
    if (variable.number) {
      const ExactInterval range = bench_->box.exact(variable.cell);
      value.number = value_at(range, variable.integer, variable.cell == at_root ? Spot::low : Spot::middle);
      if (variable.cell == at_root) value.up_to = range.hi_value;
    } else {
      const SymbolicSet* set = bench_->box.symbols(variable.cell);
      if (set == nullptr || set->members.empty()) continue;
      value.symbol = set->members[0];
    }
    world.push_back(std::move(value));
  }
}

/// Each open comparison at its worst and its best corner, other variables in their middle. `by_middle`: where
/// a direction is not certain over the box, the one that the axis through its middle shows.
void Search::try_corners(const Claim& claim, Worlds& worlds, bool by_middle) {
  const auto& leaves = tightener_.leaves();
  const auto is_certain = [](const Leaf& leaf) {
    return is_single(leaf.bits) ||
           std::find(leaf.moves.begin(), leaf.moves.end(), may_move) == leaf.moves.end();
  };
  if (by_middle && std::all_of(leaves.begin(), leaves.end(), is_certain)) return;  // these worlds were tried
  const auto middles = by_middle ? tightener_.middle_moves() : std::vector<std::vector<Direction>>{};
  for (std::size_t i = 0; i < leaves.size(); ++i) {
    if (is_single(leaves[i].bits) || leaves[i].has_pieces) continue;
    for (const bool least : {true, false}) {
      for (std::size_t v = 0; v < variables_->size(); ++v) {
        const Direction move =
            by_middle && leaves[i].moves[v] == may_move ? middles[i][v] : leaves[i].moves[v];
        const Spot spot = move != may_rise && move != may_fall ? Spot::middle
                          : (move == may_rise) == least        ? Spot::low
                                                               : Spot::high;
        variables_->place(*bench_, v, spot);
      }
      try_world(claim, worlds);
      put_back();
      if (worlds.mixed()) return;
    }
  }
}

void Search::try_samples(const Claim& claim, Worlds& worlds, bool random) {
  for (const Spot spot : {Spot::middle, Spot::low, Spot::high}) {
    for (std::size_t v = 0; v < variables_->size(); ++v) variables_->place(*bench_, v, spot);
    try_world(claim, worlds);
    put_back();
    if (worlds.mixed()) return;
  }
  if (!random) return;
  for (std::size_t i = 0; i < variables_->size(); ++i) {
    if ((*variables_)[i].number) continue;
    for (const std::uint32_t member : (*variables_)[i].members) {
      if (worlds.mixed() || bench_->spent()) return;
      for (std::size_t v = 0; v < variables_->size(); ++v) variables_->place(*bench_, v, Spot::middle);
      bench_->box.narrow_symbols((*variables_)[i].cell, variables_->single(member));
      try_world(claim, worlds);
      put_back();
    }
  }
  std::uint64_t state = 0x9e3779b97f4a7c15ULL;
  for (int sample = 0; sample < 48 && !worlds.mixed() && !bench_->spent(); ++sample) {
    for (std::size_t v = 0; v < variables_->size(); ++v) {
      const std::uint64_t draw = next_random(state) % 8;
      if (draw < 2) {
        variables_->place(*bench_, v, draw == 0 ? Spot::low : Spot::high);
      } else {
        variables_->place_random(*bench_, v, state);
      }
    }
    try_world(claim, worlds);
    put_back();
  }
}

/// Where comparisons turn over, of what many worlds do not decide.
void Search::try_crossings(const Claim& claim, Worlds& worlds) {
  Crossings(*bench_, claim, *variables_).each([&] {
    try_world(claim, worlds);
    return !worlds.mixed() && !worlds.undefined;
  });
  put_back();
}

/// Towards the kinds of worlds that were not met; what holds at one number alone is looked for where a walk
/// ends.
void Search::try_walks(const Claim& claim, Worlds& worlds) {
  Walks walks(*bench_, claim, *variables_);
  Crossings crossings(*bench_, claim, *variables_);
  for (const bool passes : {true, false}) {
    bool& met = passes ? worlds.passes : worlds.fails;
    if (met || worlds.undefined) continue;
    const auto at_world = [&] {
      try_world(claim, worlds);
      return !met && !worlds.undefined;
    };
    walks.each(passes, at_world, [&] { return crossings.each_from_here(at_world); });
    put_back();
  }
}

/// Where comparisons turn over at a number that is no fraction.
void Search::try_roots(const Claim& claim, Worlds& worlds) {
  Crossings(*bench_, claim, *variables_).each_root([&](CellId at_root, const Answers& answers) {
    bench_->suppose(&answers);
    Judged judged = judge(bench_->sharp, *bench_, claim);
    if (!is_single(judged.holds)) {
      tightener_.take(claim, *variables_);
      judged = judge_closely();
    }
    bench_->suppose(nullptr);
    if (judged.holds != surely_yes && judged.holds != surely_no) return true;
    worlds.add(judged);
    if (keep_worlds_) keep_world(judged, any_row, at_root);
    return !worlds.mixed();
  });
  put_back();
}

}  // namespace mm
