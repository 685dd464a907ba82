#include "check.hpp"

#include <algorithm>

#include "stated.hpp"

namespace mm_proof {

void Counts::add(const Counts& other) {
  scenes += other.scenes;
  requirements += other.requirements;
  worlds += other.worlds;
  undecided += other.undecided;
  for (const auto& [word, count] : other.verdicts) verdicts[word] += count;
  certified += other.certified;
  undefined += other.undefined;
  stated += other.stated;
  unstated += other.unstated;
  stated_worlds += other.stated_worlds;
  neither += other.neither;
  rechecked += other.rechecked;
  not_rechecked += other.not_rechecked;
  at_roots += other.at_roots;
  unmatched += other.unmatched;
  promises += other.promises;
  contradictions.insert(contradictions.end(), other.contradictions.begin(), other.contradictions.end());
  at_precision.insert(at_precision.end(), other.at_precision.begin(), other.at_precision.end());
}

namespace {

class Checker {
 public:
  Checker(const Scene& scene, std::uint64_t seed, int worlds)
      : scene_(scene), draw_(seed), worlds_(worlds), world_(scene, seed), judge_(scene, world_) {}

  Counts run(std::size_t max_splits, bool details) {
    out_.scenes = 1;
    world_.seek_limits();
    const std::string text = text_of(scene_);
    if (!engine_.judge(scene_, text, max_splits, details)) {
      out_.contradictions.push_back("the text is not taken:\n" + engine_.said);
      return out_;
    }
    for (const Engine::Found& found : engine_.found) {
      for (const mm::Case& state : found.finding->cases) {
        ++out_.requirements;
        one(found, state);
      }
    }
    left_out();
    return out_;
  }

 private:
  Verdicts judged(const Engine::Found& found) {
    return judge_.requirement(*found.requirement, found.interface, found.rule, found.binding);
  }

  /// A slot that the case does not name makes no difference: any candidate, or the first for a certificate.
  void enter(const mm::Case& state, bool any) {
    for (std::size_t f = 0; f < scene_.fits.size(); ++f) {
      world_.candidates[f] = any ? draw_.below(static_cast<int>(scene_.fits[f].candidates.size())) : 0;
    }
    engine_.enter(state, world_);
  }

  std::string need_text(const Engine::Found& found) const {
    std::string text =
        "need " + found.requirement->name + ": " + expression_text(scene_, *found.requirement->test);
    if (found.requirement->when != nullptr)
      text += " when " + expression_text(scene_, *found.requirement->when);
    return text;
  }

  void wrong(const Engine::Found& found, const mm::Case& state, const std::string& what) {
    std::string text = need_text(found);
    text +=
        "\n verdict " + word_of(state.outcome.verdict) + ", but " + what + " in the world\n" + world_.told();
    out_.contradictions.push_back(text);
  }

  void one(const Engine::Found& found, const mm::Case& state) {
    const mm::Outcome& outcome = state.outcome;
    ++out_.verdicts[word_of(outcome.verdict)];
    const bool is_open = outcome.verdict == mm::Verdict::unknown || outcome.verdict == mm::Verdict::setting;
    if (is_open) {
      promises(found, state);
      return certificate(found, state);
    }
    judge_.range_pieces = 6;
    for (int i = 0; i < worlds_; ++i) {
      world_.clear(draw_.next());
      world_.manner = i % 2;
      enter(state, true);
      const Verdicts truth = judged(found);
      ++out_.worlds;
      std::string what;
      switch (outcome.verdict) {
        case mm::Verdict::fits:
          if ((truth.holds & yes) == 0) what = truth.holds == no ? "it fails" : "it does not hold";
          break;
        case mm::Verdict::conflict:
          if ((truth.holds & no) == 0) what = truth.holds == yes ? "it holds" : "it does not fail";
          break;
        default:
          if ((truth.applies & no) == 0) what = "it applies";
      }
      if (truth.holds != yes && truth.holds != no && truth.holds != mm_proof::undefined) ++out_.undecided;
      if (what.empty()) continue;
      wrong(found, state, what);
      return;
    }
  }

