#include "evaluate/stretches.hpp"

#include <algorithm>

namespace mm {

namespace {

constexpr std::size_t most_stops = 24;  // of one value
constexpr std::size_t most_whole = 48;  // numbers that a count may be

/// factor * atom + constant, where the form is that.
struct Line {
  Rational factor, constant;
  std::uint32_t atom = 0;
};

std::optional<Line> line_of(const Polynomial& form) {
  const Polynomial moving = form.without_constant();
  if (moving.terms().size() != 1) return std::nullopt;
  const Term& term = moving.terms()[0];
  if (term.powers.size() != 1 || term.powers[0].power != 1) return std::nullopt;
  return Line{term.factor, form.constant(), term.powers[0].atom};
}

class Finder {
 public:
  Finder(Bench& bench, const Claim& claim, const Variables& variables)
      : bench_(bench), algebra_(bench), variables_(variables) {
    algebra_.take(claim);
    each_step(bench.fast, bench, claim, [&](const Claim::Part& part, std::size_t p, const Op& op) {
      part_ = p;
      look_at(op, *part.program);
    });
    for (std::size_t v = 0; v < variables.size(); ++v)
      if (variables[v].integer) add_whole_numbers(v);
    for (Stretches& one : found_) {
      std::sort(one.stops.begin(), one.stops.end());
      one.stops.erase(std::unique(one.stops.begin(), one.stops.end()), one.stops.end());
    }
    std::erase_if(found_, [&](const Stretches& one) {
      return one.stops.size() > (variables[one.variable].integer ? most_whole : most_stops);
    });
    std::stable_sort(found_.begin(), found_.end(), [](const Stretches& a, const Stretches& b) {
      return a.questions.size() > b.questions.size();
    });
  }
  std::vector<Stretches> take() { return std::move(found_); }

 private:
  void look_at(const Op& op, const Program& program) {
    const bool compares = is_comparison(op.code);
    if (!compares && op.code != OpCode::in_table) return;
    if (bench_.fast.truth_of(bench_.fast.at(op.target)) != undecided) return;
    return compares ? ask(op) : ask(op, program.lookups[op.payload]);
  }

  void ask(const Op& op) {
    const Polynomial* a = algebra_.form(part_, op.a).number;
    const Polynomial* b = algebra_.form(part_, op.b).number;
    const auto slack = a != nullptr && b != nullptr ? sum(*b, *a, -1) : std::nullopt;
    if (slack) add(op, *slack, {}, {Rational(0)});
  }

  void ask(const Op& op, const Lookup& lookup) {
    if (lookup.conditions.size() != 1 || lookup.conditions[0].op != BinaryOp::eq) return;
    const Polynomial* key = algebra_.form(part_, lookup.conditions[0].value).number;
    if (key == nullptr) return;
    std::vector<const NumberConst*> rows;
    std::vector<Rational> ends;
    for (const auto& row : bench_.index.model.tables[lookup.table].rows) {
      const NumberId number = row[lookup.conditions[0].column].number;
      if (!number) return;
      const NumberConst& range = bench_.index.model.numbers[number];
      rows.push_back(&range);
      if (!range.exact.lo_infinite) ends.push_back(range.exact.lo_value);
      if (!range.exact.hi_infinite) ends.push_back(range.exact.hi_value);
    }
    add(op, *key, std::move(rows), ends);
  }

  /// Where `number` comes to one of `ends` the answer may change.
  void add(const Op& op, const Polynomial& number, std::vector<const NumberConst*> rows,
           const std::vector<Rational>& ends) {
    const auto line = line_of(number);
    const CellId cell = line ? algebra_.cell(line->atom) : CellId{};
    std::size_t v = 0;
    while (v < variables_.size() && variables_[v].cell != cell) ++v;
    if (!cell || v == variables_.size()) return;
    Stretches& along = of(v);
    along.questions.push_back({&op, line->factor, line->constant, std::move(rows)});
    for (const Rational& end : ends) along.stops.push_back((end - line->constant) / line->factor);
  }

  Stretches& of(std::size_t v) {
    auto at =
        std::find_if(found_.begin(), found_.end(), [&](const Stretches& one) { return one.variable == v; });
    return at == found_.end() ? *found_.insert(at, Stretches{v, {}, {}}) : *at;
  }

  /// Each that a count may be is a stop, where they are few.
  void add_whole_numbers(std::size_t v) {
    const ExactInterval range = bench_.box.exact(variables_[v].cell);
    if (range.empty || range.lo_infinite || range.hi_infinite || range.is_point()) return;
    const Rational first = ceil(range.lo_value), last = floor(range.hi_value);
    if (last - first >= Rational(static_cast<std::int64_t>(most_whole))) return;
    std::vector<Rational>& stops = of(v).stops;  // what lies between them is no stop
    stops.clear();
    for (Rational at = first; at <= last; at += 1) stops.push_back(at);
  }

  Bench& bench_;
  Algebra algebra_;
  const Variables& variables_;
  std::size_t part_ = 0;
  std::vector<Stretches> found_;
};

}  // namespace

ExactInterval Stretches::range(std::size_t stretch, const ExactInterval& whole, bool integer) const {
  const std::size_t below = stretch / 2;  // stops below it, or at it
  ExactInterval out = ExactInterval::entire();
  if (stretch % 2 == 1) {
    out = ExactInterval::point(stops[below]);
  } else {
    if (below > 0) out.lo_infinite = false, out.lo_value = stops[below - 1];
    if (below < stops.size()) out.hi_infinite = false, out.hi_value = stops[below];
  }
  const bool open = stretch % 2 == 0;
  out = intersect(out, whole);
  if (out.empty) return out;
  if (integer && open) {
    if (below > 0 && out.lo_value == stops[below - 1]) out.lo_value = floor(out.lo_value) + 1;
    if (below < stops.size() && out.hi_value == stops[below]) out.hi_value = ceil(out.hi_value) - 1;
    if (!out.lo_infinite && !out.hi_infinite && out.lo_value > out.hi_value) return ExactInterval::none();
  }
  // an end alone, which is a stop, is none of it
  const bool at_stop =
      open && out.is_point() && std::find(stops.begin(), stops.end(), out.lo_value) != stops.end();
  return at_stop || (integer && out.is_point() && !out.lo_value.is_whole()) ? ExactInterval::none() : out;
}

Answers Stretches::answers(std::size_t stretch) const {
  const std::size_t below = stretch / 2;
  Rational sample;
  if (stretch % 2 == 1) {
    sample = stops[below];
  } else if (below == 0) {
    sample = stops[0] - 1;
  } else {
    sample = below == stops.size() ? stops[below - 1] + 1 : (stops[below - 1] + stops[below]) / 2;
  }
  Answers out;
  for (const Question& question : questions) {
    const Rational value = question.factor * sample + question.constant;
    const bool in_row = std::any_of(question.rows.begin(), question.rows.end(),
                                    [&](const NumberConst* row) { return row->exact.contains(value); });
    out.emplace_back(question.op, question.op->code == OpCode::in_table
                                      ? truth_bits(in_row)
                                      : answer_of(question.op->code, value.sign()));
  }
  return out;
}

std::vector<Stretches> find_stretches(Bench& bench, const Claim& claim, const Variables& variables) {
  return Finder(bench, claim, variables).take();
}

}  // namespace mm
