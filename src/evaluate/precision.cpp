#include "evaluate/precision.hpp"

#include <algorithm>
#include <cmath>

#include "evaluate/margin_pieces.hpp"

namespace mm {

namespace {

constexpr std::size_t most_cuts = 1000;                    // for all measures
constexpr int range_pieces = 16, most_range_pieces = 512;  // the more where nothing else is cut
constexpr double infinity = HUGE_VAL;
constexpr double rounding = 1e-12;  // of a margin, as a share of the other bound

class PrecisionSearch {
 public:
  PrecisionSearch(Bench& bench, const Claim& claim, const Variables& variables)
      : bench_(bench),
        claim_(claim),
        variables_(variables),
        plain_(bench.fast, bench),
        exact_(bench.sharp, bench),
        slopes_(bench.slopes, bench) {}

  std::vector<Measure> measures() {
    if (bench_.spent()) return {};
    plain_.room(claim_, std::nullopt);
    return plain_.open_measures();
  }

  std::optional<Precision> find(const Measure& measure, std::size_t cuts) {
    measure_ = measure;
    pieces_.clear();
    MarginPiece whole;
    for (std::size_t v = 0; v < variables_.size(); ++v) {
      const CellId cell = variables_[v].cell;
      const bool number = variables_[v].number;
      whole.numbers.push_back(number ? bench_.box.exact(cell) : ExactInterval::none());
      whole.symbols.push_back(number ? nullptr : bench_.box.symbols(cell));
    }
    seen_ = {infinity, -infinity, false};
    for (const int pieces : {range_pieces, most_range_pieces}) {
      plain_.set_range_pieces(pieces);
      exact_.set_range_pieces(pieces);
      if (pieces == range_pieces || whole.axis == variables_.size()) look_at(whole);
    }
    plain_.set_range_pieces(range_pieces);
    exact_.set_range_pieces(range_pieces);
    pieces_.push_back(std::move(whole));
    bool low = true;
    for (std::size_t i = 0; i < cuts && !bench_.spent(); ++i, low = !low)
      if (!cut(low) && !cut(!low)) break;
    Precision out{measure, infinity, -infinity};
    for (const MarginPiece& piece : pieces_) {
      if (piece.bounds.undefined) return std::nullopt;
      out.least = std::min(out.least, piece.bounds.least);
      out.most = std::max(out.most, piece.bounds.most);
    }
    if (!std::isfinite(out.least) && !std::isfinite(out.most)) return std::nullopt;
    return out;
  }

 private:
  /// Cuts a piece at which a bound of the whole stands, or that may be undefined.
  bool cut(bool low) {
    const auto worse = [&](const MarginPiece& a, const MarginPiece& b) {
      if (a.bounds.undefined != b.bounds.undefined) return b.bounds.undefined;
      return low ? a.bounds.least > b.bounds.least : a.bounds.most < b.bounds.most;
    };
    const auto worst = std::max_element(pieces_.begin(), pieces_.end(), worse);
    const MarginBounds& its = worst->bounds;
    const double bound = low ? -its.least : its.most, other = low ? its.most : -its.least;
    if (!its.undefined && bound <= (std::isfinite(other) ? rounding * other : 0)) return false;
    // what worlds show is at most halved still
    if (!its.undefined && 2 * (low ? -seen_.least : seen_.most) >= bound) return false;
    if (worst->axis == variables_.size()) return false;
    MarginPiece first = *worst, second = *worst;
    if (!halve(variables_[worst->axis], worst->axis, halves_, first, second)) {
      worst->axis = variables_.size();
      return true;
    }
    for (MarginPiece* piece : {&first, &second}) look_at(*piece);
    if (bench_.spent()) return false;
    *worst = std::move(first);
    pieces_.push_back(std::move(second));
    return true;
  }

  void look_at(MarginPiece& piece) {
    const KeptRanges kept(bench_, variables_);
    for (std::size_t v = 0; v < variables_.size(); ++v) {
      const CellId cell = variables_[v].cell;
      if (variables_[v].number)
        bench_.box.narrow_exact(cell, piece.numbers[v]);
      else
        bench_.box.narrow_symbols(cell, piece.symbols[v]);
    }
    MarginBounds found = bounds_of(plain_.room(claim_, measure_));
    if (found.undefined) {
      const MarginBounds exactly = bounds_of(exact_.room(claim_, measure_));
      found.undefined = exactly.undefined;
      take(found, exactly);
    }
    moves_.assign(variables_.size(), may_move);
    influence_.assign(variables_.size(), infinity);
    for (std::size_t v = 0; v < variables_.size(); ++v)
      if (variables_[v].number) look_along(v, found);
    at_corners(found);
    // what holds of the whole holds of a part
    take(found, piece.bounds);
    piece.bounds = found;
    piece.axis = axis(piece);
    for (std::size_t v = 0; v < variables_.size(); ++v) variables_.place(bench_, v, Spot::middle);
    const MarginBounds middle = bounds_of(plain_.room(claim_, measure_));
    seen_.least = std::min(seen_.least, middle.most);
    seen_.most = std::max(seen_.most, middle.least);
  }

