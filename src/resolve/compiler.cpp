// The compiler's frame: blocks, scopes, emitting with equal steps made once.
#include "resolve/compiler.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/hash.hpp"
#include "resolve/designations.hpp"

namespace mm {

namespace {

constexpr std::size_t few_steps = 16;  // so many are gone through one by one

/// An empty list, with room that another one had.
template <class T>
std::vector<T> take_room(std::vector<std::vector<T>>& rooms) {
  std::vector<T> room;
  if (!rooms.empty()) {
    room = std::move(rooms.back());
    rooms.pop_back();
    room.clear();
  }
  return room;
}

}  // namespace

Compiler::Compiler(Context& context, Program& program)
    : context_(context), program_(program), types_(take_room(context.rooms_for_types)) {
  types_ = program.types;
}

Compiler::~Compiler() { context_.rooms_for_types.push_back(std::move(types_)); }

void Compiler::bind(ScopeEntry entry) {
  set_slots(entry.slot + 1);
  frame().bindings.push_back(std::move(entry));
  if (frame().bindings.size() % names_a_step == 0 && context_.steps_left > 0) --context_.steps_left;
}

void Compiler::bind_lets(const Lets& lets, std::size_t count) {
  frame().lets = &lets;
  frame().lets_seen = count;
  frame().before_lets = frame().bindings.size();
}

void Compiler::open_block() { open_.emplace_back().block.ops = take_room(context_.rooms_for_ops); }

BlockIndex Compiler::close_block(Reg result) {
  std::vector<Op>& ops = open_.back().block.ops;
  program_.blocks.push_back({std::vector<Op>(ops.begin(), ops.end()), result});
  context_.rooms_for_ops.push_back(std::move(ops));
  open_.pop_back();
  if (open_.empty())
    program_.types.insert(program_.types.end(),
                          types_.begin() + static_cast<std::ptrdiff_t>(program_.types.size()), types_.end());
  return static_cast<BlockIndex>(program_.blocks.size() - 1);
}

BlockIndex Compiler::truth_block(ExprId expr, std::initializer_list<ExprId> guards) {
  open_block();
  steps_ = 0;
  const GuardSteps of_guards = assume_guards(guards, expr);
  const Operand result = want_truth(expr);
  return close_guarded(of_guards, result.reg);
}

BlockIndex Compiler::any_block(ExprId expr, Type* type, std::initializer_list<ExprId> guards) {
  open_block();
  const GuardSteps of_guards = assume_guards(guards, expr);
  Operand result = compile(expr);
  if (result.bare_word) result = fit_to(result, {}, "");
  *type = result.type;
  return close_guarded(of_guards, result.reg);
}

namespace {

std::uint64_t hash_of(const Op& op) {
  const std::uint64_t what = std::uint64_t{static_cast<std::uint8_t>(op.code)} << 32U | op.payload;
  return mixed(mixed(what, op.c), std::uint64_t{op.a} << 32U | op.b);
}

/// Whether both do the same, but for the kind of what they give.
bool same_step(const Op& x, const Op& y) {
  return x.code == y.code && x.a == y.a && x.b == y.b && x.c == y.c && x.payload == y.payload;
}

}  // namespace

const Op* Compiler::known_step(const Op& wanted) const {
  const auto is_it = [&](const Op& op) { return same_step(op, wanted); };
  for (const OpenBlock& open : open_) {
    const auto& ops = open.block.ops;
    if (ops.size() <= few_steps) {
      const auto found = std::find_if(ops.begin(), ops.end(), is_it);
      if (found != ops.end() && found->result == wanted.result) return &*found;
      continue;
    }
    const std::uint32_t at = open.known.find(hash_of(wanted), [&](std::uint32_t i) { return is_it(ops[i]); });
    if (at != IndexTable::none && ops[at].result == wanted.result) return &ops[at];
  }
  return nullptr;
}

/// Equal steps are made once.
Operand Compiler::emit(OpCode code, Type type, Reg a, Reg b, Reg c, std::uint32_t payload) {
  Op op;
  op.code = code;
  op.result = type.kind;
  op.a = a;
  op.b = b;
  op.c = c;
  op.payload = payload;
  Operand operand;
  if (const Op* known = known_step(op)) {
    operand.reg = known->target;
    operand.type = types_[known->target];
    return operand;
  }
  operand.reg = op.target = program_.registers++;
  operand.type = type;
  types_.push_back(type);
  Block& block = open_.back().block;
  IndexTable& known = open_.back().known;
  block.ops.push_back(op);
  const std::size_t size = block.ops.size();
  if (size <= few_steps) return operand;
  for (std::size_t i = size == few_steps + 1 ? 0 : size - 1; i < size; ++i) {
    const Op& step = block.ops[i];
    const auto same = [&](std::uint32_t other) { return same_step(block.ops[other], step); };
    if (known.find(hash_of(step), same) == IndexTable::none)
      known.add(hash_of(step), static_cast<std::uint32_t>(i));
  }
  return operand;
}

Operand Compiler::emit_number(ExactInterval value, Type type, int pi_power) {
  const NumberId number = context_.number(std::move(value), pi_power);
  return emit(OpCode::number, type, no_reg, no_reg, no_reg, number.index);
}

Operand Compiler::emit_number(const Measured& value, Type type) {
  return emit(OpCode::number, type, no_reg, no_reg, no_reg,
              context_.literal(value.value, type, value.unit->pi_power).index);
}

bool Compiler::tell_too_long() {
  // Said once a program, at its outermost expression; after a few such programs the rest is not tried.
  if (!said_too_long_ && (context_.steps_left > 0 || !context_.said_too_long))
    context_.messages.add(Code::program_too_long, span(root_),
                          {std::to_string(context_.steps_left > 0 ? max_steps : max_steps_in_all),
                           context_.steps_left == 0 ? ", with all that was read before it"
                           : formulas_put_in_       ? " once its formulas are put in"
                                                    : ""});
  said_too_long_ = context_.said_too_long = true;
  return true;
}

bool Compiler::tell_too_deep(ExprId id, bool levels) {
  if (!context_.said_too_deep)
    context_.messages.add(Code::program_too_deep, span(levels ? root_ : id), {std::to_string(max_levels)});
  context_.said_too_deep = true;
  return true;
}

Operand Compiler::compile(ExprId id) {
  if (too_long(id) || too_deep(id)) return error(id);
  ++depth_;
  const std::size_t before = open_.back().block.ops.size();
  Operand operand =
      std::visit([&](const auto& form) { return visit(form, id); }, context_.tree.exprs[id].form);
  --depth_;
  operand.expr = id;
  // The last step made here stands for this expression in reasons.
  auto& ops = open_.back().block.ops;
  if (ops.size() > before && ops.back().target == operand.reg) {
    if (!ops.back().origin)
      ops.back().origin = id;
    else
      ops.back().used_as = id;
  }
  return operand;
}

std::string Compiler::what(const Operand& operand) const {
  if (operand.bare_word) return fmt::format("the word \"{}\"", context_.text(operand.bare_word));
  if (operand.form_of != no_reg) return "the name of a form";
  return type_text(context_, operand.type);
}

Operand Compiler::want_truth(ExprId id, ExprId compared) {
  Operand operand = compile(id);
  if (operand.is_error() || operand.type.kind == TypeKind::boolean) return operand;
  if (operand.bare_word) {
    context_.messages.add(Code::word_unknown, span(id), {context_.text(operand.bare_word)},
                          hint_for_second_word(compared, operand.bare_word));
  } else {
    context_.messages.add(Code::not_a_truth, span(id), {what(operand)}, "compare it with something");
  }
  return error(id);
}

/// Of "a.form = flat or round": `compared` is what stands before the "or".
std::string Compiler::hint_for_second_word(ExprId compared, Symbol word) const {
  constexpr std::size_t longest = 60;
  if (!compared) return {};
  const auto* comparison = std::get_if<BinaryExpr>(&context_.tree.exprs[compared].form);
  if (comparison == nullptr || (comparison->op != BinaryOp::eq && comparison->op != BinaryOp::ne)) return {};
  const std::string left(context_.sources.text(span(comparison->left)));
  if (left.size() > longest) return {};
  return fmt::format("each condition is written in full, as {} {} {}", left,
                     comparison->op == BinaryOp::eq ? "=" : "!=", context_.text(word));
}

Operand Compiler::want_number(ExprId id) {
  Operand operand = compile(id);
  if (operand.is_error()) return operand;
  const TypeKind kind = operand.type.kind;
  if (kind == TypeKind::quantity || kind == TypeKind::count || kind == TypeKind::date) return operand;
  if (operand.bare_word) {
    context_.messages.add(Code::word_unknown, span(id), {context_.text(operand.bare_word)},
                          hint_for_word(operand.bare_word));
  } else if (!hides_a_let(id)) {
    context_.messages.add(Code::not_a_number, span(id), {what(operand)});
  }
  return error(id);
}

bool Compiler::is_of(const Operand& operand, const Type& wanted) {
  const Type& have = operand.type;
  const bool number_pair = (have.kind == TypeKind::count || have.kind == TypeKind::quantity) &&
                           (wanted.kind == TypeKind::count || wanted.kind == TypeKind::quantity);
  if (number_pair) return compatible(have.dimension, wanted.dimension);
  if (have.kind != wanted.kind) return false;
  if (have.kind == TypeKind::designation) return have.designation == wanted.designation;
  return have.kind != TypeKind::part || !wanted.part_kind || have.part_kind == wanted.part_kind;
}

Operand Compiler::fit_to(Operand operand, const Type& wanted, const std::string& name) {
  if (operand.is_error()) return operand;
  const auto symbolic = [&](Type type, SymbolicSetId set) {
    Operand made = emit(OpCode::symbolic, type, no_reg, no_reg, no_reg, set.index);
    made.expr = operand.expr;
    return made;
  };
  if (operand.bare_word) {
    if (wanted.kind == TypeKind::place || wanted.kind == TypeKind::text)
      return symbolic(wanted, context_.set_of(operand.bare_word));
    if (wanted.kind == TypeKind::choice) {
      if (wanted.choices) {
        std::vector<std::string_view> known;
        bool member = false;
        for (const auto m : context_.model.sets[wanted.choices].members) {
          known.push_back(context_.names.text(Symbol{m}));
          member = member || m == operand.bare_word.index;
        }
        if (!member) {
          context_.messages.add(Code::unknown_choice, span(operand.expr),
                                {context_.text(operand.bare_word), context_.list_of(wanted.choices)},
                                context_.suggest(context_.names.text(operand.bare_word), known));
          return error(operand.expr);
        }
      }
      Type type = wanted;
      return symbolic(type, context_.set_of(operand.bare_word));
    }
    context_.messages.add(Code::word_unknown, span(operand.expr), {context_.text(operand.bare_word)},
                          hint_for_word(operand.bare_word));
    return error(operand.expr);
  }
  if (wanted.kind == TypeKind::designation && operand.type.kind == TypeKind::text && operand.expr) {
    if (const auto* literal = std::get_if<TextExpr>(&context_.tree.exprs[operand.expr].form)) {
      const auto id =
          read_designation_text(context_, wanted.designation, literal->text.text, literal->text.span);
      if (!id) return error(operand.expr);
      return symbolic(wanted, context_.set_of(std::vector<std::uint32_t>{id.index}));
    }
  }
  if (wanted.kind == TypeKind::error || is_of(operand, wanted)) return operand;
  if (name.empty())
    context_.messages.add(Code::wrong_dimension, span(operand.expr),
                          {type_text(context_, wanted), what(operand)}, "the formula says what it gives");
  else
    context_.messages.add(Code::argument_type, span(operand.expr),
                          {name, type_text(context_, wanted), what(operand)});
  return error(operand.expr);
}

}  // namespace mm
