#include "evaluate/search.hpp"

#include <algorithm>

#include "evaluate/unfold.hpp"

namespace mm {

namespace {

constexpr std::size_t coarse_pieces = 16;  // of a continuous quantifier, exactly and over a wide box

bool looks_up(const Claim& claim) {
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  return std::any_of(parts, parts + count,
                     [](const Claim::Part& part) { return !part.program->lookups.empty(); });
}

}  // namespace

Verdict verdict_of(const Judged& judged) {
  if (judged.not_applicable()) return Verdict::not_applicable;
  if (judged.holds == surely_yes) return Verdict::fits;
  if (judged.holds == surely_no) return Verdict::conflict;
  return Verdict::unknown;
}

void Search::keep_ranges() {
  kept_.clear();
  for (std::size_t i = 0; i < variables_->size(); ++i) {
    const Variable& variable = (*variables_)[i];
    kept_.emplace_back(variable.number ? bench_->box.exact(variable.cell) : ExactInterval::none(),
                       variable.number ? nullptr : bench_->box.symbols(variable.cell));
  }
}

void Search::put_back() {
  for (std::size_t i = 0; i < variables_->size(); ++i) {
    const Variable& variable = (*variables_)[i];
    if (variable.number) {
      bench_->box.narrow_exact(variable.cell, kept_[i].first);
    } else {
      bench_->box.narrow_symbols(variable.cell, kept_[i].second);
    }
  }
}

/// Of a claim whose values are all known: by what its comparisons have to do with each other, and where it
/// hangs on the row of a table.
void Search::decide_known(const Claim& claim, Decision& decision) {
  Worlds worlds;
  arrange(decision);
  if (decision.verdict == Verdict::unknown && looks_up_) try_rows(claim, worlds);
  if (decision.verdict == Verdict::unknown && !worlds.mixed()) look_closer(claim, worlds, decision);
  decision.certified = decision.rows_disagree = worlds.mixed();
  decision.precision_limit = decision.verdict == Verdict::unknown && !worlds.mixed();
}

/// By what comparisons have to do with each other.
void Search::arrange(Decision& decision) {
  decision.verdict = verdict_of(tightener_.arrange());
  decision.split = decision.verdict != Verdict::unknown;
}

namespace {

bool has_ranges(const Claim& claim) {
  Claim::Part parts[3];
  const std::size_t count = claim.parts(parts);
  return std::any_of(parts, parts + count, [](const Claim::Part& part) {
    const auto& ops = part.program->blocks[part.block].ops;
    return std::any_of(ops.begin(), ops.end(), [](const Op& op) { return is_over_range(op.code); });
  });
}

}  // namespace

/// The claim written out, if that says it otherwise: briefly, then fully; then the box in pieces.
void Search::look_closer(const Claim& claim, Worlds& worlds, Decision& decision) {
  const auto open = [&] { return decision.is_open(worlds); };
  if (has_ranges(claim)) judge_anywhere(claim, decision);
  if (!open()) return;
  const Unfolded unfolded(*bench_, claim, Unfolded::Extent::briefly);
  const Claim& plain = unfolded.differs() ? unfolded.claim() : claim;
  if (unfolded.differs()) judge_written(plain, worlds, decision);
  look_at(plain, worlds, decision);
  if (open()) {
    const HalfOfSteps half(*bench_);  // the rest is for the pieces
    const Unfolded fully(*bench_, claim, Unfolded::Extent::fully);
    const Claim& written = fully.says_more() ? fully.claim() : plain;
    if (fully.says_more()) judge_written(written, worlds, decision);
    if (open()) try_walks(written, worlds);
    if (open() && fully.says_more()) look_at(written, worlds, decision);
    if (open()) try_roots(written, worlds);
  }
  if (open()) {
    take_again(plain);
    cut(plain, worlds, decision);
  }
  put_back();
  tightener_.take(claim, *variables_);
}

/// Of a claim written out: what is plain only now.
void Search::judge_written(const Claim& claim, Worlds& worlds, Decision& decision) {
  tightener_.take(claim, *variables_);
  decision.verdict = verdict_of(judge_closely());
  decision.split = decision.verdict != Verdict::unknown;
  // a quantifier's rows too
  if (decision.is_open(worlds) && looks_up_) try_samples(claim, worlds, false);
}

/// Of a claim, or of one written out: worlds of no width, and stretches.
void Search::look_at(const Claim& claim, Worlds& worlds, Decision& decision) {
  const auto open = [&] { return decision.is_open(worlds); };
  if (open()) try_crossings(claim, worlds);
  if (open()) try_stretches(claim, worlds, decision);
  if (open() && looks_up_) judge_rows(claim, decision);
}

/// Of a claim with quantifiers over ranges of numbers: at any one number of each.
void Search::judge_anywhere(const Claim& claim, Decision& decision) {
  const Unfolded anywhere(*bench_, claim, Unfolded::Extent::freely);
  if (!anywhere.differs() || !anywhere.is_free()) return;  // without one the next step says as much
  tightener_.take(anywhere.claim(), *variables_);
  decision.verdict = verdict_of(judge_closely());
  decision.split = decision.verdict != Verdict::unknown;
  if (!decision.split && looks_up_) judge_rows(anywhere.claim(), decision);
  tightener_.take(claim, *variables_);
}

/// The box as it stands, by slopes and by what comparisons have to do with each other.
Judged Search::judge_closely() {
  bool fast = false;
  const Judged judged = tightener_.tighten(Care::slopes, fast);
  return judged.not_applicable() || is_single(judged.holds) ? judged : tightener_.arrange();
}

/// What was arranged last was for another claim, or a part of the box: for what is still to come, anew.
void Search::take_again(const Claim& claim) {
  tightener_.take(claim, *variables_);
  bool fast = false;
  tightener_.tighten(Care::doubles, fast);
  tightener_.arrange();
}

Judged Search::glance(Bits wanted) {
  bool fast = false;
  return tightener_.tighten(Care::corners, fast, wanted);
}

Verdict Search::glance(const Claim& claim, const Variables& variables) {
  variables_ = &variables;
  tightener_.take(claim, variables);
  return verdict_of(glance());
}

Judged Search::glance_within(const Claim& claim, const Variables& variables, const Inspection& inspected,
                             bool closely, Bits wanted) {
  variables_ = &variables;
  tightener_.take_within(claim, variables, inspected.leaves);
  const Judged judged = glance(wanted);
  if (!closely || verdict_of(judged) != Verdict::unknown || bench_->spent()) return judged;
  const Judged together = tightener_.arrange(false);
  return verdict_of(together) == Verdict::unknown ? judged : together;
}

bool Inspection::hangs_together() const { return leaves.size() > 1 && !slacks.all_of_test(); }

bool Inspection::matters(std::size_t variable) const {
  return std::any_of(leaves.begin(), leaves.end(), [&](const Leaf& leaf) {
    return !is_single(leaf.bits) && leaf.moves[variable] != still;
  });
}

Inspection Search::inspect(const Claim& claim, const Variables& variables, bool tightened) {
  Inspection inspected;
  inspected.verdict = tightened ? verdict_of(tightener_.tighten_on()) : glance(claim, variables);
  inspected.leaves = tightener_.leaves();
  inspected.slacks.take(*bench_, claim, variables);
  return inspected;
}

/// Of a claim whose test holds: whether a condition of it never does. Not looked for further than a glance.
bool Search::never_applies(const Claim& claim, const Variables& variables) {
  const auto never = [&](const Claim& condition) {
    return judge(bench_->fast, *bench_, condition).holds != surely_yes &&
           glance(condition, variables) == Verdict::conflict;
  };
  if (claim.rule != nullptr && claim.rule->where != no_block && never({nullptr, claim.rule, claim.binding}))
    return true;
  return claim.requirement != nullptr && claim.requirement->when != no_block &&
         never({claim.requirement, nullptr, claim.binding, true});
}

Decision Search::with_conditions(const Claim& claim, Decision decision) {
  if (decision.verdict == Verdict::fits && never_applies(claim, *variables_))
    decision.verdict = Verdict::not_applicable;
  return decision;
}

Decision Search::decide(const Claim& claim, const Variables& variables) {
  return with_conditions(claim, decide_test(claim, variables));
}

Decision Search::decide_on(const Claim& claim, const Judged& glanced) {
  looks_up_ = looks_up(claim);
  if (keep_worlds_) certificate_ = std::make_shared<Certificate>();
  return with_conditions(claim, decide_further(claim, glanced, false));
}

Decision Search::decide_test(const Claim& claim, const Variables& variables) {
  variables_ = &variables;
  looks_up_ = looks_up(claim);
  if (keep_worlds_) certificate_ = std::make_shared<Certificate>();
  Decision decision;
  const Judged quick = judge(bench_->fast, *bench_, claim);
  decision.verdict = verdict_of(quick);
  if (decision.verdict != Verdict::unknown) return decision;
  tightener_.take(claim, variables);
  bool fast = false;
  const Judged judged = tightener_.tighten(Care::doubles, fast);
  decision.verdict = verdict_of(judged);
  if (fast && decision.verdict != Verdict::unknown) return decision;
  return decide_further(claim, judged, fast);
}

/// On from what was judged by doubles, or better.
Decision Search::decide_further(const Claim& claim, Judged judged, bool fast) {
  const Variables& variables = *variables_;
  Decision decision;
  decision.verdict = verdict_of(judged);
  keep_ranges();
  Worlds worlds;
  if (decision.verdict == Verdict::unknown && !fast && variables.size() > 0) {
    try_corners(claim, worlds, false);
    if (!worlds.mixed()) try_corners(claim, worlds, true);
    decision.tightened = worlds.mixed();
  }
  if (decision.verdict == Verdict::unknown && !worlds.mixed() && !fast) {
    bench_->sharp.limits.range_pieces = coarse_pieces;
    const Judged plain = judge(bench_->sharp, *bench_, claim);
    bench_->sharp.limits.range_pieces = MachineLimits{}.range_pieces;
    decision.verdict = verdict_of(plain);
    if (decision.verdict != Verdict::unknown || variables.size() == 0 || plain.holds == may_undef) {
      decision.undefined = (plain.holds & may_undef) != 0;
      decision.precision_limit =
          decision.verdict == Verdict::unknown && (plain.holds & undecided) == undecided;
      if (decision.precision_limit && variables.size() == 0) decide_known(claim, decision);
      put_back();
      return decision;
    }
    judged = tightener_.tighten(Care::slopes, fast);
    decision.verdict = verdict_of(judged);
  }
  decision.undefined = (judged.holds & may_undef) != 0;
  if (decision.verdict == Verdict::unknown && judged.holds != may_undef) {
    const auto open = [&] { return decision.is_open(worlds); };
    if (!worlds.mixed()) try_samples(claim, worlds, true);
    if (open()) arrange(decision);
    if (open()) look_closer(claim, worlds, decision);
    decision.certified = worlds.mixed();
    decision.rows_disagree = worlds.mixed() && worlds.rows_disagree;
    decision.undefined = decision.undefined || worlds.undefined;
    decision.precision_limit = decision.verdict == Verdict::unknown && !worlds.mixed() && !worlds.undefined;
  } else if (decision.verdict != Verdict::unknown) {
    decision.split = true;
  }
  if (decision.verdict != Verdict::unknown) decision.undefined = false;
  put_back();
  return decision;
}

}  // namespace mm
