// Open requirements pull on shared values. They are grouped by the open cells that they share; a group is
// searched for one world that meets all of its members. First single worlds are tried, since most groups have
// many. Then each member takes from the box what it surely excludes (narrow.cpp), and what is left is cut in
// two again and again: a piece in which some member surely fails is done with, a piece in which all surely
// hold is a world. When every piece has failed, no world exists, and members are taken away one by one as
// long as the rest still has none: what is left is a smallest set. Cuts halve the count of doubles between
// the ends, not the length, so that an unbounded value is narrowed to its scale in some sixty cuts.
#include "solve/conflict_set.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <numeric>

#include "evaluate/search.hpp"
#include "solve/narrow.hpp"

namespace mm {

namespace {

constexpr std::size_t max_members = 48, max_pieces = 4'000;
constexpr int world_tries = 64;
constexpr std::int64_t group_steps = 3'000'000;

enum class Answer : std::uint8_t { possible, impossible, open };

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

struct Member {
  std::uint32_t finding = 0;
  Claim claim;
  Variables variables;
  std::vector<CellId> open;
};

class Solver {
 public:
  Solver(const Project& project, const Results& results)
      : designations_(project.model), bench_(*results.index, designations_), search_(bench_, 0) {
    for (std::uint32_t f = 0; f < results.findings.size(); ++f) {
      const Finding& finding = results.findings[f];
      if (finding.cases.empty() || !finding.slots.empty() || finding.waiver != no_reg) continue;
      const Verdict verdict = finding.cases[0].outcome.verdict;
      const RequirementDef& requirement = project.model.requirements[finding.requirement];
      if (requirement.weight != Weight::need || requirement.rule == no_reg) continue;
      if (verdict != Verdict::unknown && verdict != Verdict::setting) continue;
      Member member;
      member.finding = f;
      const RuleDef* rule = requirement.interface ? nullptr : &project.model.rules[requirement.rule];
      member.claim = {&requirement, rule, finding.binding};
      for (const CellId cell : finding.cases[0].outcome.reads)
        if (bench_.index.is_open(cell) && bench_.index.is_number(cell)) member.open.push_back(cell);
      if (!member.open.empty()) members_.push_back(std::move(member));
    }
  }

  std::vector<ConflictSet> run() {
    std::vector<ConflictSet> sets;
    for (std::vector<std::size_t>& group : groups()) {
      if (group.size() < 2 || group.size() > max_members) continue;
      for (const std::size_t m : group) {
        bench_.set_steps(group_steps);
        bench_.reads.start(bench_.index.build.cells.size());
        members_[m].variables.collect(bench_, members_[m].claim, bench_.reads);
      }
      // One group may hold several sets: take a set's first member away and look again.
      while (group.size() >= 2 && feasible(group) == Answer::impossible) {
        const std::vector<std::size_t> set = smallest(group);
        if (set.size() < 2) break;
        sets.push_back(report(set));
        std::erase(group, set.front());
      }
    }
    return sets;
  }

 private:
  std::vector<std::vector<std::size_t>> groups() const {
    std::vector<std::size_t> root(members_.size());
    std::iota(root.begin(), root.end(), std::size_t{0});
    const auto find = [&](std::size_t m) {
      while (root[m] != m) m = root[m] = root[root[m]];
      return m;
    };
    std::vector<std::pair<CellId, std::size_t>> uses;
    for (std::size_t m = 0; m < members_.size(); ++m)
      for (const CellId cell : members_[m].open) uses.emplace_back(cell, m);
    std::sort(uses.begin(), uses.end());
    for (std::size_t i = 1; i < uses.size(); ++i)
      if (uses[i].first == uses[i - 1].first) root[find(uses[i].second)] = find(uses[i - 1].second);
    std::vector<std::vector<std::size_t>> out(members_.size());
    for (std::size_t m = 0; m < members_.size(); ++m) out[find(m)].push_back(m);
    return out;
  }

  void gather(const std::vector<std::size_t>& group) {
    cells_.clear();
    for (const std::size_t m : group)
      for (const CellId cell : members_[m].open)
        if (std::find(cells_.begin(), cells_.end(), cell) == cells_.end()) cells_.push_back(cell);
  }

  void release() {
    for (const CellId cell : cells_) bench_.box.release(cell);
  }

  /// One world for all: the middle, the ends, then a fixed sequence of draws.
  bool meet(const std::vector<std::size_t>& group) {
    std::uint64_t state = 0x2545f4914f6cdd1dULL;
    for (int attempt = 0; attempt < world_tries && !bench_.spent(); ++attempt) {
      for (const CellId cell : cells_) {
        const bool integer = (bench_.index.build.cells[cell].flags & cell_integer) != 0;
        const ExactInterval& range = bench_.index.exact(cell);
        const std::uint64_t draw = next_random(state) % 6;
        const Spot spot = attempt == 0 || draw == 0 ? Spot::middle : draw == 1 ? Spot::low : Spot::high;
        bench_.box.narrow_exact(
            cell, ExactInterval::point(attempt != 0 && draw > 2 ? random_value(range, integer, state)
                                                                : value_at(range, integer, spot)));
      }
      const bool all = std::all_of(group.begin(), group.end(), [&](std::size_t m) {
        return judge(bench_.fast, bench_, members_[m].claim).holds == surely_yes;
      });
      release();
      if (all) return true;
    }
    return false;
  }

