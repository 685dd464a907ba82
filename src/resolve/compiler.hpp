// Expressions checked and turned into flat programs, in one walk: names bound, dimensions found, operations
// emitted. An operand of type error has been reported already and silences what follows from it.
#pragma once
#include <optional>

#include "base/index_table.hpp"
#include "resolve/quantities.hpp"
#include "syntax/expr_children.hpp"

namespace mm {

struct Operand {
  Reg reg = no_reg;
  Type type;
  ExprId expr;
  Symbol bare_word;      // a word that no name explains: perhaps a choice
  Reg form_of = no_reg;  // "x.form" of this designation
  bool is_error() const { return type.kind == TypeKind::error && !bare_word && form_of == no_reg; }
};

/// What a name can mean inside one program.
struct ScopeEntry {
  Symbol name;
  enum class Sort : std::uint8_t { entity, many, number, reg, let } sort;
  Type type;
  std::uint32_t slot = 0;  // entity, number: local slot; many: slot of its current item
  bool iterating = false;  // many: inside its quantifier
  Operand operand;         // reg: a formula's argument
  ExprId let_value;        // let
  std::size_t let = 0;     // let: which of its owner's; it sees those before it
  std::uint32_t side = 0;  // many: index of the side
  bool anew = false;       // many, seen from a let inside its quantifier: may be gone over again there
};

class Compiler {
 public:
  Compiler(Context& context, Program& program);
  ~Compiler();
  Compiler(const Compiler&) = delete;
  Compiler& operator=(const Compiler&) = delete;

  // --- scope
  void bind_entity(Symbol name, Type type, std::uint32_t slot) {
    bind({name, ScopeEntry::Sort::entity, type, slot, false, {}, {}, 0});
  }
  void bind_many(Symbol name, Type type, std::uint32_t side) {
    bind({name, ScopeEntry::Sort::many, type, side, false, {}, {}, 0, side});
  }
  /// The owner's first `count` lets are plain names from now on; they see what was bound up to now. They must
  /// stay.
  void bind_lets(const Lets& lets, std::size_t count);
  /// Attributes of this designation or part are plain names (computed fields, derived attributes).
  void bind_self(Operand self) { frame().self = self; }
  void set_slots(std::uint32_t slots) { program_.slots = std::max(program_.slots, slots); }

  // --- root blocks
  /// A block of its own whose result is a truth (or, for `any`, whatever the expression is). It is asked for
  /// only where the guards hold; none: no guard.
  BlockIndex truth_block(ExprId expr, std::initializer_list<ExprId> guards = {});
  BlockIndex any_block(ExprId expr, Type* type, std::initializer_list<ExprId> guards = {});
  /// The part or face from which a binder's parts are reached; no_block after a message.
  BlockIndex reach_block(const Binder& binder, std::vector<InterfaceId>& through);
  Operand compile_formula_alone(std::uint32_t index);

  // --- one walk of an expression; results are in the open block
  Operand compile(ExprId id);
  /// `compared`: the condition before an "or" or "and" before it.
  Operand want_truth(ExprId id, ExprId compared = {});
  Operand want_number(ExprId id);
  void open_block();
  BlockIndex close_block(Reg result);
  Operand self_operand(OpCode code, std::uint32_t payload, Type type) {
    return emit(code, type, no_reg, no_reg, no_reg, payload);
  }
  /// Makes `operand` fit `wanted` (text read as a designation, a word as a choice); reports where it cannot.
  Operand fit_to(Operand operand, const Type& wanted, const std::string& what);

 private:
  struct Frame {
    std::vector<ScopeEntry> bindings;
    std::optional<Operand> self;
    const Lets* lets = nullptr;
    std::size_t lets_seen = 0;
    std::size_t before_lets = 0;  // bindings that the lets see
  };
  struct OpenBlock {
    Block block;
    IndexTable known;  // its steps by what they do, once they are many
    std::vector<Reg> quantifiers;
  };
  /// How much of the program there is.
  struct Made {
    std::size_t blocks, lookups, quantifiers;
  };
  Made made() const { return {program_.blocks.size(), program_.lookups.size(), program_.quantifiers.size()}; }
  /// A step of the open blocks that does the same.
  const Op* known_step(const Op& wanted) const;

