// Cutting the box in pieces until each is decided: the last resort, bounded by max_splits.
//
// Breadth first, so that a spot where the truth only touches its limit (which no cutting decides) does not
// keep the search from the rest of the box. The axis is the one with the greatest influence on an open
// comparison, at every other cut among those in which it is not monotone: of a monotone one the corners say
// all, unless several comparisons pull it both ways. Symbols go first, since a symbol's members seldom have
// anything in common. Ranges without end are cut at growing powers, so that a far bound is found as well as a
// near one.
#include <algorithm>
#include <cmath>
#include <tuple>

#include "evaluate/search.hpp"

namespace mm {

namespace {

constexpr std::uint32_t max_depth = 200;
constexpr std::size_t pieces_of_ranges = 24;  // of a continuous quantifier, in one piece of the box
constexpr std::size_t exact_pieces = 64;      // the first pieces get exact corners

double cut_point(const Interval& range) {
  const double lo = range.lo(), hi = range.hi;
  if (lo < 0 && hi > 0 && !(std::isfinite(lo) && std::isfinite(hi))) return 0;
  if (lo >= 0 && !std::isfinite(hi)) return std::max(1.0, lo * 16);
  if (hi <= 0 && !std::isfinite(lo)) return std::min(-1.0, hi * 16);
  if (lo > 0 && hi / lo > 4096) return std::sqrt(lo) * std::sqrt(hi);
  if (hi < 0 && lo / hi > 4096) return -std::sqrt(-lo) * std::sqrt(-hi);
  return midpoint(range);
}

}  // namespace

void Search::enter(const Piece& piece) {
  for (std::size_t i = 0; i < variables_->size(); ++i) {
    const Variable& variable = (*variables_)[i];
    if (variable.number) {
      bench_->box.narrow_exact(variable.cell,
                               intersect(ExactInterval::from(piece.numbers[i]), kept_[i].first));
    } else {
      bench_->box.narrow_symbols(variable.cell, piece.symbols[i]);
    }
  }
}

std::size_t Search::axis(const Piece& piece) const {
  std::size_t best = variables_->size();
  double best_score = 0;
  bool best_bends = false;
  for (std::size_t i = 0; i < variables_->size(); ++i) {
    const Variable& variable = (*variables_)[i];
    if (!variable.number) {
      if (variable.complete && (piece.symbols[i]->all || piece.symbols[i]->members.size() > 1)) return i;
      continue;
    }
    const Interval& range = piece.numbers[i];
    if (range.is_point() || range.is_empty()) continue;
    double score = 0;
    bool bends = false;
    for (const Leaf& leaf : tightener_.leaves()) {
      if (is_single(leaf.bits) || leaf.has_pieces) continue;
      score = std::max(score, leaf.influence[i]);
      bends = bends || leaf.moves[i] == may_move;
    }
    if (!std::isfinite(score)) score = promise_of(range);
    bends = bends && piece.depth % 2 == 0;
    if (score > 0 && (bends != best_bends ? bends : score > best_score)) {
      best_score = score;
      best_bends = bends;
      best = i;
    }
  }
  return best;
}

bool Search::halve(const Piece& piece, std::size_t i, Piece& low, Piece& high) {
  low = piece;
  high = piece;
  ++low.depth;
  ++high.depth;
  const Variable& variable = (*variables_)[i];
  if (!variable.number) {
    std::tie(low.symbols[i], high.symbols[i]) = halves_.of(variable, *piece.symbols[i]);
    return low.symbols[i] != nullptr;
  }
  const Interval& range = piece.numbers[i];
  double at = cut_point(range);
  double next = at;
  if (variable.integer) {
    at = std::floor(at);
    const bool counted = std::abs(at) < 1e15;  // beyond, not every whole number has a double
    next = counted ? at + 1 : at;
    if (next > range.hi) at = range.hi - 1, next = range.hi;
    if (at < range.lo() || (!counted && !(range.lo() < at && at < range.hi))) return false;
  } else if (!(range.lo() < at && at < range.hi)) {
    return false;
  }
  low.numbers[i] = Interval::of(range.lo(), at);
  high.numbers[i] = Interval::of(next, range.hi);
  return true;
}

/// With what comparisons have to do with each other in this piece alone: more than over the whole box.
Judged Search::judge_piece(const Claim& claim) {
  bool fast = false;
  tightener_.forget_arrangement();
  Judged judged = tightener_.tighten(Care::corners, fast);
  const auto open = [&] { return !judged.not_applicable() && !is_single(judged.holds) && !bench_->spent(); };
  if (open()) judged = tightener_.arrange();
  return open() ? judge(bench_->sharp, *bench_, claim) : judged;
}

void Search::cut(const Claim& claim, Worlds& worlds, Decision& decision) {
  Piece whole;
  halves_.clear();
  for (std::size_t i = 0; i < variables_->size(); ++i) {
    whole.numbers.push_back(bench_->box.number((*variables_)[i].cell));
    whole.symbols.push_back(kept_[i].second);
  }
  std::deque<Piece> open{whole};
  bool stuck = false, any_fits = false, any_conflict = false, any_undefined = false;
  std::size_t looked_at = 0;
  // with a setting still to be made, open is the likely answer and the setting itself is found elsewhere
  const std::size_t limit =
      variables_->has_adjustable() ? std::max<std::size_t>(max_splits_ / 256, 1) : max_splits_;
  while (!open.empty() && looked_at < limit && !bench_->spent()) {
    const Piece piece = std::move(open.front());
    open.pop_front();
    ++looked_at;
    enter(piece);
    bool fast = false;
    bench_->fast.limits.range_pieces = looked_at == 1 ? MachineLimits{}.range_pieces : pieces_of_ranges;
    if (looked_at == exact_pieces + 1) {  // from here on by what the whole box tells
      put_back();
      take_again(claim);
      enter(piece);
    }
    const Judged judged =
        looked_at <= exact_pieces ? judge_piece(claim) : tightener_.tighten(Care::doubles, fast);
    if (keep_worlds_) keep_world(judged);
    if (judged.holds == surely_no) {
      any_conflict = worlds.fails = true;
    } else if (judged.holds == surely_yes) {
      worlds.passes = true;
      any_fits = any_fits || !judged.not_applicable();
    } else {
      any_undefined = any_undefined || (judged.holds & may_undef) != 0;
      if (judged.holds == may_undef) worlds.undefined = true;
      const std::size_t i = axis(piece);
      Piece low, high;
      if (i == variables_->size() || piece.depth >= max_depth || !halve(piece, i, low, high)) {
        stuck = true;
      } else {
        // the middle of a piece that is open is where a world of the kind still missing may be
        bench_->fast.limits.range_pieces = MachineLimits{}.range_pieces;
        enter_middle(piece);
        try_world(claim, worlds);
        open.push_back(std::move(low));
        open.push_back(std::move(high));
      }
    }
    if (worlds.mixed() || worlds.undefined) break;
  }
  bench_->fast.limits.range_pieces = MachineLimits{}.range_pieces;
  put_back();
  decision.undefined = any_undefined;
  if (worlds.mixed() || worlds.undefined || !open.empty() || stuck) return;
  decision.undefined = false;
  decision.split = true;
  decision.verdict = any_conflict ? Verdict::conflict : any_fits ? Verdict::fits : Verdict::not_applicable;
}

/// The box shrinks to the piece's middle.
void Search::enter_middle(const Piece& piece) {
  enter(piece);
  for (std::size_t v = 0; v < variables_->size(); ++v) {
    const Variable& variable = (*variables_)[v];
    if (variable.number) {
      variables_->place(*bench_, v, Spot::middle);
    } else if (!piece.symbols[v]->all && !piece.symbols[v]->members.empty()) {
      const auto& members = piece.symbols[v]->members;
      bench_->box.narrow_symbols(variable.cell, variables_->single(members[members.size() / 2]));
    } else {
      variables_->place(*bench_, v, Spot::middle);
    }
  }
}

}  // namespace mm
