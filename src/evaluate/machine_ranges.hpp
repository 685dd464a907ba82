// Body of Machine: `every z in lo..hi` and `some z in lo..hi` over a continuous range.
//
// The whole range is covered by pieces. A piece is done when the body holds on all of it: by plain
// arithmetic, or because the body only rises (or falls) with z, so that the piece's worse end speaks for it;
// that decides pieces which touch their limit at an end. A piece that is not done is looked at in its middle:
// where the body fails there for the whole box, the answer is no; where it is open there, no cutting can
// prove yes, and only a few more pieces are looked at for a failing point. Else the piece is cut in two. What
// is still open is looked at where its comparisons turn over. `some` is the denial of `every` not. Included
// by the files that instantiate it.
#pragma once
#include "evaluate/machine_turns.hpp"

namespace mm {

inline Interval range_piece(const Interval*, const Interval& a, const Interval& b) {
  return Interval::of(a.lo(), b.hi);
}
inline Interval range_low(const Interval& a) { return Interval::point(a.lo()); }
inline Interval range_high(const Interval& a) { return Interval::point(a.hi); }
inline bool range_finite(const Interval& a) { return std::isfinite(a.lo()) && std::isfinite(a.hi); }

inline ExactInterval range_piece(const ExactInterval*, const ExactInterval& a, const ExactInterval& b) {
  ExactInterval out = ExactInterval::entire();
  out.lo_infinite = a.lo_infinite;
  out.hi_infinite = b.hi_infinite;
  out.lo_value = a.lo_value;
  out.hi_value = b.hi_value;
  out.empty = less_bits(b, a) == surely_yes;
  return out;
}
inline ExactInterval range_low(const ExactInterval& a) { return ExactInterval::point(a.lo_value); }
inline ExactInterval range_high(const ExactInterval& a) { return ExactInterval::point(a.hi_value); }
inline bool range_finite(const ExactInterval& a) { return !a.lo_infinite && !a.hi_infinite; }

/// Everything from a's least to b's greatest; from the outer hull of the range's two ends.
template <class Base>
DualOf<Base> range_piece(const DualOf<Base>*, const DualOf<Base>& a, const DualOf<Base>& b) {
  return DualOf<Base>{range_piece(static_cast<const Base*>(nullptr), a.value, b.value)};
}

/// Does the body hold at z, or everywhere in it (denied where `some`)?
template <class Num>
Bits Machine<Num>::item(const Quantifier& q, bool some, const Num& z, Direction* moved, ItemRuns& runs) {
  slot_numbers_[q.slot] = z;
  Direction direction;
  const Bits where = where_bits(q, direction, runs.where);
  Bits bits = not_bits(where);
  Direction denied = turned(direction);
  if (where != surely_no) {
    Bits body_bits = surely_yes;
    if (q.body != no_block) {
      const Value& body = run_item(q.body, q.slot, runs.body);
      body_bits = truth_of(body);
      direction = direction_of(body);
      denied |= some ? turned(direction) : direction;
    }
    bits = or_bits(bits, some ? not_bits(body_bits) : body_bits);
  }
  if (moved != nullptr) *moved |= is_single(bits) ? still : denied;
  return spent() ? anything : bits;
}

/// Doubles first: exact arithmetic only where they leave the item open.
template <class Num>
template <class Plain>
Bits Machine<Num>::sharp_item(const Quantifier& q, bool some, const Num& z, PieceRuns& runs) {
  if constexpr (std::is_same_v<Num, ExactInterval>) {
    doubles_->limits.steps = limits.steps;
    const Bits bits = doubles_->item(q, some, to_interval(z), nullptr, runs.doubles);
    limits.steps = doubles_->limits.steps;
    if (is_single(bits)) return bits;
  }
  return item(q, some, z, nullptr, runs.own);
}

template <class Num>
template <class Plain>
void Machine<Num>::prepare_pieces(const Quantifier& q) {
  const std::vector<Reg>& outer = outer_registers(q);
  if (!slopes_) slopes_ = std::make_unique<Machine<Dual>>(*model_, *designations_);
  slopes_->adopt(*this, outer);
  if constexpr (std::is_same_v<Num, ExactInterval>) {
    if (!doubles_) doubles_ = std::make_unique<Machine<Interval>>(*model_, *designations_);
    doubles_->adopt(*this, outer);
    if (!exact_slopes_) exact_slopes_ = std::make_unique<Machine<ExactDual>>(*model_, *designations_);
    exact_slopes_->adopt(*this, outer);
  }
}

template <class Num>
template <class Plain>
Bits Machine<Num>::piece_by_slope(const Quantifier& q, bool some, const Num& piece, bool inside,
                                  PieceRuns& runs) {
  if (!range_finite(piece)) return anything;
  Direction moved = still;
  slopes_->limits.steps = limits.steps;
  const Dual z = Dual::variable(bounds(piece));
  slopes_->set_offset(z);
  Bits whole = slopes_->item(q, some, z, &moved, runs.slopes);
  limits.steps = slopes_->limits.steps;
  if constexpr (std::is_same_v<Num, ExactInterval>) {
    // a slope that is nought but for rounding hides a touch
    if (moved == may_move && (whole & may_undef) == 0) {
      moved = still;
      const ExactDual sharp = ExactDual::variable(piece);
      exact_slopes_->limits.steps = limits.steps;
      exact_slopes_->set_offset(sharp);
      whole = exact_slopes_->item(q, some, sharp, &moved, runs.exact_slopes);
      limits.steps = exact_slopes_->limits.steps;
    }
  }
  if (whole == surely_yes || (inside && whole == surely_no)) return whole;
  if (moved == may_move || (whole & may_undef) != 0) return anything;
  const Bits worst =
      sharp_item(q, some, (moved & may_rise) != 0 ? range_low(piece) : range_high(piece), runs);
  if (worst == surely_yes || (inside && worst == surely_no)) return worst;
  return anything;
}

/// Bits of "holds on all of the range". A point proves no only where it is surely in the range (`inner`).
template <class Num>
template <class Plain>
Bits Machine<Num>::range_bits(const Quantifier& q, bool some, const Num& outer, const Num& inner,
                              bool inner_known) {
  const auto inside = [&](const Num& point) {
    return inner_known && less_equal_bits(range_low(inner), point) == surely_yes &&
           less_equal_bits(point, range_high(inner)) == surely_yes;
  };
  prepare_pieces(q);
  PieceRuns runs;
  Bits result = may_yes;  // until a point that is surely in the range surely does not hold
  Bits found = 0;
  const auto try_point = [&](const Num& point) {
    const Bits bits = sharp_item(q, some, point, runs);
    if (inside(point) && (bits & may_yes) == 0) result &= static_cast<Bits>(~may_yes);
    found |= inside(point) ? bits : Bits{0};
    return bits;
  };
  const auto refuted = [&](const Num& point, Bits bits) { return bits == surely_no && inside(point); };
  if (inner_known) {
    for (const Num& end : {range_low(inner), range_high(inner)}) {
      if (refuted(end, try_point(end))) return surely_no;
    }
  }
  struct Piece {
    Num range;
    bool at_low, at_high;  // whether it may be shown to hold at the end
  };
  std::vector<Piece> pieces{{outer, true, true}};
  Bits open = 0, anywhere = anything;  // of pieces that stay open; of the whole range
  std::size_t stuck = 0;
  for (std::size_t next = 0; next < pieces.size(); ++next) {
    const auto [piece, at_low, at_high] = pieces[next];
    const Num middle = middle_of(piece);
    const Bits here = try_point(middle);
    if (refuted(middle, here)) return surely_no;
    std::optional<Bits> bits;  // plain arithmetic says no more of a piece than of a point in it
    if (next == 0 || here == surely_yes) bits = sharp_item(q, some, piece, runs);
    if (next == 0) anywhere = *bits;
    if (bits == surely_yes) continue;
    if (range_finite(piece) && (here == surely_yes || at_low || at_high)) {
      const bool in = inside(range_low(piece)) && inside(range_high(piece));
      const Bits by_slope = piece_by_slope(q, some, piece, in, runs);
      if (by_slope == surely_yes) continue;
      if (by_slope == surely_no) return surely_no;
    }
    if (here != surely_yes) ++stuck;
    const bool narrow = range_finite(piece) && (less_bits(range_low(piece), middle) != surely_yes ||
                                                less_bits(middle, range_high(piece)) != surely_yes);
    if (stuck > 16 || pieces.size() >= limits.range_pieces || narrow || spent()) {
      open |= bits ? *bits : sharp_item(q, some, piece, runs);
      if (stuck > 16 || spent()) {
        if (next + 1 < pieces.size()) open = spent() ? anything : anywhere;
        break;
      }
      continue;
    }
    pieces.push_back({range_piece(&piece, piece, middle), at_low, here == surely_yes});
    pieces.push_back({range_piece(&piece, middle, piece), here == surely_yes, at_high});
  }
  if (open == 0) return surely_yes;
  if constexpr (std::is_same_v<Num, ExactInterval>) {
    if (inner_known && !spent()) {
      for (const Num& point : turns_along(q, inner))
        if (refuted(point, try_point(point))) return surely_no;
    }
  }
  return static_cast<Bits>(((open | found) & (may_no | may_undef)) | result);
}

/// "Holds on all of the range" by one run, or by several where the direction in which the answer moves
/// differs along the range: pieces that hold in any case have no part in it. Every piece has a point in
/// `inner`, which is surely in the range; without, one run must do.
template <class Num>
template <class Plain>
Bits Machine<Num>::whole_range(const Quantifier& q, bool some, const Num& outer, const Base* inner,
                               Direction& moved) {
  constexpr std::size_t most_pieces = 16;
  ItemRuns runs;
  std::vector<Base> pieces{outer.value};
  Bits result = surely_yes;
  for (std::size_t next = 0; next < pieces.size(); ++next) {
    const Base piece = pieces[next];
    Direction here = still;
    const Bits bits = item(q, some, Num{piece}, &here, runs);
    if (bits == surely_yes) continue;
    if (here == may_move && inner != nullptr && pieces.size() + 1 < most_pieces && !spent()) {
      const Base middle = middle_of(piece);
      if (less_equal_bits(range_low(*inner), middle) == surely_yes &&
          less_equal_bits(middle, range_high(*inner)) == surely_yes) {
        pieces.push_back(range_piece(&piece, piece, middle));
        pieces.push_back(range_piece(&piece, middle, piece));
        continue;
      }
    }
    result = and_bits(result, bits);
    moved |= here;
  }
  return result;
}

template <class Num>
void Machine<Num>::quantify_range(const Op& op, const Quantifier& q, Value& out) {
  const bool some = op.code == OpCode::some_number;
  const Value& low = registers_[q.lo];
  const Value& high = registers_[q.hi];
  if ((low.state & defined) == 0 || (high.state & defined) == 0) return set_truth(out, may_undef, still);
  const Bits undefined = (low.state | high.state) & may_undef;
  const Num lo = number_of(low);
  const Num hi = number_of(high);
  const Num* tag = nullptr;
  Bits bits = surely_yes;  // an empty range holds
  Direction moved = still;
  if (spent()) {
    bits = anything;
    moved = may_move;
  } else if (less_bits(hi, lo) != surely_yes) {
    const Num outer = range_piece(tag, lo, hi);
    if constexpr (is_dual) {
      std::optional<Base> inner;
      if (lo.is_still() && hi.is_still() && range_finite(lo.value) && range_finite(hi.value) &&
          less_equal_bits(lo.value, hi.value) == surely_yes)
        inner = range_piece(&lo.value, range_high(lo.value), range_low(hi.value));
      bits = whole_range(q, some, outer, inner ? &*inner : nullptr, moved);
      // a range that shrinks makes `every` truer
      if (may_be_positive(lo.slope) || may_be_negative(hi.slope)) moved |= may_rise;
      if (may_be_negative(lo.slope) || may_be_positive(hi.slope)) moved |= may_fall;
      if (less_equal_bits(lo, hi) != surely_yes) bits |= may_yes;
      if ((bits & may_undef) != 0 && moved != still) moved = may_move;
      if (bits == surely_yes) moved = still;
    } else {
      const bool inner_known = range_finite(lo) && range_finite(hi) && less_equal_bits(lo, hi) == surely_yes;
      const Num inner = inner_known ? range_piece(tag, range_high(lo), range_low(hi)) : outer;
      bits = range_bits(q, some, outer, inner, inner_known);
      seen_ |= slopes_->seen_;
      if (doubles_) seen_ |= doubles_->seen_ | exact_slopes_->seen_;
    }
  }
  if (some) {
    bits = not_bits(bits);
    moved = turned(moved);
  }
  set_truth(out, bits | undefined, moved);
}

}  // namespace mm