  Frame& frame() { return frames_.back(); }
  Operand emit(OpCode code, Type type, Reg a = no_reg, Reg b = no_reg, Reg c = no_reg,
               std::uint32_t payload = 0);
  Operand emit_number(ExactInterval value, Type type, int pi_power = 0);
  Operand emit_lookup(OpCode code, Type type, Lookup lookup);
  void bind(ScopeEntry entry);
  Operand emit_quantifier(OpCode code, Type type, Quantifier quantifier, const Made& before);
  Operand emit_number(const Measured& value, Type type);
  Operand error(ExprId id) const { return Operand{no_reg, {}, id, {}, no_reg}; }
  Span span(ExprId id) const { return context_.tree.exprs[id].span; }
  std::string what(const Operand& operand) const;
  std::string hint_for_second_word(ExprId compared, Symbol word) const;
  /// Whether it can be used where `wanted` is asked for as it is.
  static bool is_of(const Operand& operand, const Type& wanted);
  bool too_long(ExprId id) {
    if (steps_ == 0) root_ = id;
    if (++steps_ > max_steps || context_.steps_left == 0) return tell_too_long();
    --context_.steps_left;
    return false;
  }
  bool too_deep(ExprId id) {
    const bool levels = frames_.size() > 1 + max_levels;
    return (levels || depth_ + depth_of_formula * frames_.size() >= max_depth) && tell_too_deep(id, levels);
  }
  bool tell_too_long();
  bool tell_too_deep(ExprId id, bool levels);

  Operand visit(const QuantityExpr& e, ExprId id);
  Operand visit(const TextExpr& e, ExprId id);
  Operand visit(const DateExpr& e, ExprId id);
  Operand visit(const BoolExpr& e, ExprId id);
  Operand visit(const NameExpr& e, ExprId id);
  Operand visit(const FieldExpr& e, ExprId id);
  Operand visit(const CallExpr& e, ExprId id);
  Operand visit(const UnaryExpr& e, ExprId id);
  Operand visit(const BinaryExpr& e, ExprId id);
  Operand visit(const WithinExpr& e, ExprId id);
  Operand visit(const InRangeExpr& e, ExprId id);
  Operand visit(const InTableExpr& e, ExprId id);
  Operand visit(const IfExpr& e, ExprId id);
  Operand visit(const LookupExpr& e, ExprId id);
  Operand visit(const QuantifierExpr& e, ExprId id);
  Operand visit(const AggregateExpr& e, ExprId id);
  Operand visit(const MateExpr& e, ExprId id);
  Operand visit(const PartOfExpr& e, ExprId id);

  // arithmetic and comparison
  Operand literal(const QuantitySyntax& quantity, ExprId id);
  /// A literal in degC or degF, also with a minus before it.
  bool is_reading(ExprId id);
  Operand arithmetic(BinaryOp op, ExprId left, ExprId right, ExprId id);
  /// Type::readings of a product or quotient; unknown where the plain factor is not written out.
  float readings_in_product(BinaryOp op, const Operand& left, const Operand& right) const;
  Operand logical(const BinaryExpr& e, ExprId id);
  Operand power_of(ExprId left, ExprId right, ExprId id);
  Operand compare(BinaryOp op, ExprId left, ExprId right, ExprId id);
  Operand equal(Operand left, Operand right, BinaryOp op, ExprId id);
  Operand order(BinaryOp op, const Operand& left, const Operand& right, ExprId id);
  bool same_readings(const Operand& a, const Operand& b, ExprId id);
  bool same_dimension(const Operand& a, const Operand& b, const char* verb, ExprId id);
  Operand negate(Operand truth);
  std::optional<ExactInterval> written_out(const Operand& operand, ExprId id) const;
  std::pair<Operand, Operand> range_ends(ExprId lo, ExprId hi);
  /// Conditions and columns of a look-up.
  bool add_condition(Lookup& lookup, const TableDef& table, std::uint32_t column, BinaryOp op, ExprId value,
                     ExprId id);
  std::optional<Rational> constant(ExprId id) const;
  // names and fields
  std::optional<ScopeEntry> lookup(Symbol name) const;
  Operand use(const ScopeEntry& binding, ExprId id);
  Operand field_of(const Operand& object, const Name& field, ExprId id);
  Operand attribute_of(const Operand& entity, const Schema& schema, std::uint32_t index, ExprId id);
  /// Of a function that other languages have, or a table asked as one; "" where it is neither.
  std::string hint_for_function(const CallExpr& e) const;
  /// Of a word that no value is called: a derived value further down has this name.
  std::string hint_for_word(Symbol word) const;
  /// The name of a variable that a derived value has too, which was said where that is declared.
  bool hides_a_let(ExprId id) const;
  Operand let_of_kind(const Operand& part, const Lets& lets, std::size_t at, ExprId id);
  bool has_field(const Operand& size, const Name& field);
  void note_compared(const Type& type);
  std::optional<Operand> self_name(const Name& name, ExprId id);
  // calls
  Operand built_in(std::string_view name, const CallExpr& e, ExprId id);
  Operand call_formula(std::uint32_t index, const CallExpr& e, ExprId id);
  // quantifiers
  struct Domain {
    Quantifier quantifier;
    ScopeEntry binding;
    bool continuous = false;
    bool good = false;
  };
  Domain domain_of(const Binder& binder);
  Reg reach_of(const Binder& binder, std::vector<InterfaceId>& through);
  BlockIndex inner_block(ExprId expr, const ScopeEntry& binding, bool truth, Operand* result,
                         ExprId guard = {});
  bool reads_own_quantity(const Quantifier& q) const;
  std::optional<Name> many_side_in(ExprId id) const;
  // guards
  struct Fact {
    enum class Relation : std::uint8_t { less, at_most, unequal } relation;
    Reg left, right;
  };
  /// For as long as it lives, steps are made for where a truth holds, or does not.
  class Assuming {
   public:
    Assuming(Compiler& compiler, const Operand& truth, bool holds);
    ~Assuming() { compiler_.facts_.resize(before_); }
    Assuming(const Assuming&) = delete;
    Assuming& operator=(const Assuming&) = delete;

