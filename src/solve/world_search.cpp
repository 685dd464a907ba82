// First single worlds are tried, since most groups of requirements have many. Then each member takes from the
// box what it surely excludes (narrow.cpp), and what is left is cut in two again and again: a piece in which
// some member surely fails is done with, a piece in which all surely hold is a world. When every piece has
// failed, no world exists. Cuts halve the count of doubles between the ends, not the length, so that an
// unbounded value is narrowed to its scale in some sixty cuts.
#include "solve/world_search.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>

#include "solve/narrow.hpp"

namespace mm {

namespace {

constexpr std::size_t max_pieces = 4'000;
constexpr std::size_t world_tries = 64, most_corner_axes = 4;

/// Doubles in their order, as integers.
std::int64_t rank_of(double x) {
  const auto bits = std::bit_cast<std::int64_t>(x);
  return bits >= 0 ? bits : std::numeric_limits<std::int64_t>::min() - bits;
}

double double_at(std::int64_t rank) {
  return std::bit_cast<double>(rank >= 0 ? rank : std::numeric_limits<std::int64_t>::min() - rank);
}

double cut_point(const Interval& range) {
  const double lo = std::max(range.lo(), -std::numeric_limits<double>::max());
  const double hi = std::min(range.hi, std::numeric_limits<double>::max());
  if (std::isfinite(hi - lo) && hi - lo <= std::min(std::abs(lo), std::abs(hi))) return lo + (hi - lo) / 2;
  return double_at(std::midpoint(rank_of(lo), rank_of(hi)));
}

}  // namespace

void WorldSearch::gather(const std::vector<const Member*>& members) {
  axes_.clear();
  for (const Member* member : members)
    for (const CellId cell : member->open) {
      if (std::any_of(axes_.begin(), axes_.end(), [&](const Axis& axis) { return axis.cell == cell; }))
        continue;
      const bool integer = (bench_.index.build.cells[cell].flags & cell_integer) != 0;
      axes_.push_back({cell, integer, SettingList(bench_.index, cell)});
    }
}

void WorldSearch::release() {
  for (const Axis& axis : axes_) bench_.box.release(axis.cell);
}

/// One world for all: the middle, the corners of the first few values, then a fixed sequence of draws.
bool WorldSearch::meet(const std::vector<const Member*>& members) {
  std::uint64_t state = 0x2545f4914f6cdd1dULL;
  const std::size_t corners = std::size_t{1} << std::min(axes_.size(), most_corner_axes);
  for (std::size_t attempt = 0; attempt < world_tries + corners && !bench_.spent(); ++attempt) {
    for (std::size_t a = 0; a < axes_.size(); ++a) {
      const Axis& axis = axes_[a];
      const ExactInterval& range = bench_.index.exact(axis.cell);
      const std::uint64_t draw = next_random(state) % 6;
      const bool cornered = attempt != 0 && attempt <= corners && a < most_corner_axes;
      const Spot spot = cornered                    ? ((attempt - 1) >> a & 1U) != 0 ? Spot::high : Spot::low
                        : attempt == 0 || draw == 0 ? Spot::middle
                        : draw == 1                 ? Spot::low
                                                    : Spot::high;
      const bool anywhere = attempt != 0 && !cornered && draw > 2;
      Rational value;
      if (axis.settings.empty())
        value = anywhere ? random_value(range, axis.integer, state) : value_at(range, axis.integer, spot);
      else
        value = axis.settings[anywhere             ? next_random(state) % axis.settings.size()
                              : spot == Spot::low  ? 0
                              : spot == Spot::high ? axis.settings.size() - 1
                                                   : axis.settings.size() / 2];
      bench_.box.narrow_exact(axis.cell, ExactInterval::point(value));
    }
    const bool all = std::all_of(members.begin(), members.end(), [&](const Member* member) {
      return judge(bench_.fast, bench_, member->claim).holds == surely_yes;
    });
    release();
    if (all) return true;
  }
  return false;
}

/// Takes from the box what is no setting; false where none is left.
bool WorldSearch::keep_settings() {
  for (const Axis& axis : axes_) {
    if (axis.settings.empty()) continue;
    const auto [first, end] = axis.settings.within(bench_.box.exact(axis.cell));
    if (first == end) return false;
    bench_.box.narrow_exact(axis.cell, ExactInterval::of(axis.settings[first], axis.settings[end - 1]));
  }
  return true;
}

Answer WorldSearch::look(const std::vector<const Member*>& members, std::int64_t steps) {
  gather(members);
  bench_.set_steps(steps);
  if (meet(members)) return Answer::possible;
  std::vector<Narrowed> claims;
  claims.reserve(members.size());
  for (const Member* member : members) claims.push_back({&member->claim, &member->variables});
  const bool left = narrow_box(bench_, claims) && keep_settings();
  Piece whole;
  for (const Axis& axis : axes_) whole.push_back(bench_.box.number(axis.cell));
  release();
  if (!left) return Answer::impossible;
  std::vector<Piece> todo{whole};
  std::size_t seen = 0;
  bool left_over = false;
  Answer answer = Answer::impossible;
  while (!todo.empty() && answer == Answer::impossible) {
    const Piece piece = std::move(todo.back());
    todo.pop_back();
    if (++seen > max_pieces || bench_.spent()) {
      answer = Answer::open;
      break;
    }
    const Verdict verdict = judge_piece(members, piece);
    if (verdict == Verdict::conflict) continue;
    if (verdict == Verdict::fits)
      answer = Answer::possible;
    else if (!cut(piece, todo))
      left_over = true;  // a limit runs through it; beside it there may be a world
  }
  release();
  return left_over && answer == Answer::impossible ? Answer::open : answer;
}

Verdict WorldSearch::judge_piece(const std::vector<const Member*>& members, const Piece& piece) {
  for (std::size_t i = 0; i < axes_.size(); ++i) bench_.box.narrow(axes_[i].cell, piece[i]);
  if (!keep_settings()) return Verdict::conflict;
  bool all = true;
  for (const Member* member : members) {
    const Judged judged = judge(bench_.fast, bench_, member->claim);
    Verdict verdict = judged.holds == surely_yes  ? Verdict::fits
                      : judged.holds == surely_no ? Verdict::conflict
                                                  : search_.glance(member->claim, member->variables);
    if (verdict == Verdict::not_applicable) verdict = Verdict::fits;
    if (verdict == Verdict::conflict) return verdict;
    all = all && verdict == Verdict::fits;
  }
  return all ? Verdict::fits : Verdict::unknown;
}

/// Two halves along the value that spans most doubles; false when all are points or next to it.
bool WorldSearch::cut(const Piece& piece, std::vector<Piece>& todo) const {
  std::size_t axis = 0;
  std::uint64_t most = 0;
  for (std::size_t i = 0; i < piece.size(); ++i) {
    const SettingList& settings = axes_[i].settings;
    if (!settings.empty() && settings.within(ExactInterval::from(piece[i])).size() < 2) continue;
    const auto span =
        static_cast<std::uint64_t>(rank_of(piece[i].hi)) - static_cast<std::uint64_t>(rank_of(piece[i].lo()));
    if (span > most) most = span, axis = i;
  }
  if (most < 1024) return false;
  double at = cut_point(piece[axis]);
  Piece low = piece, high = piece;
  if (axes_[axis].integer) {
    at = std::floor(at);
    low[axis] = Interval::of(piece[axis].lo(), at);
    high[axis] = Interval::of(at + 1, piece[axis].hi);
    if (low[axis].is_empty() || high[axis].is_empty()) return false;
  } else {
    low[axis] = Interval::of(piece[axis].lo(), at);
    high[axis] = Interval::of(at, piece[axis].hi);
  }
  todo.push_back(std::move(high));
  todo.push_back(std::move(low));
  return true;
}

}  // namespace mm
