// Guards: what a comparison says of a number where what follows it is asked for. 1 / x after "when x > 0 mm"
// is never asked for at 0, so it has a value, and one above zero.
#include <algorithm>

#include "resolve/compiler.hpp"

namespace mm {

namespace {

constexpr int most_deep = 4;            // factors and signs between a number and what is compared
constexpr std::size_t most_facts = 64;  // at one time; a text with more loses nothing but these

Guarded turned(Guarded sign) {
  return (sign & never_zero) | ((sign & never_negative) != 0 ? never_positive : 0) |
         ((sign & never_positive) != 0 ? never_negative : 0);
}

Guarded sign_of(const ExactInterval& number) {
  if (number.empty) return 0;
  const bool from_zero = !number.lo_infinite && number.lo_value >= 0;
  const bool to_zero = !number.hi_infinite && number.hi_value <= 0;
  const bool zero = !(from_zero && number.lo_value > 0) && !(to_zero && number.hi_value < 0);
  return (from_zero ? never_negative : 0) | (to_zero ? never_positive : 0) | (zero ? 0 : never_zero);
}

/// Of a product or a quotient, of what is known of both.
Guarded sign_of_product(Guarded a, Guarded b) {
  const Guarded zero = a & b & never_zero;
  if ((a & never_negative) != 0) return zero | (b & ~never_zero);
  if ((a & never_positive) != 0) return zero | (turned(b) & ~never_zero);
  return zero;
}

}  // namespace

Compiler::Assuming::Assuming(Compiler& compiler, const Operand& truth, bool holds)
    : compiler_(compiler), before_(compiler.facts_.size()) {
  if (!truth.is_error()) compiler.assume(truth.reg, holds);
}

const Op* Compiler::step_of(Reg reg) const {
  for (const OpenBlock& open : open_) {
    const auto& ops = open.block.ops;
    const auto at = std::lower_bound(ops.begin(), ops.end(), reg,
                                     [](const Op& op, Reg target) { return op.target < target; });
    if (at != ops.end() && at->target == reg) return &*at;
  }
  return nullptr;
}

const ExactInterval* Compiler::constant_of(Reg reg) const {
  const Op* step = step_of(reg);
  if (step == nullptr || step->code != OpCode::number) return nullptr;
  return &context_.model.numbers[NumberId{step->payload}].exact;
}

void Compiler::assume(Reg truth, bool holds) {
  std::vector<std::pair<Reg, bool>> todo{{truth, holds}};
  while (!todo.empty() && facts_.size() < most_facts) {
    const auto [reg, is_so] = todo.back();
    todo.pop_back();
    const Op* step = step_of(reg);
    if (step == nullptr) continue;
    switch (step->code) {
      case OpCode::logical_not:
        todo.emplace_back(step->a, !is_so);
        break;
      case OpCode::logical_and:
      case OpCode::logical_or:
        if ((step->code == OpCode::logical_and) != is_so) break;
        todo.emplace_back(step->a, is_so);
        todo.emplace_back(step->b, is_so);
        break;
      case OpCode::lt:
        facts_.push_back(is_so ? Fact{Fact::Relation::less, step->a, step->b}
                               : Fact{Fact::Relation::at_most, step->b, step->a});
        break;
      case OpCode::le:
        facts_.push_back(is_so ? Fact{Fact::Relation::at_most, step->a, step->b}
                               : Fact{Fact::Relation::less, step->b, step->a});
        break;
      case OpCode::eq:
        if (!is_so) facts_.push_back({Fact::Relation::unequal, step->a, step->b});
        break;
      default:
        break;
    }
  }
}

/// Of left - right.
Guarded Compiler::said_of_difference(Reg left, Reg right) const {
  Guarded sign = 0;
  for (const Fact& fact : facts_) {
    const bool rising = fact.left == right && fact.right == left,
               falling = fact.left == left && fact.right == right;
    if (!rising && !falling) continue;
    if (fact.relation != Fact::Relation::at_most) sign |= never_zero;
    if (fact.relation != Fact::Relation::unequal) sign |= rising ? never_negative : never_positive;
  }
  return sign;
}

/// Of a number that the fact compares with a constant.
Guarded Compiler::said_of(const Fact& fact, Reg number) const {
  const bool above = fact.right == number;
  if (!above && fact.left != number) return 0;
  const ExactInterval* limit = constant_of(above ? fact.left : fact.right);
  if (limit == nullptr) return 0;
  const Guarded sign = sign_of(*limit);
  if (fact.relation == Fact::Relation::unequal)  // to zero itself
    return (sign & never_negative) != 0 && (sign & never_positive) != 0 ? never_zero : 0;
  const Guarded side = above ? never_negative : never_positive;
  if ((sign & side) == 0) return 0;
  return side | (fact.relation == Fact::Relation::less ? never_zero : sign & never_zero);
}

/// What the facts leave of a number.
Guarded Compiler::guarded(Reg number, int depth) const {
  if (facts_.empty() || (depth == 0 && constant_of(number) != nullptr)) return 0;
  Guarded sign = 0;
  for (const Fact& fact : facts_) sign |= said_of(fact, number);
  const Op* step = step_of(number);
  if (step == nullptr || depth == most_deep) return sign;
  switch (step->code) {
    case OpCode::number:
      return sign | sign_of(*constant_of(number));
    case OpCode::sub:
      return sign | said_of_difference(step->a, step->b);
    case OpCode::neg:
      return sign | turned(guarded(step->a, depth + 1));
    case OpCode::mul:
    case OpCode::div:
      return sign | sign_of_product(guarded(step->a, depth + 1), guarded(step->b, depth + 1));
    default:
      return sign;
  }
}

bool Compiler::is_let(ExprId expr) const {
  const auto* name = std::get_if<NameExpr>(&context_.tree.exprs[expr].form);
  const auto entry = name != nullptr ? lookup(name->name.symbol) : std::nullopt;
  return entry && entry->sort == ScopeEntry::Sort::let;
}

/// At first glance: it need not.
bool Compiler::may_lack_value(ExprId expr) const {
  const auto is_derived = [&](const FieldExpr& field) {
    return context_.derived_names.contains(field.field.symbol);
  };
  return some_expr(context_.tree, expr, [&](ExprId at) {
    const auto& form = context_.tree.exprs[at].form;
    if (const auto* binary = std::get_if<BinaryExpr>(&form))
      return binary->op == BinaryOp::div || binary->op == BinaryOp::pow;
    if (const auto* field = std::get_if<FieldExpr>(&form)) return is_derived(*field);
    return std::holds_alternative<CallExpr>(form) || is_let(at);
  });
}

/// At first glance: it need not. What is asked of each part of the build says nothing of one number, so that
/// only what `assume` goes through is looked at, and derived values as what they stand for.
bool Compiler::may_compare_numbers(ExprId guard) const {
  constexpr std::size_t most_looked_at = 64;  // derived values may name each other many times
  std::vector<std::pair<ExprId, bool>> todo{{guard, true}};
  for (std::size_t looked_at = 0; !todo.empty(); ++looked_at) {
    if (looked_at == most_looked_at) return true;
    const auto [at, is_so] = todo.back();
    todo.pop_back();
    const auto& form = context_.tree.exprs[at].form;
    if (std::holds_alternative<InRangeExpr>(form)) return true;
    if (const auto* name = std::get_if<NameExpr>(&form)) {
      const auto entry = lookup(name->name.symbol);
      if (entry && entry->sort == ScopeEntry::Sort::let) todo.emplace_back(entry->let_value, is_so);
    } else if (const auto* unary = std::get_if<UnaryExpr>(&form)) {
      todo.emplace_back(unary->operand, !is_so);
    } else if (const auto* binary = std::get_if<BinaryExpr>(&form)) {
      if (binary->op >= BinaryOp::ne && binary->op <= BinaryOp::ge) return true;
      if (binary->op == BinaryOp::eq && !is_so) return true;
      if (binary->op != BinaryOp::logical_and && binary->op != BinaryOp::logical_or) continue;
      todo.emplace_back(binary->left, is_so);
      todo.emplace_back(binary->right, is_so);
    }
  }
  return false;
}

Compiler::GuardSteps Compiler::assume_guards(std::initializer_list<ExprId> guards, ExprId expr) {
  GuardSteps made{0, program_.blocks.size(), program_.lookups.size(), program_.quantifiers.size(),
                  facts_.size()};
  if (in_guard_) return made;  // nested guards would double the work at each level
  for (const ExprId guard : guards) {
    if (!guard || !may_compare_numbers(guard) || !may_lack_value(expr)) continue;
    const std::size_t steps = steps_;  // counted where the guard itself is made
    in_guard_ = true;
    const Operand truth = want_truth(guard);
    in_guard_ = false;
    steps_ = steps;
    if (!truth.is_error()) assume(truth.reg, true);
  }
  made.count = open_.back().block.ops.size();
  return made;
}

BlockIndex Compiler::close_guarded(const GuardSteps& guard_steps, Reg result) {
  facts_.resize(guard_steps.facts);
  drop_unread(guard_steps, result);
  return close_block(result);
}

void Compiler::drop_unread(const GuardSteps& guard_steps, Reg result) {
  if (guard_steps.count == 0) return;
  auto& ops = open_.back().block.ops;
  const Reg first = ops.front().target;
  std::vector<std::uint32_t> readers(program_.registers - first);
  const auto reads = [&](Reg reg, std::uint32_t by) {
    if (reg != no_reg && reg >= first) readers[reg - first] += by;
  };
  const auto step_reads = [&](const Op& op, std::uint32_t by) {
    for (const Reg reg : {op.a, op.b, op.c}) reads(reg, by);
  };
  reads(result, 1);
  for (const Op& op : ops) step_reads(op, 1);
  for (std::size_t i = guard_steps.blocks; i < program_.blocks.size(); ++i) {
    reads(program_.blocks[i].result, 1);
    for (const Op& op : program_.blocks[i].ops) step_reads(op, 1);
  }
  for (std::size_t i = guard_steps.lookups; i < program_.lookups.size(); ++i)
    for (const LookupCondition& condition : program_.lookups[i].conditions) reads(condition.value, 1);
  for (std::size_t i = guard_steps.quantifiers; i < program_.quantifiers.size(); ++i)
    for (const Reg reg :
         {program_.quantifiers[i].lo, program_.quantifiers[i].hi, program_.quantifiers[i].reach_from})
      reads(reg, 1);
  std::vector<Op> kept;
  for (std::size_t i = guard_steps.count; i-- > 0;) {
    if (readers[ops[i].target - first] != 0)
      kept.push_back(ops[i]);
    else
      step_reads(ops[i], ~0U);  // one reader less
  }
  std::reverse(kept.begin(), kept.end());
  ops.erase(ops.begin(), ops.begin() + static_cast<std::ptrdiff_t>(guard_steps.count));
  ops.insert(ops.begin(), kept.begin(), kept.end());
}

}  // namespace mm