  static void take(MarginBounds& bounds, const MarginBounds& more) {
    bounds.least = std::max(bounds.least, more.least);
    bounds.most = std::min(bounds.most, more.most);
  }

  /// By the slope along one value.
  void look_along(std::size_t v, MarginBounds& found) {
    const CellId cell = variables_[v].cell;
    const Interval range = bench_.box.number(cell);
    if (range.is_point()) {
      moves_[v] = still;
      influence_[v] = 0;
      return;
    }
    bench_.slopes.set_active(cell, range);
    const Room<Dual> room = slopes_.room(claim_, measure_);
    bench_.slopes.set_active(CellId{}, Interval::point(0));
    if (room.jumps || bench_.slopes.spent()) return;
    const Interval slope = room.some ? room.number.slope : Interval::point(0);
    if (slope.is_empty()) return;
    moves_[v] = still;
    if (slope.hi > 0) moves_[v] |= may_rise;
    if (slope.lo() < 0) moves_[v] |= may_fall;
    const double size = magnitude(slope) * width(range);
    influence_[v] = size;
    if (moves_[v] == still) influence_[v] = 0;
    if (std::isnan(influence_[v])) influence_[v] = infinity;
    if (!room.some || room.number.middle.is_empty()) return;
    const Interval offset = sub(range, middle_of(range));
    const Interval form = add(room.number.middle, mul(slope, offset));
    if (form.is_empty()) return;
    MarginBounds by_form;
    if (!room.none) by_form.least = form.lo();
    if (!room.endless) by_form.most = form.hi;
    take(found, by_form);
  }

  /// With what moves it one way at the end where it is least, and greatest.
  void at_corners(MarginBounds& found) {
    const bool any = std::any_of(moves_.begin(), moves_.end(), [](Direction m) { return m != may_move; });
    if (!any || found.undefined || bench_.spent()) return;
    for (const bool low : {true, false}) {
      const std::size_t former = bench_.box.at_ends();
      bool to_a_point = true;
      for (std::size_t v = 0; v < variables_.size(); ++v) {
        const CellId cell = variables_[v].cell;
        if (moves_[v] == may_move) {
          to_a_point = to_a_point && variables_[v].number && bench_.box.number(cell).is_point();
        } else if (moves_[v] == still) {
          bench_.box.to_some_point(cell);
        } else {
          to_a_point = bench_.box.to_end(cell, (moves_[v] == may_rise) != low) && to_a_point;
        }
      }
      MarginBounds corner = bounds_of(plain_.room(claim_, measure_));
      const bool touches =
          std::abs(low ? corner.least : corner.most) <= rounding * (found.most - found.least);
      if (to_a_point && touches) take(corner, bounds_of(exact_.room(claim_, measure_)));
      bench_.box.leave_ends(former);
      if (low)
        found.least = std::max(found.least, corner.least);
      else
        found.most = std::min(found.most, corner.most);
    }
  }

  std::size_t axis(const MarginPiece& piece) const {
    std::size_t best = variables_.size();
    double best_score = 0;
    for (std::size_t v = 0; v < variables_.size(); ++v) {
      const Variable& variable = variables_[v];
      if (!variable.number) {
        const SymbolicSet* set = piece.symbols[v];
        if (set != nullptr && variable.complete && (set->all ? variable.members : set->members).size() > 1)
          return v;
        continue;
      }
      const Interval range = to_interval(piece.numbers[v]);
      if (range.is_point() || range.is_empty()) continue;
      double score = influence_[v];
      if (!std::isfinite(score)) score = promise_of(range);
      if (score > best_score) {
        best_score = score;
        best = v;
      }
    }
    return best;
  }

  Bench& bench_;
  const Claim& claim_;
  const Variables& variables_;
  RoomMachine<Interval> plain_;
  RoomMachine<ExactInterval> exact_;
  RoomMachine<Dual> slopes_;
  std::optional<Measure> measure_;
  MarginBounds seen_;  // greatest and least that worlds have at most and at least
  std::vector<MarginPiece> pieces_;
  SymbolHalves halves_;
  std::vector<Direction> moves_;   // by variable, of the present piece
  std::vector<double> influence_;  // the same
};

}  // namespace

std::optional<Precision> find_precision(Bench& bench, const Claim& claim, const Variables& variables) {
  PrecisionSearch search(bench, claim, variables);
  const std::vector<Measure> measures = search.measures();
  std::optional<Precision> best;
  const auto ends = [](const std::optional<Precision>& one) {
    return one ? std::isfinite(one->least) + std::isfinite(one->most) : 0;
  };
  for (const Measure& measure : measures) {
    const auto found = search.find(measure, most_cuts / measures.size());
    if (ends(found) > ends(best)) best = found;
  }
  return best;
}

}  // namespace mm
