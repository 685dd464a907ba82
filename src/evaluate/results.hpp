// What the checker found: a verdict for every requirement on every joint or match, and what each verdict
// read.
#pragma once
#include <deque>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/mostly_one.hpp"
#include "base/seldom.hpp"
#include "base/tight_list.hpp"
#include "evaluate/value_set.hpp"
#include "model/build.hpp"

namespace mm {

/// Of one requirement in one state of the build (one candidate a slot, some reworks applied).
/// setting: open only until an adjustable value is set. choice: only as a summary over candidates that
/// differ.
enum class Verdict : std::uint8_t { not_applicable, fits, setting, choice, unknown, conflict };
inline bool passes(Verdict verdict) { return verdict == Verdict::fits || verdict == Verdict::not_applicable; }

/// Entities bound to a requirement's local slots; many sides are lists.
struct Binding {
  std::vector<EntityId> locals;              // slot -> entity; none where the slot is a list
  std::vector<std::vector<EntityId>> lists;  // many sides, by Quantifier::many_slot
  std::uint32_t joint = no_reg;              // index into Build::joints, or no_reg for a rule's match
  Symbol place;  // that all of them with a place share; none where they differ or have none
};

/// An attribute whose better knowledge could settle an unknown.
struct Blame {
  EntityId entity;
  std::uint32_t attribute = 0;
  CellId cell;
  bool missing = false;
  /// Half-width that would surely settle it while the others keep their spread and it stays near its middle;
  /// none where no fineness is enough (the limit lies too near) or the value is missing.
  std::optional<Rational> needed_half_width;
  /// Of a number: where it surely fits, and surely fails.
  ValueSet fits, fails;
  /// Of a word, a size or a yes_no: those that surely fit, and whether each other one that was tried surely
  /// fails; more_words: not all that there are were tried.
  Seldom<std::uint32_t> fitting;
  bool others_fail = false, more_words = false;

  bool has_answers() const { return !fits.empty() || !fails.empty() || !fitting.empty(); }
  bool same_answers(const Blame& other) const {
    return fits == other.fits && fails == other.fails && fitting.get() == other.fitting.get() &&
           others_fail == other.others_fail;
  }
  /// The same answers to the same question, perhaps of another candidate.
  bool asks_as(const Blame& other) const {
    return entity == other.entity && attribute == other.attribute && missing == other.missing &&
           needed_half_width == other.needed_half_width && same_answers(other);
  }
};

/// Settings of one adjustable value that surely fit, in base units.
struct SettingWindow {
  CellId cell;
  Limit from, to;

