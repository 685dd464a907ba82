#include <algorithm>
#include <cmath>

#include "base/date_text.hpp"
#include "evaluate/told_unit.hpp"
#include "evaluate/tracer_state.hpp"

namespace mm {

namespace {

/// Behind the point: four, and of a small number enough for three that count.
int digits_for(const Rational& value) {
  constexpr int usual = 4, most = 10;
  int digits = usual;
  for (Rational size = abs(value) * 100; size != 0 && size < 1 && digits <= most; size *= 10) ++digits;
  return digits <= most ? digits : usual;
}

/// Rounded to the safe side, unless rounding of arithmetic alone keeps it from the nearest decimal.
std::string safe_end_text(const Rational& lo, const Rational& hi, SafeEnd safe) {
  const bool up = safe == SafeEnd::upper;
  const Rational& end = up ? hi : lo;
  const int digits = digits_for(end);
  const Rational scale = whole_power(10, digits);
  const Rational nearest = floor(end * scale + Rational(1, 2)) / scale;
  const bool narrow = (hi - lo) * 1'000'000'000'000 <= abs(hi);
  const bool keeps = (up ? nearest >= end : nearest <= end) || (narrow && lo <= nearest && nearest <= hi);
  const Rational told = keeps ? nearest : (up ? ceil(end * scale) : floor(end * scale)) / scale;
  return told == 0 ? nonzero_decimal_text(end, digits) : decimal_text(told, digits);
}

SafeEnd safe_end_behind(std::string_view text) {
  if (text.ends_with("t least ")) return SafeEnd::upper;
  return text.ends_with("t most ") ? SafeEnd::lower : SafeEnd::both;
}

std::string symbols_text(const Model& model, const Names& names, const SymbolicSet& set, bool designation) {
  if (set.all) return "?";
  std::string out;
  for (const std::uint32_t member : set.members) {
    if (!out.empty()) out += " or ";
    if (designation) {
      out += model.designation_consts[DesignationConstId{member}].text;
    } else if (member < names.size()) {
      out += names.text(Symbol{member});
    }
  }
  return out.empty() ? "?" : out;
}

}  // namespace

std::string quantity_text(const UnitTable& units, const Names& names, const ExactInterval& value,
                          const Dimension& dimension, const Unit* wanted, bool difference, SafeEnd safe) {
  if (value.empty || value.lo_infinite || value.hi_infinite) return "?";
  const bool other_zero = wanted != nullptr && wanted->offset != 0 && difference;
  const std::optional<Unit> unit =
      told_unit(units, names, dimension, other_zero ? nullptr : wanted, difference);
  Rational lo = value.lo_value, hi = value.hi_value;
  if (unit) {
    lo = from_base(lo, *unit);
    hi = from_base(hi, *unit);
    if (hi < lo) std::swap(lo, hi);
  }
  std::string out;
  if (safe != SafeEnd::both) {
    out = safe_end_text(lo, hi, safe);
  } else {
    out = nonzero_decimal_text(lo, digits_for(lo));
    const std::string to = nonzero_decimal_text(hi, digits_for(hi));
    if (to != out) out += ".." + to;
  }
  if (unit && !unit->text.empty()) out += unit->text == "%" ? unit->text : " " + unit->text;
  return out;
}

std::string Tracer::State::text_of(const TextPiece& piece, const Finding& finding,
                                   const ExactInterval& number, SafeEnd safe) {
  const Program& program = model.requirements[finding.requirement].program;
  const auto& value = bench.sharp.at(program.blocks[piece.block].result);
  if (value.state == may_undef) return "?";
  switch (value.kind) {
    case ValueKind::truth:
      return value.state == surely_yes ? "yes" : value.state == surely_no ? "no" : "yes or no";
    case ValueKind::entity:
      return value.entity ? entity_name(model, bench.index.build, value.entity, names) : "?";
    case ValueKind::symbol:
    case ValueKind::designation:
      return value.symbols == nullptr
                 ? "?"
                 : symbols_text(model, names, *value.symbols, value.kind == ValueKind::designation);
    case ValueKind::number:
      break;
  }
  const bool known = !number.empty && !number.lo_infinite && !number.hi_infinite;
  if (piece.type.kind == TypeKind::boolean && known) {
    return !number.is_point() ? "yes or no" : number.lo_value == 0 ? "no" : "yes";
  }
  if (piece.type.kind == TypeKind::date && known && number.is_point()) {
    const auto day = whole_word(number.lo_value);
    return day ? date_text(*day) : "?";
  }
  // the unit in which a value that was read is written, if one has this dimension
  const bool difference = piece.type.is_difference();
  const auto fits = [&](const Unit& unit) { return unit.tells(piece.type.dimension, difference); };
  const Unit* wanted = nullptr;
  const auto look_at = [&](CellId cell) {
    const GivenId given = bench.index.build.cells[cell].given;
    const AttributeDef* def = bench.index.attribute(cell);
    if (wanted == nullptr && given && bench.index.build.givens[given].unit &&
        fits(*bench.index.build.givens[given].unit)) {
      wanted = bench.index.build.givens[given].unit;
    }
    if (wanted == nullptr && def != nullptr && def->shown_in && fits(*def->shown_in)) {
      wanted = &*def->shown_in;
    }
  };
  for (const CellId cell : bench.reads.cells()) look_at(cell);
  if (!finding.cases.empty())  // what it is held against
    for (const CellId cell : finding.cases[0].outcome.reads) look_at(cell);
  const auto& unit = model.requirements[finding.requirement].margin_unit;
  if (wanted == nullptr && unit && fits(*unit)) wanted = &*unit;
  return quantity_text(model.units, names, number, piece.type.dimension, wanted, difference, safe);
}

/// What the piece comes to. Behind "at least" or "at most" knobs are set as is best: they can be.
ExactInterval Tracer::State::number_of(const TextPiece& piece, const Program& program, const Binding& binding,
                                       SafeEnd safe) {
  const Reg result = program.blocks[piece.block].result;
  ExactInterval plain = bench.sharp.at(result).number;
  if (bench.sharp.at(result).kind != ValueKind::number || plain.is_point()) return plain;
  plain = intersect(plain, best_set_range(bench, {&program, piece.block}, binding, safe));
  bench.sharp.start(program, binding, bench.world, bench.box);
  bench.sharp.run(piece.block);
  return plain;
}

/// The values that nobody has given and that keep the piece from being one thing.
std::vector<CellId> Tracer::State::missing_in(const TextPiece& piece, const Finding& finding) {
  const auto& value =
      bench.sharp.at(model.requirements[finding.requirement].program.blocks[piece.block].result);
  const bool is_one = value.kind == ValueKind::number  ? value.number.is_point()
                      : value.kind == ValueKind::truth ? is_single(value.state)
                      : value.kind == ValueKind::entity
                          ? true
                          : value.symbols != nullptr && value.symbols->members.size() == 1;
  std::vector<CellId> out;
  if (is_one) return out;
  for (const CellId cell : bench.reads.cells())
    if ((bench.index.build.cells[cell].flags & cell_missing) != 0) out.push_back(cell);
  return out;
}

Tracer::Filled Tracer::fill(const Finding& finding, std::size_t case_index, const Template& text) {
  State& s = *state_;
  s.enter(finding, case_index);
  const Program& program = s.model.requirements[finding.requirement].program;
  Filled out;
  for (const TextPiece& piece : text) {
    if (piece.block == no_block) {
      out.text += piece.text;
      continue;
    }
    s.bench.reads.start();
    s.bench.sharp.start(program, *finding.binding, s.bench.world, s.bench.box);
    s.bench.sharp.run(piece.block);
    s.bench.sharp.trace_reads(piece.block, s.bench.reads, nullptr);
    const std::vector<CellId> missing = s.missing_in(piece, finding);
    const SafeEnd safe = safe_end_behind(out.text);
    if (missing.empty())
      out.text += s.text_of(piece, finding, s.number_of(piece, program, *finding.binding, safe), safe);
    else
      out.text += "?";
    for (const CellId cell : missing)
      if (std::find(out.missing.begin(), out.missing.end(), cell) == out.missing.end())
        out.missing.push_back(cell);
  }
  return out;
}

}  // namespace mm
