#include "evaluate/arrangement.hpp"

#include <algorithm>

namespace mm {

void Arrangement::take(const Claim& claim, const std::vector<Leaf>& leaves, bool twice) {
  algebra_.take(claim);
  lines_.clear();
  line_of_.clear();
  pairs_.clear();
  slacks_.assign(leaves.size(), std::nullopt);
  binds_ = twice;
  for (std::size_t i = 0; i < leaves.size(); ++i) {
    add(i, leaves[i]);
    binds_ = binds_ || (leaves[i].bits == undecided && by_range(i) != undecided);
  }
  for (Line& line : lines_) {
    binds_ = binds_ || line.leaves.size() > 1;
    for (const On& on : line.leaves) line.stops.push_back(on.at);
    if (line.leaves[0].code == OpCode::same) line.stops.clear();
    std::sort(line.stops.begin(), line.stops.end());
    line.stops.erase(std::unique(line.stops.begin(), line.stops.end()), line.stops.end());
    for (On& on : line.leaves) {
      const auto at = std::lower_bound(line.stops.begin(), line.stops.end(), on.at);
      on.stop = static_cast<std::size_t>(at - line.stops.begin());
    }
  }
  find_divisors();
  binds_ = binds_ || !divisors_.empty();
}

/// Divisors whose sign another comparison tells: x - 2 of 1 / (x - 2), beside x > 2.
void Arrangement::find_divisors() {
  divisors_.clear();
  divided_.clear();
  for (std::size_t i = 0; i < slacks_.size(); ++i) {
    if (!slacks_[i]) continue;
    bool any = false;
    for (const Term& term : slacks_[i]->form.terms()) {
      for (const AtomPower& power : term.powers) {
        const Polynomial* divisor = algebra_.divisor(power.atom);
        if (divisor == nullptr) continue;
        const Zero zero = zero_of(*divisor);
        const auto line = line_of_.find(zero.line);
        if (line == line_of_.end() || lines_[line->second].stops.empty()) continue;
        any = true;
        divisors_.push_back({power.atom, line->second, zero.rises, zero.at});
      }
    }
    if (!any) continue;
    divided_.push_back(i);
    slacks_[i]->otherwise = algebra_.said_otherwise(slacks_[i]->form);
  }
}

/// 1 or -1 where the divisor has that sign all over the stretch, else 0.
int Arrangement::sign_in(const Line& line, const Divisor& divisor, std::size_t stretch) {
  const std::size_t below = stretch / 2;
  int side = 0;
  if (stretch % 2 == 1) {
    side = (line.stops[below] - divisor.zero).sign();
  } else if (below > 0 && line.stops[below - 1] >= divisor.zero) {
    side = 1;
  } else if (below < line.stops.size() && line.stops[below] <= divisor.zero) {
    side = -1;
  }
  return divisor.rises ? side : -side;
}

void Arrangement::add(std::size_t i, const Leaf& leaf) {
  if (leaf.has_pieces) return;
  const OpCode code = leaf.code;
  const auto put = [&](std::uint32_t form, On on) {
    const auto [at, fresh] = line_of_.try_emplace(form, lines_.size());
    if (fresh) lines_.emplace_back();
    lines_[at->second].leaves.push_back(std::move(on));
  };
  const auto form = [&](Reg reg) { return algebra_.form(leaf.part, reg); };
  const Polynomial* lower = leaf.compares() ? form(leaf.lower).number : nullptr;
  std::optional<Polynomial> slack;
  if (leaf.end != nullptr) {
    const ExactInterval& end = leaf.end->exact;
    slack = leaf.sign > 0 ? end.hi_value : -end.lo_value;
  } else if (leaf.compares() && form(leaf.upper).number != nullptr) {
    slack = *form(leaf.upper).number;
  }
  if (slack && lower != nullptr) slack = sum(*slack, *lower, -leaf.sign);
  if (!slack || lower == nullptr) {
    if (!leaf.is_piece()) put(form(leaf.reg).id, {i, OpCode::same, false, {}, 0});
    return;
  }
  slack = algebra_.without_shared(*slack);
  slacks_[i] = {code, *slack, {}, algebra_.cleared(*slack)};
  if (slack->is_constant()) return;
  const Zero zero = zero_of(*slack);
  put(zero.line, {i, code, zero.rises, zero.at, 0});
}

Arrangement::Zero Arrangement::zero_of(const Polynomial& form) {
  const Polynomial line = form.without_constant();
  const Rational factor = line.leading();
  return {algebra_.of(line.scaled(Rational(1) / factor)).id, factor.sign() > 0, -form.constant() / factor};
}

/// What the range of the difference alone tells.
Bits Arrangement::by_range(std::size_t leaf) {
  if (!slacks_[leaf]) return undecided;
  const auto& [code, form, otherwise, cleared] = *slacks_[leaf];
  Bits bits = by_range(code, form);
  for (std::size_t i = 0; i < otherwise.size() && bits == undecided; ++i) bits = by_range(code, otherwise[i]);
  if (bits != undecided || !cleared) return bits;
  const int sign = algebra_.sign(cleared->by);
  return sign == 0 ? bits : by_range(code, cleared->number.scaled(sign));
}

Bits Arrangement::by_range(OpCode code, const Polynomial& form) {
  if (const int sign = algebra_.sign(form); sign != 0) return answer_of(code, sign);
  const ExactInterval zero = ExactInterval::point(0), range = algebra_.range(form);
  bench_->fast.limits.steps -= static_cast<std::int64_t>(form.terms().size()) * exact_cost;
  if (range.empty) return undecided;
  return code == OpCode::eq   ? equal_bits(zero, range)
         : code == OpCode::lt ? less_bits(zero, range)
                              : less_equal_bits(zero, range);
}

std::vector<Bits> Arrangement::known(const std::vector<Leaf>& leaves) {
  algebra_.enter_box();
  std::vector<Bits> out;
  for (std::size_t i = 0; i < leaves.size(); ++i)
    out.push_back(leaves[i].bits == undecided ? by_range(i) : leaves[i].bits);
  return out;
}

Bits Arrangement::answer(const Line& line, const On& on, std::size_t stretch) {
  if (line.stops.empty()) return truth_bits(stretch == 1);
  const std::size_t stop = 2 * on.stop + 1;
  if (on.code == OpCode::eq || stretch == stop)
    return truth_bits((stretch == stop) == (on.code != OpCode::lt));
  return truth_bits((stretch > stop) == on.turned);
}

/// What is decided already allows it.
bool Arrangement::possible(const Line& line, std::size_t stretch, const std::vector<Bits>& known) {
  return std::all_of(line.leaves.begin(), line.leaves.end(), [&](const On& on) {
    return (known[on.leaf] & may_undef) != 0 || (known[on.leaf] & answer(line, on, stretch)) != 0;
  });
}

struct Arrangement::Turn {
  const Line* line;
  std::vector<std::size_t> stretches;
  std::size_t at = 0;
};

/// Whether what comparisons with a divisor answer goes together with its sign in these stretches.
bool Arrangement::agree(const std::vector<Turn>& turns, const std::vector<Bits>& at_first,
                        std::vector<Bits>& bits) {
  std::vector<std::pair<std::uint32_t, ExactInterval>> before;
  for (const Divisor& divisor : divisors_) {
    const auto turn = std::find_if(turns.begin(), turns.end(),
                                   [&](const Turn& one) { return one.line == &lines_[divisor.line]; });
    if (turn == turns.end()) continue;
    const int sign = sign_in(*turn->line, divisor, turn->stretches[turn->at]);
    if (sign == 0) continue;
    ExactInterval side = ExactInterval::entire();
    (sign > 0 ? side.lo_infinite : side.hi_infinite) = false;
    before.emplace_back(divisor.atom, algebra_.range(divisor.atom));
    algebra_.narrow(divisor.atom, intersect(side, before.back().second));
  }
  bool all = true;
  for (const std::size_t leaf : divided_) {
    if (before.empty() || at_first[leaf] != undecided) continue;
    const Bits told = by_range(leaf);
    all = all && (told & bits[leaf]) != 0;
    bits[leaf] &= told;
  }
  for (auto one = before.rbegin(); one != before.rend(); ++one) algebra_.narrow(one->first, one->second);
  return all;
}

void Arrangement::walk(const std::vector<Leaf>& leaves, const Each& each) {
  const std::vector<Bits> at_first = known(leaves);
  std::vector<Bits> bits;
  std::vector<Turn> turns;
  std::size_t ways = 1;
  std::vector<const Line*> order;  // of those that bind most, first
  for (const Line& line : lines_) order.push_back(&line);
  std::stable_sort(order.begin(), order.end(),
                   [](const Line* a, const Line* b) { return a->leaves.size() > b->leaves.size(); });
  for (const Line* line : order) {
    const bool open = std::any_of(line->leaves.begin(), line->leaves.end(),
                                  [&](const On& on) { return at_first[on.leaf] == undecided; });
    if (!open || line->stretches() * ways > most_ways) continue;
    Turn turn{line, {}, 0};
    for (std::size_t stretch = 0; stretch < line->stretches(); ++stretch)
      if (possible(*line, stretch, at_first)) turn.stretches.push_back(stretch);
    if (turn.stretches.empty()) continue;
    ways *= turn.stretches.size();
    turns.push_back(std::move(turn));
  }
  for (std::size_t way = 0; way < ways; ++way) {
    bits = at_first;
    for (const Turn& turn : turns) {
      for (const On& on : turn.line->leaves) {
        if (at_first[on.leaf] == undecided) bits[on.leaf] = answer(*turn.line, on, turn.stretches[turn.at]);
      }
    }
    if (go_together(bits) && agree(turns, at_first, bits) && !each(bits)) return;
    for (Turn& turn : turns) {
      if (++turn.at < turn.stretches.size()) break;
      turn.at = 0;
    }
  }
}

}  // namespace mm
