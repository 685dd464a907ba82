// The items of a quantifier over a continuous range.
#include <cmath>

#include "evaluate/tracer_state.hpp"

namespace mm {

namespace {

/// Sixteenths of a range: its ends before what lies between.
constexpr int tried[] = {16, 0, 8, 4, 12, 2, 6, 10, 14, 1, 3, 5, 7, 9, 11, 13, 15};

}  // namespace

/// A value that decides it, if one is met; else the whole range, or the eighths of it that are not settled.
void Tracer::State::range_items(const Program& program, const Op& op, std::vector<TraceNode>& nodes) {
  const Quantifier& q = program.quantifiers[op.payload];
  TraceNode out = std::move(nodes[op.target]);
  const Interval lo = bench.fast.at(q.lo).number, hi = bench.fast.at(q.hi).number;
  const Interval range = Interval::of(lo.lo(), hi.hi);
  const Dimension dimension = q.lo < program.types.size() ? program.types[q.lo].dimension : Dimension{};
  const bool every = op.code == OpCode::every_number;
  adopt(out, nodes[q.lo]);
  adopt(out, nodes[q.hi]);
  const auto bind = [&](const Interval& z) {
    bench.fast.bind_number(q.slot, z);
    if (runs_exactly) bench.sharp.bind_number(q.slot, ExactInterval::from(z));
  };
  const auto tell = [&](const Interval& z) {
    TraceNode item = nodes[program.blocks[q.body].result];
    item.label = "at " + std::string(names.text(q.name)) + " = " +
                 quantity_text(model.units, names, ExactInterval::from(z), dimension, q.unit, false);
    adopt(out, item);
  };
  const auto piece = [&](const Interval& z, bool always) {
    bind(z);
    if (q.where != no_block && bench.fast.truth(q.where) == surely_no) return;
    if (q.body == no_block) return;
    block(program, q.body, nodes);
    const bool settled = nodes[program.blocks[q.body].result].truth == (every ? Truth::yes : Truth::no);
    if (!settled || always) tell(z);
  };
  /// Of all that lies in the range for sure.
  const auto tell_deciding = [&] {
    const double from = lo.hi, to = hi.lo();
    if (!std::isfinite(from) || !std::isfinite(to) || !(from <= to) || q.body == no_block) return false;
    for (const int at : tried) {
      const double z = at == 16 ? to : from + (to - from) / 16 * at;
      bind(Interval::of(z, z));
      if (q.where != no_block && bench.fast.truth(q.where) != surely_yes) continue;
      if (bench.fast.spent() || bench.fast.truth(q.body) != (every ? surely_no : surely_yes)) continue;
      block(program, q.body, nodes);
      tell(Interval::of(z, z));
      return true;
    }
    return false;
  };
  const bool finite = std::isfinite(range.lo()) && std::isfinite(range.hi);
  const bool held = out.truth == (every ? Truth::yes : Truth::no);
  if (held || !finite || range.is_empty()) {
    if (!range.is_empty()) piece(range, true);
  } else if (!tell_deciding()) {
    for (int i = 0; i < 8; ++i) {
      const double step = (range.hi - range.lo()) / 8;
      piece(Interval::of(range.lo() + step * i, i == 7 ? range.hi : range.lo() + step * (i + 1)), false);
    }
  }
  nodes[op.target] = std::move(out);
}

}  // namespace mm
