// States of the build that a requirement can tell apart: the candidates of each slot that it reads, and with
// and without each planned rework of a value that it reads. What is read may depend on the state (`if`,
// `where`), so the list grows until every state in it has been looked at and nothing new was read.
#include "evaluate/cases.hpp"

#include <algorithm>
#include <utility>

#include "evaluate/blames.hpp"
#include "evaluate/field_reason.hpp"
#include "evaluate/margin.hpp"
#include "evaluate/open_cell.hpp"
#include "evaluate/outcome.hpp"
#include "evaluate/precision.hpp"
#include "evaluate/settings.hpp"

namespace mm {

namespace {

constexpr std::size_t all_subsets_up_to = 3;  // reworks; beyond: none, each alone, all

template <class T>
bool add_new(std::vector<T>& list, const T& value) {
  const auto at = std::lower_bound(list.begin(), list.end(), value);
  if (at != list.end() && *at == value) return false;
  list.insert(at, value);
  return true;
}

}  // namespace

CaseJudge::CaseJudge(Bench& bench, const Names& names, const EvaluateOptions& options)
    : bench_(&bench), names_(&names), options_(options), search_(bench, options.max_splits) {
  if (options.keep_worlds) search_.keep_worlds();
  share_with(1);
}

void CaseJudge::share_with(std::size_t findings) {
  constexpr std::size_t in_all = 1024, at_least = 16;  // for each combination that may be tried
  const std::size_t combinations = std::min(options_.max_combinations, SIZE_MAX / in_all);
  most_entries_ = combinations * std::max(at_least, in_all / std::max<std::size_t>(findings, 1));
}

/// Slots and planned reworks behind the cells in the read log. True when the finding did not know one.
bool CaseJudge::note_touched(Finding& finding) {
  const Build& build = bench_->index.build;
  bool grew = false;
  for (const CellId cell : bench_->reads.cells()) {
    const CellOwner owner = bench_->index.owner(cell);
    const Entity& entity = build.entities[owner.entity];
    const Instance& instance = build.instances[entity.instance];
    const Fit& fit = build.fits[instance.fit];
    if (fit.is_slot && fit.candidates.size() > 1) grew |= add_new(finding.slots.edit(), instance.fit);
    const std::uint32_t done = bench_->index.done_mask(instance);
    for (std::size_t i = 0; i < instance.reworks.size(); ++i) {
      if (build.reworks[instance.reworks[i]].done) continue;
      for (std::size_t candidate = 0; candidate < fit.candidates.size(); ++candidate) {
        const std::size_t at = (candidate << instance.reworks.size()) | done | (std::size_t{1} << i);
        const CellId same = bench_->index.cell(owner, at);
        const GivenId given = build.cells[same].given;
        if (!given || build.givens[given].rework != instance.reworks[i]) continue;
        grew |= add_new(finding.reworks.edit(), instance.reworks[i]);
      }
    }
  }
  return grew;
}

std::vector<std::vector<std::uint32_t>> CaseJudge::rework_sets(const Finding& finding) const {
  const std::size_t count = finding.reworks.size();
  std::vector<std::vector<std::uint32_t>> sets{{}};
  if (count <= all_subsets_up_to) {
    for (std::size_t mask = 1; mask < (std::size_t{1} << count); ++mask) {
      sets.emplace_back();
      for (std::size_t i = 0; i < count; ++i) {
        if ((mask >> i & 1U) != 0) sets.back().push_back(finding.reworks[i]);
      }
    }
    return sets;
  }
  for (const std::uint32_t rework : finding.reworks) sets.push_back({rework});
  sets.push_back(finding.reworks);
  return sets;
}

std::size_t combinations_of(const Build& build, const Finding& finding) {
  constexpr std::size_t many = std::size_t{1} << 32U;
  std::size_t out = 1;
  for (const std::uint32_t slot : finding.slots)
    out = std::min(out * build.fits[slot].candidates.size(), many);
  return out;
}

void CaseJudge::list_cases(Finding& finding) const {
  const Build& build = bench_->index.build;
  finding.cases.clear();
  std::vector<std::vector<std::uint32_t>> choices{std::vector<std::uint32_t>(finding.slots.size(), 0)};
  if (combinations_of(build, finding) <= options_.max_combinations) {
    for (std::size_t s = finding.slots.size(); s-- > 0;) {
      const std::size_t before = choices.size();
      for (std::uint32_t c = 1; c < build.fits[finding.slots[s]].candidates.size(); ++c) {
        for (std::size_t i = 0; i < before; ++i) {
          choices.push_back(choices[i]);
          choices.back()[s] = c;
        }
      }
    }
  } else {
    limited_ = true;
    const auto sets_each = rework_sets(finding).size();
    const std::size_t most = most_entries_ / std::max<std::size_t>(finding.slots.size() * sets_each, 1);
    for (std::size_t s = 0; s < finding.slots.size() && choices.size() < most; ++s) {
      const auto candidates = static_cast<std::uint32_t>(build.fits[finding.slots[s]].candidates.size());
      for (std::uint32_t c = 1; c < candidates && choices.size() < most; ++c) {
        choices.push_back(choices[0]);
        choices.back()[s] = c;
      }
    }
  }
  const auto sets = rework_sets(finding);
  for (const auto& choice : choices) {
    for (const auto& set : sets) {
      Case state;
      for (std::size_t s = 0; s < finding.slots.size(); ++s)
        state.choices.push_back({finding.slots[s], choice[s]});
      state.reworks = set;
      finding.cases.push_back(std::move(state));
    }
  }
}

void enter_case(const BuildIndex& index, World& world, const Case& state) {
  world.reset();
  if (state.choices.empty() && state.reworks.empty()) return;
  const Build& build = index.build;
  std::vector<std::uint32_t> instances;
  for (const auto& [slot, candidate] : state.choices) {
    const auto& list = build.fits[slot].instances;
    instances.insert(instances.end(), list.begin(), list.end());
  }
  for (const std::uint32_t rework : state.reworks) {
    const auto& list = build.reworks[rework].instances;
    instances.insert(instances.end(), list.begin(), list.end());
  }
  for (const std::uint32_t i : instances) {
    const Instance& instance = build.instances[i];
    std::uint32_t candidate = 0;
    const auto own = std::lower_bound(state.choices.begin(), state.choices.end(),
                                      std::pair(instance.fit, std::uint32_t{0}));  // ascending
    if (own != state.choices.end() && own->first == instance.fit) candidate = own->second;
    std::uint32_t mask = index.done_mask(instance);
    for (std::size_t r = 0; r < instance.reworks.size(); ++r) {
      const auto& applied = state.reworks;
      if (std::find(applied.begin(), applied.end(), instance.reworks[r]) != applied.end()) mask |= 1U << r;
    }
    world.set_version(i, (candidate << instance.reworks.size()) | mask);
  }
}

void CaseJudge::enter(const Case& state) { enter_case(bench_->index, bench_->world, state); }

void CaseJudge::judge(Finding& finding, const Claim& claim) {
  const auto touch = [&] {
    bench_->reads.start();
    grant_steps();
    bench_->fast.set_log(&bench_->reads);
    mm::judge(bench_->fast, *bench_, claim);
    bench_->fast.set_log(nullptr);
    take_steps();
    return note_touched(finding);
  };
  touch();
  const std::int64_t left = steps_left_;
  bool along = true;  // each state is judged while the machines hold it, until one brings something new
  bool read = true;   // the first state is the build as it stood when it was read
  for (bool grew = true; grew;) {
    grew = false;
    list_cases(finding);
    for (Case& state : finding.cases) {
      enter(state);
      if (!std::exchange(read, false)) grew |= touch();
      along = along && !grew;
      if (along) state.outcome = judge_state(claim);
    }
  }
  if (!along) {
    steps_left_ = left;
    for (Case& state : finding.cases) {
      enter(state);
      state.outcome = judge_state(claim);
    }
  }
  if (finding.cases.size() > 1) bench_->world.reset();
}

void CaseJudge::grant_steps() {
  const auto most = static_cast<std::int64_t>(options_.max_steps) / least_claims;
  granted_ = std::max(few_steps, std::min(most, steps_left_));
  bench_->set_steps(granted_);
}

void CaseJudge::take_steps() {
  // what every claim may do is free, so that many simple ones never come to the limit
  steps_left_ -= std::max<std::int64_t>(bench_->steps_used(granted_) - few_steps, 0);
}

/// Some comparison that is open moves with a value that the builder sets.
bool CaseJudge::setting_matters(const Inspection& inspected) const {
  for (std::size_t v = 0; v < variables_.size(); ++v)
    if (variables_[v].adjustable && inspected.matters(v)) return true;
  return false;
}

Outcome CaseJudge::judge_state(const Claim& claim) {
  grant_steps();
  bench_->reads.start();
  variables_.collect(*bench_, claim, bench_->reads);
  Outcome outcome;
  outcome.reads = std::span<const CellId>(bench_->reads.cells());
  const Decision decision = search_.decide(claim, variables_);
  outcome.verdict = decision.verdict;
  outcome.undefined = decision.undefined;
  outcome.split = decision.split;
  outcome.certified = decision.certified;
  if (options_.keep_worlds && decision.verdict == Verdict::unknown && search_.certificate())
    outcome.certificate = *search_.certificate();
  outcome.work_limit = bench_->spent() && decision.verdict == Verdict::unknown;
  outcome.precision_limit = decision.precision_limit || outcome.work_limit;
  bool open = decision.verdict == Verdict::unknown;
  const bool with_margin = options_.details && claim.requirement->has_margin;
  take_steps();
  grant_steps();
  Inspection inspected;
  if (open && (options_.details || variables_.has_adjustable()))
    inspected = search_.inspect(claim, variables_, decision.tightened);
  else if (with_margin && decision.verdict != Verdict::not_applicable)
    inspected.slacks.take(*bench_, claim, variables_);
  if (open && setting_matters(inspected)) {
    outcome.verdict = Verdict::setting;
    take_steps();
    grant_steps();
    try_settings(*bench_, claim, variables_, search_, inspected, outcome);
    outcome.work_limit = outcome.work_limit || bench_->spent();
    open = outcome.verdict == Verdict::setting || outcome.verdict == Verdict::unknown;
    outcome.undefined = outcome.verdict == Verdict::unknown || (open && outcome.undefined);
    if (outcome.verdict != Verdict::setting) outcome.precision_limit = outcome.certified = false;
  }
  note_evidence(bench_->index, outcome);
  if (open && decision.rows_disagree) {
    outcome.undefined = false;  // it may be; that rows disagree is sure
    outcome.open_reason = OpenReason{disagreement(*bench_, *names_, claim)};
  } else if (open && outcome.undefined) {
    OpCode code = OpCode::number;
    std::string reason = undefined_reason(*bench_, *names_, claim, code);
    if (code == OpCode::field) {
      outcome.open_reason = field_reason(*bench_, *names_, claim);
    } else if (!reason.empty()) {
      outcome.open_reason = OpenReason{std::move(reason)};
    } else {
      outcome.undefined = false;  // exactly it has a value everywhere
      outcome.precision_limit =
          outcome.precision_limit || (outcome.verdict == Verdict::unknown && !outcome.certified);
    }
  } else if (outcome.verdict == Verdict::unknown && decision.precision_limit) {
    take_steps();
    grant_steps();
    outcome.open_cell = open_cell(*bench_, claim, variables_);
    outcome.precision_limit = !outcome.open_cell;
  }
  if (outcome.precision_limit && !outcome.open_reason) {
    take_steps();
    grant_steps();
    if (outcome.work_limit) bench_->set_steps(few_steps);  // it has had its share
    outcome.precision = find_precision(*bench_, claim, variables_);
  }
  if (options_.details) {
    take_steps();
    grant_steps();
    if (with_margin) find_margin(*bench_, variables_, inspected.slacks, outcome);
    if (open) {
      const bool setting = outcome.verdict == Verdict::setting;
      find_blames(*bench_, claim, variables_, inspected, outcome, !setting || options_.setting_limits);
    }
  }
  take_steps();
  return outcome;
}

}  // namespace mm