  /// The same where one value is at a root between two.
  bool at_root(const Engine::Found& found, const mm::Case& state, std::vector<mm::WorldValue> values,
               const Engine::Between& between, Truth wanted, const std::string& name) {
    const std::vector<Truth> all =
        judge_.at_roots(between.cell, between.lo, between.hi, [&] { return judged(found).holds; });
    ++out_.at_roots;
    for (mm::WorldValue& value : values)
      if (value.up_to) value.number = *value.up_to;
    engine_.give(values, world_);
    if (!inside(values)) {
      wrong(found, state, "the " + name + " world leaves the spreads");
    } else if (std::none_of(all.begin(), all.end(), [&](Truth one) { return (one & wanted) != 0; })) {
      wrong(found, state, all.empty() ? "nothing is seen to turn over" : "no root makes it " + name);
    }
    return std::find(all.begin(), all.end(), wanted) != all.end();
  }

  /// Does the requirement come to `wanted` with these values and any values of what they leave out?
  void recheck(const Engine::Found& found, const mm::Case& state, const std::vector<mm::WorldValue>& values,
               Truth wanted, const std::string& name, mm::RowChoice rows = mm::any_row) {
    judge_.range_pieces = 3000;
    if (rows != mm::any_row) world_.first_row = rows;
    bool sure = true;
    for (int i = 0; i < 2; ++i) {
      world_.clear(draw_.next());
      enter(state, false);
      engine_.give(values, world_);
      if (!inside(values)) return wrong(found, state, "the " + name + " world leaves the spreads");
      if (const auto between = engine_.between(values, world_)) {
        sure = at_root(found, state, values, *between, wanted, name) && sure;
        continue;
      }
      const Truth holds = judged(found).holds;
      if ((holds & wanted) == 0) return wrong(found, state, "the " + name + " world does not do so,");
      sure = sure && holds == wanted;
    }
    world_.first_row.reset();
    ++(sure ? out_.rechecked : out_.not_rechecked);
  }

  /// What is said of one value, whatever the others are: between some limits it surely fits, beyond others it
  /// surely fails.
  struct Promise {
    mm::WorldValue value;
    std::optional<mm::Limit> from, to;
    bool fits = true;
    bool holds(const mm::Rational& x) const {
      return !(from && (x < from->at || (from->open && x == from->at))) &&
             !(to && (x > to->at || (to->open && x == to->at)));
    }
  };

  std::vector<Promise> promises_of(const mm::Outcome& outcome) const {
    std::vector<Promise> out;
    for (const mm::Blame& blame : outcome.blames) {
      const mm::WorldValue value{blame.cell, blame.entity, blame.attribute, 0, mm::no_reg};
      for (const mm::Region& region : blame.fits.regions())
        out.push_back({value, region.from, region.to, true});
      for (const mm::Region& region : blame.fails.regions())
        out.push_back({value, region.from, region.to, false});
    }
    for (const mm::SettingWindow& piece : outcome.settings)
      out.push_back({engine_.number_of(piece.cell), piece.from, piece.to, true});
    return out;
  }

  /// At a limit, or a little or a way within it.
  mm::Rational within(const Promise& promise) {
    const mm::Limit& limit = promise.from && (!promise.to || draw_.chance(50)) ? *promise.from : *promise.to;
    const bool up = promise.from && limit == *promise.from;
    static const char* const steps[] = {"0", "1/1000000000", "1/10000", "1/1000", "1", "3"};
    const mm::Rational step(Rational(steps[draw_.below(6)]));
    return up ? limit.at + step : limit.at - step;
  }

