// Runs a requirement's program over a box of worlds. One machine serves every requirement, one after another;
// its registers are kept, so that nothing is allocated while a program runs, and what no open value can
// change is worked out once (see frame.hpp).
//
// Num is Interval (double), ExactInterval, or a dual of either (with the slope in one cell or in a
// quantifier's variable).
#pragma once
#include <map>
#include <memory>
#include <span>
#include <unordered_map>
#include <vector>

#include "evaluate/designations.hpp"
#include "evaluate/dual.hpp"
#include "evaluate/frame.hpp"
#include "evaluate/reach.hpp"
#include "evaluate/undefined_at.hpp"

namespace mm {

enum class ValueKind : std::uint8_t { number, truth, symbol, designation, entity };

/// One register. `exact`: the number is known exactly and nothing was computed with it since.
template <class Num>
struct MachineValue {
  Num number;
  const Rational* exact = nullptr;
  const SymbolicSet* symbols = nullptr;
  EntityId entity;
  Bits state = may_undef;
  ValueKind kind = ValueKind::number;
  Direction direction = still;  // of a truth or a symbol; a number has its slope
  CellId cell;                  // of a symbol: where it was read; none where it may be another's
};

/// Of operations, each once.
using Answers = std::vector<std::pair<const Op*, Bits>>;

struct MachineLimits {
  std::int64_t steps = 2'000'000;  // operations that may still run; below zero: answers are "anything"
  std::size_t range_pieces = 128;  // of one continuous quantifier
};

/// Which blocks of a quantifier have run once since its loop began; from then on only what varies with the
/// item runs.
struct ItemRuns {
  bool where = false, body = false;
};
/// The same for a continuous quantifier, whose pieces run on helpers too.
struct PieceRuns {
  ItemRuns own, slopes, doubles, exact_slopes;
};

/// An exact operation counts as so many of doubles.
inline constexpr std::int64_t exact_cost = 16;

/// The intervals that a number is made of.
template <class Num>
struct BaseOf {
  using type = Num;
  static constexpr bool dual = false;
};
template <class Base>
struct BaseOf<DualOf<Base>> {
  using type = Base;
  static constexpr bool dual = true;
};

class CountedSheets;

template <class Num>
class Machine {
 public:
  using Value = MachineValue<Num>;
  using Base = typename BaseOf<Num>::type;

  Machine(const Model& model, Designations& designations);

  /// Takes up a program; `world` and `box` must stay while it runs. Ends with the next start.
  void start(const Program& program, const Binding& binding, const World& world, const Box& box);
  /// A program of a designation's computed field.
  void start_field(const Program& program, const SymbolicSet* self);
  const Value& run(BlockIndex block);
  Bits truth(BlockIndex block) { return truth_of(run(block)); }
  const Value& at(Reg reg) const { return registers_[reg]; }
  Bits truth_of(const Value& value) const;
  Direction direction_of(const Value& value) const;
  Num number_of(const Value& value) const;
  /// After a run: `sign * inner <= upper`, or `<`, of two registers. Half of a comparison of abs(inner).
  Value one_side(OpCode code, int sign, Reg inner, Reg upper) const;
  /// As that, against an end of a row: its greatest, or with a sign of -1 its least with that sign too.
  Value against(OpCode code, int sign, Reg inner, const NumberConst& row) const;

  /// Dual machines: the cell in which slopes are taken, and its range.
  void set_active(CellId cell, const Base& range) {
    active_ = cell;
    set_offset(DualOf<Base>::variable(range));
  }
  void set_log(ReadLog* log) { log_ = log; }
  /// Answers to take for comparisons and questions to tables, whatever arithmetic says: the box may hold an
  /// end of a stretch that does not belong to it. Null: none any more; it must stay until then.
  void suppose(const Answers* answers) {
    answers_ = answers;
    forget();
  }
  /// Which row is meant, from now on, where several meet a look-up's conditions.
  void choose_rows(RowChoice rows) {
    rows_ = rows;
    forget();
  }
  /// Of programs that were run, nothing is kept from now on.
  void forget_programs();
  MachineLimits limits;
  bool spent() const { return limits.steps < 0; }

