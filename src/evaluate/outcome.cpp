#include "evaluate/outcome.hpp"

#include <algorithm>
#include <cmath>

#include "evaluate/none_reason.hpp"
#include "evaluate/unfold.hpp"

namespace mm {

void note_evidence(const BuildIndex& index, Outcome& outcome) {
  for (const CellId cell : outcome.reads) {
    const CellNote note = index.note(cell);
    outcome.default_spread = outcome.default_spread || note.default_spread;
    outcome.disputed = outcome.disputed || note.disputed;
    outcome.read_any = outcome.read_any || note.stated;
    outcome.evidence = std::max(outcome.evidence, note.grade);
  }
}

namespace {

/// "name = 5W": the first condition of a look-up, with its key.
std::string key_text(const Bench& bench, const Names& names, const UndefinedAt& at) {
  const TableDef& table = bench.index.model.tables[TableId{at.table}];
  if (at.column == no_reg || at.column >= table.columns.size()) return "these values";
  const AttributeDef& column = table.columns[at.column];
  std::string text = std::string(names.text(column.name)) + " = ";
  if (at.symbol != no_reg) {
    if (column.type.kind == TypeKind::designation) {
      return text + "\"" + bench.index.model.designation_consts[DesignationConstId{at.symbol}].text + "\"";
    }
    return text + (at.symbol < names.size() ? std::string(names.text(Symbol{at.symbol})) : "this value");
  }
  if (at.key.is_empty() || !std::isfinite(at.key.lo()) || !std::isfinite(at.key.hi))
    return text + "every value";
  const auto shown = [&](double value) {
    Rational number = exact(value);
    if (column.shown_in && column.shown_in->pi_power == 0) number = from_base(number, *column.shown_in);
    return nonzero_decimal_text(number, 6);
  };
  text += shown(at.key.lo());
  if (shown(at.key.hi) != shown(at.key.lo())) text += ".." + shown(at.key.hi);
  if (column.shown_in) text += " " + column.shown_in->text;
  return text;
}

std::string table_reason(const Bench& bench, const Names& names, const UndefinedAt& at) {
  const TableDef& table = bench.index.model.tables[TableId{at.table}];
  if (at.incomplete_size)
    return "\"" + bench.index.model.designation_consts[DesignationConstId{at.symbol}].text +
           "\" does not say all that " + std::string(names.text(table.name)) +
           " compares of a size: read the whole size off the part";
  return "no row of " + std::string(names.text(table.name)) + " for " + key_text(bench, names, at);
}

}  // namespace

std::string undefined_reason(Bench& bench, const Names& names, const Claim& claim, OpCode& code) {
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  ReadLog reads;
  const auto found_by = [&](auto& machine) {
    UndefinedAt at;
    reads.start();
    for (std::size_t i = 0; i < count && !at.found; ++i) {
      machine.start(*parts[i].program, *claim.binding, bench.world, bench.box);
      machine.run(parts[i].block);
      machine.trace_reads(parts[i].block, reads, &at);
    }
    return at;
  };
  UndefinedAt at = found_by(bench.fast);
  if (!at.found) return "";
  // what the rounding of doubles alone leaves without a value has one
  const UndefinedAt exactly = found_by(bench.sharp);
  if (!bench.sharp.spent()) at = exactly;
  if (!at.found) return "";
  code = at.code;
  const auto name = [&] {
    return at.entity ? entity_name(bench.index.model, bench.index.build, at.entity, names)
                     : std::string("it");
  };
  switch (at.code) {
    case OpCode::div:
      return at.by_zero ? "division by zero" : "division by a range that holds zero";
    case OpCode::sqrt:
      return "root of a number that may be negative";
    case OpCode::ln:
      return "logarithm of a number that may not be positive";
    case OpCode::asin:
    case OpCode::acos:
      return "arc sine or cosine of a number that may lie outside -1..1";
    case OpCode::tan:
      return "tangent of an angle that may be a quarter turn";
    case OpCode::pow:
      return "power of a number that may not have one";
    case OpCode::mate: {
      const bool open = at.entity && bench.index.build.entities[at.entity].joint == no_reg;
      return name() + (open ? " is not joined" : " is joined to several faces");
    }
    case OpCode::lookup:
    case OpCode::in_table:
      return table_reason(bench, names, at);
    case OpCode::field:
      return "a size does not give what is asked of it";
    case OpCode::same:
      return "a field of one of the two designations is not known";
    case OpCode::attribute:
      return name() + " has no such value";
    case OpCode::choose:
      return "which part is meant is open";
    case OpCode::min_entities:
    case OpCode::max_entities:
      return none_reason(bench.index.model, names, at);
    default:
      return "arithmetic is undefined on part of the range";
  }
}

std::string disagreement(Bench& bench, const Names& names, const Claim& claim) {
  // the items of a quantifier ask too
  const Unfolded unfolded(bench, claim);
  const Claim& plain = unfolded.differs() ? unfolded.claim() : claim;
  std::string out;
  each_step(bench.fast, bench, plain, [&](const Claim::Part&, std::size_t, const Op& op) {
    if (!out.empty() || op.code != OpCode::lookup || bench.fast.rows_met(op, true, 2).size() < 2) return;
    const UndefinedAt at = bench.fast.asked_at(op);
    const TableDef& table = bench.index.model.tables[TableId{at.table}];
    out = "rows of " + std::string(names.text(table.name)) + " disagree for " + key_text(bench, names, at);
  });
  return out.empty() ? "rows of a table disagree" : out;
}

}  // namespace mm