  bool empty() const { return nothing_between(from, to); }
  bool holds(const Rational& setting) const {
    return setting >= from.at && setting <= to.at && !(from.open && setting == from.at) &&
           !(to.open && setting == to.at);
  }
};

/// One value of a world: an exact number in base units, or a member of the attribute's symbols.
struct WorldValue {
  CellId cell;
  EntityId entity;
  std::uint32_t attribute = 0;
  Rational number = 0;
  std::uint32_t symbol = no_reg;  // no_reg: it is a number
  /// Not `number` itself but one between it and this, where a comparison of the claim turns over. It may be
  /// no fraction; that there is one follows from what is compared having no jump between the two.
  std::optional<Rational> up_to{};
};

/// Of the rows that a look-up with `=` meets: any of them, or the first from a row of the table on, where the
/// last is followed by the first.
using RowChoice = std::uint32_t;
inline constexpr RowChoice any_row = 0xffffffffU;

/// Worlds that prove a verdict open: values of the cells that matter, any values of the rest. Empty: not met.
struct Certificate {
  std::vector<WorldValue> passes, fails, undefined;
  RowChoice passing_rows = any_row, failing_rows = any_row;
};

/// A cell of a table.
struct TableCell {
  TableId table;
  std::uint32_t row = 0, column = 0;
};

/// Why a verdict is open though nothing that is not known makes it so.
struct OpenReason {
  std::string text;  // "division by a range that holds zero", "rows of oils disagree for name = 5W"
  GivenId at{};      // the value it speaks of, where it is one
  std::string todo{};
  bool operator==(const OpenReason&) const = default;
};

/// Of a verdict that was given up: in every world of the box the margin (see room.hpp) lies between the two,
/// in base units. One of them may be endless: then a world may also pass, or fail, for what has no margin in
/// this measure.
struct Precision {
  Measure measure;
  double least = 0, most = 0;
};

struct Outcome {
  Verdict verdict = Verdict::unknown;
  Grade evidence = Grade::measured;  // weakest that was read
  bool read_any : 1 = false;         // false: only constants were read (evidence says nothing)
  bool default_spread : 1 = false, disputed : 1 = false;
  bool undefined : 1 = false;        // arithmetic was undefined somewhere in the box
  bool split : 1 = false;            // decided by splitting or monotonicity, not by plain interval arithmetic
  bool precision_limit : 1 = false;  // given up: neither decided, nor worlds found that show it open
  bool work_limit : 1 = false;       // given up for the work that it takes, which more steps might decide
  bool certified : 1 = false;        // unknown with a passing and a failing world at hand
  Boxed<OpenReason> open_reason;
  Boxed<TableCell> open_cell;      // open for what its table says there: a range, or nothing
  Boxed<Certificate> certificate;  // those worlds, if EvaluateOptions::keep_worlds
  Boxed<Precision> precision;      // with precision_limit, where there is one to state
  /// Room to spare (>= 0 fits) in base units, for a requirement that is one comparison or several of one
  /// dimension joined by `and`; of the requirement's measure.
  std::optional<Interval> margin;
  Seldom<Blame> blames;  // unknown and setting: most influential first
  /// setting: where one value alone is to be set and one setting fits whatever the rest is, in pieces,
  /// ascending; none where it takes several values, or no setting serves the whole spread of the rest.
  Seldom<SettingWindow> settings;
  TightList<CellId> reads;  // in order of first use
};

struct Case {
  Seldom<std::pair<std::uint32_t, std::uint32_t>> choices;  // (fit, candidate) of each slot that was read
  Seldom<std::uint32_t> reworks;                            // applied in this case, of those that matter
  Outcome outcome;
};

/// One requirement on one joint or match. cases[0] is the first candidate with no planned rework applied.
struct Finding {
  RequirementId requirement;
  std::uint32_t waiver = no_reg;     // index into Build::waivers
  const Binding* binding = nullptr;  // in Results::bindings
  Seldom<std::uint32_t> slots;       // fits with candidates that were read
  Seldom<std::uint32_t> reworks;     // planned reworks that were read
  MostlyOne<Case> cases;             // every candidate combination x every subset of reworks
};

/// Findings about the graph itself, which no rule file needs to state.
struct GraphFinding {
  enum class What : std::uint8_t {
    quantity_short,
    quantity_unstated,
    hand_short,
    open_face,
    left_over_part,
    unjoined_part
  };
  What what;
  EntityId entity;              // open_face, unjoined_part
  std::uint32_t part = no_reg;  // quantity, hand, left over, unjoined
  Rational needed = 0, there = 0;
  Symbol hand;
  std::uint32_t slot = no_reg;  // quantity, hand: so only if the part is chosen for this fit
  bool by_choice = false;       // of a slot, and some candidate of it does better
};

/// What it comes to where its part is chosen, or nothing is to be chosen: conflict, unknown, not_applicable.
Verdict verdict_of(GraphFinding::What what);

/// Requirements that can each be met but not all together.
struct ConflictSet {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> members;  // (finding, case)
  std::vector<CellId> shared;                                    // values they pull apart
  std::vector<std::uint32_t> in_state = {};  // planned reworks that count as done here; empty: as it is now
  // of a set as it is now: planned reworks after which all can hold, or may; empty: surely none
  std::vector<std::uint32_t> after = {};
  bool after_unsettled = false;  // whether they can then was not settled
};

class BuildIndex;

struct Results {
  Results() = default;
  Results(Results&&) = default;
  Results& operator=(Results&&) = default;

  std::shared_ptr<const BuildIndex> index;  // of the build, for whoever asks on
  std::deque<Binding> bindings;             // one a joint or match, for all of its findings
  std::deque<Finding> findings;             // in order of joints, then rules; requirements in file order
  std::vector<GraphFinding> graph;
  std::vector<ConflictSet> conflict_sets;
  std::vector<std::string> notes;    // limits that were met, in plain words
  std::size_t rules_not_judged = 0;  // too many combinations of parts
};

}  // namespace mm