  /// After `run(block)`: logs the cells that the result needs (not those of a branch not taken, nor of the
  /// other side of a decided `and`), and finds where an undefined result began.
  void trace_reads(BlockIndex block, ReadLog& reads, UndefinedAt* undefined);
  /// After a run: an operation and what it was asked.
  UndefinedAt asked_at(const Op& op) const;
  /// The entities over which a quantifier ranges, in order. A part that is visited on the way is a step; with
  /// `most` of these it may be given up, and is empty then.
  std::span<const EntityId> domain(const Quantifier& quantifier, std::vector<EntityId>& scratch,
                                   std::size_t most = SIZE_MAX);
  /// After a run: the one row that a look-up surely means, or no_reg.
  std::uint32_t matched_row(const Op& op);
  /// After a run: the first rows that a look-up may mean, one for each thing that they say; or those that a
  /// look-up with `=` surely meets, of any other none. No more than `most`, and none where the steps are
  /// spent.
  std::vector<std::uint32_t> rows_met(const Op& op, bool surely, std::size_t most);
  void bind(std::uint32_t slot, EntityId entity) { locals_[slot] = entity; }
  void bind_number(std::uint32_t slot, const Num& number) { slot_numbers_[slot] = number; }

 private:
  template <class Other>
  friend class Machine;

  static constexpr bool is_dual = BaseOf<Num>::dual;
  static constexpr bool is_exact = std::is_same_v<Base, ExactInterval>;

  void take_frame(const Program& program, const Binding& binding, const World& world, const Box& box);
  void take_frame(Frame<Value>& frame);
  /// What it and its own machines keep of programs that they have run.
  void forget();
  void size_slots(const Program& program);
  void step(const Op& op);
  void work_out(const Op& op);
  Hangs hangs_on(const Op& op) const;
  void load_constant(Value& out, const ConstValue& value, ValueKind kind);
  void load_number(Value& out, const NumberConst& number);
  void load_cell(const Op& op, Value& out);
  void load_field(const Op& op, Value& out);
  void follow(const Op& op, Value& out);
  void form_is(const Op& op, Value& out);
  const Rational* exact_end(const Op& op) const;
  EntityId best_known(const Quantifier& q, std::span<const EntityId> entities, Bits decided);
  void arithmetic(const Op& op, Value& out);
  void guarded_arithmetic(const Op& op, Value& out);
  void move_where_undefined(const Op& op, Value& out);
  void compare(OpCode code, const Value& a, const Value& b, Value& out) const;
  Value signed_value(int sign, Reg inner) const;
  void take_answer(const Op& op, Value& out) const;
  void same(const Op& op, Value& out);
  Bits same_bits(const Value& a, const Value& b);
  void logic(const Op& op, Value& out);
  void choose(const Op& op, Value& out);
  void merge(Reg target, Value& into, const Value& other, bool switched_by_active);
  const SymbolicSet* join(Reg target, const SymbolicSet* a, const SymbolicSet* b);
  Bits number_compare(OpCode code, const Value& a, const Value& b) const;
  static void set_truth(Value& out, Bits bits, Direction direction);
  bool moves(const Value& value) const;

  // tables
  void lookup(const Op& op, Value& out);
  void in_table(const Op& op, Value& out);
  Bits row_bits(const TableDef& table, const Lookup& lookup, std::size_t row);
  Bits cell_bits(const TableDef& table, const LookupCondition& condition, const ConstValue& cell,
                 const Interval& key);
  void take_keys(const Lookup& lookup);
  bool covered(const TableDef& table, const Lookup& lookup);
  static void set_undefined(Value& out);
  bool ranges_cover(const TableDef& table, std::size_t column, const Interval& key);
  bool keys_move(const Lookup& lookup) const;