  void promises(const Engine::Found& found, const mm::Case& state) {
    const std::vector<Promise> all = promises_of(state.outcome);
    judge_.range_pieces = 6;
    for (const Promise& promise : all) {
      for (int i = 0; i < 24; ++i) {
        world_.clear(draw_.next());
        world_.manner = i % 2;
        enter(state, true);
        mm::WorldValue value = promise.value;
        if (i % 4 != 0) {
          value.number = within(promise);
          engine_.give({value}, world_);
          if (!engine_.inside({value}, world_, true)) continue;
        }
        const auto number = engine_.number(value, world_);
        if (!number || !promise.holds(*number)) continue;
        ++out_.promises;
        const Truth holds = judged(found).holds;
        if ((holds & (promise.fits ? yes : no)) != 0) continue;
        wrong(found, state,
              std::string(promise.fits ? "does not fit" : "does not fail") +
                  " where a value was said to make it so,");
        return;
      }
    }
  }

  bool inside(const std::vector<mm::WorldValue>& values) { return engine_.inside(values, world_); }

  void certificate(const Engine::Found& found, const mm::Case& state) {
    const mm::Outcome& outcome = state.outcome;
    if (outcome.certified) {
      ++out_.certified;
      if (!outcome.certificate) {
        out_.contradictions.push_back("certified without the worlds");
        return;
      }
      recheck(found, state, outcome.certificate->passes, yes, "passing", outcome.certificate->passing_rows);
      recheck(found, state, outcome.certificate->fails, no, "failing", outcome.certificate->failing_rows);
    } else if (outcome.undefined && outcome.open_reason) {
      ++out_.undefined;
      if (outcome.certificate && !outcome.certificate->undefined.empty()) {
        recheck(found, state, outcome.certificate->undefined, mm_proof::undefined, "undefined");
      }
    } else if (outcome.precision_limit) {
      precision(found, state);
    } else {
      ++out_.neither;
      out_.contradictions.push_back("neither worlds nor a reason: " + need_text(found));
    }
  }

  void precision(const Engine::Found& found, const mm::Case& state) {
    const auto& stated = state.outcome.precision;
    ++(stated ? out_.stated : out_.unstated);
    out_.at_precision.push_back((stated ? told(*stated) : "nothing") + ": " + need_text(found));
    if (!stated) return;
    StatedCheck check(world_, judge_, engine_, [&] {
      world_.clear(draw_.next());
      enter(state, true);
    });
    const std::string what = check.contradiction(found, *stated, worlds_);
    out_.stated_worlds += check.tried();
    if (!what.empty()) wrong(found, state, told(*stated) + ", but " + what);
  }

  /// A match that the program did not judge must be excluded by its "where" in every world.
  void left_out() {
    for (const Rule& rule : scene_.rules) {
      for (const Binding& binding : matches_of(scene_, rule)) {
        const Requirement& need = rule.requirements[0];
        const bool judged_it =
            std::any_of(engine_.found.begin(), engine_.found.end(), [&](const Engine::Found& found) {
              return found.requirement == &need && found.binding.locals == binding.locals;
            });
        if (judged_it) continue;
        ++out_.unmatched;
        Requirement where{"where", need.test, nullptr};
        for (int i = 0; i < 10; ++i) {
          world_.clear(draw_.next());
          for (std::size_t f = 0; f < scene_.fits.size(); ++f)
            world_.candidates[f] = draw_.below(static_cast<int>(scene_.fits[f].candidates.size()));
          if ((judge_.requirement(where, nullptr, &rule, binding).applies & no) != 0) continue;
          out_.contradictions.push_back("a match of " + rule.name +
                                        " was left out that applies in the world\n" + world_.told());
          return;
        }
      }
    }
  }

  const Scene& scene_;
  Draw draw_;
  int worlds_;
  World world_;
  Judge judge_;
  Engine engine_;
  Counts out_;
};

}  // namespace

Counts check(const Scene& scene, std::uint64_t seed, int worlds, std::size_t max_splits, bool details) {
  return Checker(scene, seed, worlds).run(max_splits, details);
}

}  // namespace mm_proof