   private:
    Compiler& compiler_;
    std::size_t before_;
  };
  void assume(Reg truth, bool holds);
  /// The steps of guards at the beginning of a block, and what there was before.
  struct GuardSteps {
    std::size_t count = 0, blocks = 0, lookups = 0, quantifiers = 0, facts = 0;
  };
  /// Makes the steps of the guards, for what they say of the expression, if that can lack a value.
  GuardSteps assume_guards(std::initializer_list<ExprId> guards, ExprId expr);
  /// What they say ends with the block; those that nothing reads are taken out again.
  BlockIndex close_guarded(const GuardSteps& guard_steps, Reg result);
  void drop_unread(const GuardSteps& guard_steps, Reg result);
  bool is_let(ExprId expr) const;
  bool may_lack_value(ExprId expr) const;
  bool may_compare_numbers(ExprId guard) const;
  Guarded guarded(Reg number, int depth = 0) const;
  Guarded said_of(const Fact& fact, Reg number) const;
  Guarded said_of_difference(Reg left, Reg right) const;
  const Op* step_of(Reg reg) const;
  const ExactInterval* constant_of(Reg reg) const;

  static constexpr std::size_t max_steps = 50'000;
  static constexpr std::size_t names_a_step = 16;  // where very many are bound, for each program anew
  static constexpr std::size_t max_levels = 100;   // of formulas and derived values
  /// A formula or derived value within another needs more of the stack than an operator does.
  static constexpr std::size_t max_depth = 3'000, depth_of_formula = 20;

  Context& context_;
  Program& program_;
  std::vector<Type> types_;  // by register; the program has them when an outermost block is closed
  std::vector<Frame> frames_{1};
  std::vector<OpenBlock> open_;
  std::vector<Fact> facts_;
  bool in_guard_ = false;
  std::vector<std::uint32_t> active_formulas_;
  std::vector<const LetDecl*> active_lets_;
  std::size_t steps_ = 0;
  std::size_t depth_ = 0;  // of expressions in each other, formulas put in
  ExprId root_;
  bool said_too_long_ = false;
  bool formulas_put_in_ = false;
};

/// Whether `is_it` is true of an expression below `id`, itself included; for searches that need no meaning.
template <class IsIt>
bool some_expr(const Tree& tree, ExprId id, const IsIt& is_it) {
  std::vector<ExprId> todo{id};
  while (!todo.empty()) {
    const ExprId next = todo.back();
    todo.pop_back();
    if (is_it(next)) return true;
    for_each_child(tree, tree.exprs[next], [&](ExprId child) { todo.push_back(child); });
  }
  return false;
}

}  // namespace mm