  // quantifiers
  void quantify(const Op& op, Value& out);
  void quantify_entities(const Op& op, const Quantifier& q, Value& out);
  using Entities = std::span<const EntityId>;
  void all_or_some(const Op& op, const Quantifier& q, Entities entities, Value& out);
  void count(const Quantifier& q, Entities entities, Value& out);
  void aggregate(const Op& op, const Quantifier& q, Entities entities, Value& out);
  bool is_counted(const CountedSheets& sheets, EntityId item);
  Bits where_bits(const Quantifier& q, Direction& direction, bool& ran);
  const Value& run_item(BlockIndex block, std::uint32_t slot, bool& ran);
  const std::vector<const Op*>& varying(BlockIndex block, std::uint32_t slot);
  void quantify_range(const Op& op, const Quantifier& q, Value& out);
  void set_offset(const DualOf<Base>& variable) { offset_ = mm::sub(variable.value, variable.middle); }
  Bits item(const Quantifier& q, bool some, const Num& z, Direction* direction, ItemRuns& runs);
  template <class Plain = Num>
  Bits whole_range(const Quantifier& q, bool some, const Num& outer, const Base* inner, Direction& moved);
  // Of machines with slopes or without; templates, so that instantiating the class leaves them alone.
  template <class Plain = Num>
  void prepare_pieces(const Quantifier& q);
  template <class Plain = Num>
  Bits sharp_item(const Quantifier& q, bool some, const Num& z, PieceRuns& runs);
  template <class Plain = Num>
  Bits range_bits(const Quantifier& q, bool some, const Num& outer, const Num& inner, bool inner_known);
  template <class Plain = Num>
  Bits piece_by_slope(const Quantifier& q, bool some, const Num& piece, bool inside, PieceRuns& runs);
  template <class Plain = Num>
  std::vector<std::optional<Rational>> slacks_at(const Quantifier& q, const Num& z);
  template <class Plain = Num>
  std::vector<Num> turns_along(const Quantifier& q, const Num& range);
  /// What a quantifier's blocks read from outside of them.
  const std::vector<Reg>& outer_registers(const Quantifier& q);
  template <class Other>
  void adopt(const Machine<Other>& other, const std::vector<Reg>& outer);

  bool decides(const Op& op, Reg side) const;
  std::vector<Grade> weakest_grades(const Block& block) const;
  void slice(const Block& block, std::vector<char>& needed);
  void trace_quantifier(const Op& op, ReadLog& reads, UndefinedAt* undefined);
  bool starts_undefined(const Op& op) const;

  const Model* model_;
  Designations* designations_;
  const Program* program_ = nullptr;
  const Binding* binding_ = nullptr;
  const BuildIndex* index_ = nullptr;
  const World* world_ = nullptr;
  const Box* box_ = nullptr;
  const SymbolicSet* self_ = nullptr;
  ReadLog* log_ = nullptr;
  const Answers* answers_ = nullptr;
  RowChoice rows_ = any_row;
  CellId active_;
  Base offset_ = DualOf<Base>::constant(0);  // the active variable's range less its middle
  Value* registers_ = nullptr;               // of the present frame
  Hangs* hangs_ = nullptr;                   // of the present frame
  std::vector<Interval> keys_;               // of the present lookup, rounded outward
  Frame<Value>* frame_ = nullptr;            // the present one
  Frame<Value> frames_[2];                   // a rule's `where` and a requirement are two programs
  Hangs seen_ = on_nothing;                  // what the operations of the present block hang on, together
  std::vector<EntityId> locals_;
  std::vector<Num> slot_numbers_;
  SymbolicSet union_;
  std::unordered_map<const Block*, std::vector<const Op*>> varying_;
  std::unordered_map<const Quantifier*, std::vector<Reg>> outer_;
  // what a quantifier ranges over from a part or face on: joints do not change while a build is judged
  static constexpr std::size_t most_reached = 100'000;  // kept
  std::map<std::pair<const Quantifier*, EntityId>, Reached> reached_;
  std::size_t reached_count_ = 0;
  std::unique_ptr<Machine<Dual>> slopes_;  // in a quantifier's variable
  // of an exact machine
  std::unique_ptr<Machine<Interval>> doubles_;
  std::unique_ptr<Machine<ExactDual>> exact_slopes_;
};

/// The operations of a quantifier's block whose result can differ from item to item.
std::vector<const Op*> find_varying(const Program& program, const Block& block, std::uint32_t slot);
/// The registers that a quantifier's blocks read and do not set.
std::vector<Reg> find_outer(const Program& program, const Quantifier& q);

extern template class Machine<Interval>;
extern template class Machine<ExactInterval>;
extern template class Machine<Dual>;
extern template class Machine<ExactDual>;

}  // namespace mm