  using Piece = std::vector<Interval>;

  Answer feasible(const std::vector<std::size_t>& group) {
    gather(group);
    bench_.set_steps(group_steps);
    if (meet(group)) return Answer::possible;
    std::vector<Narrowed> claims;
    claims.reserve(group.size());
    for (const std::size_t m : group) claims.push_back({&members_[m].claim, &members_[m].variables});
    const bool left = narrow_box(bench_, claims);
    Piece whole;
    for (const CellId cell : cells_) whole.push_back(bench_.box.number(cell));
    release();
    if (!left) return Answer::impossible;
    std::vector<Piece> todo{whole};
    std::size_t seen = 0;
    Answer answer = Answer::impossible;
    while (!todo.empty() && answer == Answer::impossible) {
      const Piece piece = std::move(todo.back());
      todo.pop_back();
      if (++seen > max_pieces || bench_.spent()) {
        answer = Answer::open;
        break;
      }
      const Verdict verdict = judge_piece(group, piece);
      if (verdict == Verdict::conflict) continue;
      if (verdict == Verdict::fits)
        answer = Answer::possible;
      else if (!cut(piece, todo))
        answer = Answer::open;
    }
    release();
    return answer;
  }

  Verdict judge_piece(const std::vector<std::size_t>& group, const Piece& piece) {
    for (std::size_t i = 0; i < cells_.size(); ++i) bench_.box.narrow(cells_[i], piece[i]);
    bool all = true;
    for (const std::size_t m : group) {
      const Judged judged = judge(bench_.fast, bench_, members_[m].claim);
      Verdict verdict = judged.holds == surely_yes ? Verdict::fits
                        : judged.holds == surely_no
                            ? Verdict::conflict
                            : search_.glance(members_[m].claim, members_[m].variables);
      if (verdict == Verdict::not_applicable) verdict = Verdict::fits;
      if (verdict == Verdict::conflict) return verdict;
      all = all && verdict == Verdict::fits;
    }
    return all ? Verdict::fits : Verdict::unknown;
  }

  /// Two halves along the value that spans most doubles; false when all are points or next to it.
  bool cut(const Piece& piece, std::vector<Piece>& todo) const {
    std::size_t axis = 0;
    std::uint64_t most = 0;
    for (std::size_t i = 0; i < piece.size(); ++i) {
      const auto span = static_cast<std::uint64_t>(rank_of(piece[i].hi)) -
                        static_cast<std::uint64_t>(rank_of(piece[i].lo()));
      if (span > most) most = span, axis = i;
    }
    if (most < 1024) return false;
    double at = cut_point(piece[axis]);
    Piece low = piece, high = piece;
    if ((bench_.index.build.cells[cells_[axis]].flags & cell_integer) != 0) {
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

  /// Members without which the rest is still impossible are dropped; whatever stays is needed, with a world
  /// as proof.
  std::vector<std::size_t> smallest(std::vector<std::size_t> group) {
    for (std::size_t i = 0; i < group.size();) {
      std::vector<std::size_t> rest = group;
      rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(i));
      const Answer without = rest.empty() ? Answer::possible : feasible(rest);
      if (without == Answer::open) return {};
      if (without == Answer::impossible)
        group = std::move(rest);
      else
        ++i;
    }
    return group;
  }

  ConflictSet report(const std::vector<std::size_t>& set) const {
    ConflictSet out;
    for (const std::size_t m : set) {
      out.members.emplace_back(members_[m].finding, 0);
      for (const CellId cell : members_[m].open) {
        const auto uses = std::count_if(set.begin(), set.end(), [&](std::size_t other) {
          return std::find(members_[other].open.begin(), members_[other].open.end(), cell) !=
                 members_[other].open.end();
        });
        if (uses > 1 && std::find(out.shared.begin(), out.shared.end(), cell) == out.shared.end())
          out.shared.push_back(cell);
      }
    }
    return out;
  }

  RoundUp rounding_;
  Designations designations_;
  Bench bench_;
  Search search_;
  std::vector<Member> members_;
  std::vector<CellId> cells_;
};

/// A set needs two open needs; most builds are done here.
bool worth_a_look(const Project& project, const Results& results) {
  std::size_t open = 0;
  for (const Finding& finding : results.findings) {
    if (finding.cases.empty() || !finding.slots.empty()) continue;
    const Verdict verdict = finding.cases[0].outcome.verdict;
    if (verdict != Verdict::unknown && verdict != Verdict::setting) continue;
    if (project.model.requirements[finding.requirement].weight == Weight::need) ++open;
  }
  return open >= 2;
}

}  // namespace

std::vector<ConflictSet> find_conflict_sets(const Project& project, const Results& results) {
  if (!worth_a_look(project, results)) return {};
  return Solver(project, results).run();
}

}  // namespace mm
