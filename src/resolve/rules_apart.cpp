#include "resolve/rules_apart.hpp"

#include <algorithm>
#include <exception>
#include <map>

#include "interval/mpfr_number.hpp"
#include "resolve/declarations.hpp"
#include "resolve/designations.hpp"

namespace mm {

namespace {

constexpr std::size_t least_rules = 24;        // fewer are compiled before a helper is awake
constexpr std::size_t most_names = 50'000;     // more are a catalogue's, and would all be copied
constexpr std::size_t here = 13, in_all = 40;  // the caller's share: it has interfaces and builds too

std::size_t rules_in(const Tree& tree) {
  std::size_t count = 0;
  for (const auto& file : tree.files)
    for (const auto& declaration : file.declarations) count += declared_as<RuleDecl>(declaration) != nullptr;
  return count;
}

/// The first of the rules that are compiled apart: by how much there is to compile, as far as that is seen.
std::size_t first_apart(const std::vector<const RuleDecl*>& rules) {
  std::vector<std::size_t> up_to;
  std::size_t total = 0;
  for (const RuleDecl* rule : rules) {
    total += (rule->lets.size() + 2) * (rule->requirements.size() + 1);
    up_to.push_back(total);
  }
  const auto first = std::upper_bound(up_to.begin(), up_to.end(), total * here / in_all);
  return static_cast<std::size_t>(first - up_to.begin());
}

PoolSizes pool_sizes(const Context& context) {
  return {context.model.numbers.size(), context.model.sets.size(), context.model.designation_consts.size(),
          context.names.size()};
}

/// From the ids of one context to those of another, which were equal up to some size.
class Graft {
 public:
  Graft(Context& to, Context& from, const PoolSizes& alike) : to_(to), from_(from), alike_(alike) {}

  void take(RuleDef rule) {
    for (auto& variable : rule.variables) take(variable.from_program);
    take(rule.where_program);
    const auto index = static_cast<std::uint32_t>(to_.model.rules.size());
    for (RequirementId& id : rule.requirements) {
      RequirementDef def = std::move(from_.model.requirements[id]);
      def.rule = index;
      take(def.program);
      for (Template* text : {&def.because, &def.remedy})
        for (TextPiece& piece : *text) take(piece.type);
      to_.requirement_names.insert(def.name);
      id = to_.model.requirements.add(std::move(def));
    }
    to_.model.rules.push_back(std::move(rule));
  }

 private:
  void take(Type& type) {
    if (type.choices) type.choices = set(type.choices, false);
  }

  void take(Program& program) {
    for (Type& type : program.types) take(type);
    for (Block& block : program.blocks)
      for (Op& op : block.ops) {
        if (op.code == OpCode::number) op.payload = number(NumberId{op.payload}).index;
        if (op.code == OpCode::symbolic)
          op.payload = set(SymbolicSetId{op.payload}, op.result == TypeKind::designation).index;
      }
  }

  NumberId number(NumberId id) {
    if (id.index < alike_.numbers) return id;
    const auto [at, fresh] = numbers_.try_emplace(id);
    if (fresh) at->second = to_.model.numbers.add(from_.model.numbers[id]);
    return at->second;
  }

  /// Its members are sizes, or else words.
  SymbolicSetId set(SymbolicSetId id, bool sizes) {
    if (id.index < alike_.sets) return id;
    const auto [at, fresh] = sets_.try_emplace({id, sizes});
    if (!fresh) return at->second;
    const SymbolicSet& set = from_.model.sets[id];
    if (set.all) return at->second = to_.any_member();
    std::vector<std::uint32_t> members = as_written(from_.model, id);
    for (std::uint32_t& member : members)
      member = sizes ? size(DesignationConstId{member}).index : word(Symbol{member}).index;
    return at->second = to_.set_of(std::move(members));
  }

  DesignationConstId size(DesignationConstId id) {
    if (id.index < alike_.sizes) return id;
    const DesignationConst& made = from_.model.designation_consts[id];
    return read_designation_text(to_, made.designation, made.text, {});
  }

  Symbol word(Symbol word) {
    return word.index < alike_.names ? word : to_.names.intern(from_.names.text(word));
  }

  Context& to_;
  Context& from_;
  const PoolSizes alike_;
  std::map<NumberId, NumberId> numbers_;
  std::map<std::pair<SymbolicSetId, bool>, SymbolicSetId> sets_;
};

}  // namespace

struct RulesApart::Work {
  Work(const Tree& tree, const Sources& sources, const Names& others)
      : names(others.beside()), context(tree, sources, names, messages, project) {}

  void run() {
    read_declarations(context);
    alike = pool_sizes(context);
    steps_before = context.steps_left;
    compile_rules(context, first_apart(context.rule_decls), context.rule_decls.size());
    done = true;
  }

  Names names;
  Messages messages;
  Project project;
  Context context;
  PoolSizes alike;
  std::size_t steps_before = 0;
  bool done = false;
};

RulesApart::RulesApart(const Tree& tree, const Sources& sources, const Names& names, Helpers* helpers) {
  if (helpers == nullptr || helpers->size() == 0 || names.size() > most_names || rules_in(tree) < least_rules)
    return;
  helpers_ = helpers;
  work_ = std::make_shared<Work>(tree, sources, names);
  helpers_->start(1, [work = work_]() -> Helpers::Remains {
    const ThreadsConstants constants;
    try {
      work->run();
    } catch (const std::exception&) {  // the caller meets it too, and tells
    }
    return nullptr;
  });
}

RulesApart::~RulesApart() {
  if (helpers_ != nullptr) helpers_->wait();
}

void RulesApart::note_beginning(const Context& context) { alike_ = pool_sizes(context); }

std::size_t RulesApart::left_to(const Context& context) const {
  return helpers_ == nullptr ? context.rule_decls.size() : first_apart(context.rule_decls);
}

bool RulesApart::take_into(Context& context) {
  if (helpers_ == nullptr) return true;
  helpers_->wait();
  helpers_ = nullptr;
  const std::size_t steps = work_->steps_before - work_->context.steps_left;
  if (!work_->done || !work_->messages.all().empty() || work_->alike != alike_ || steps >= context.steps_left)
    return false;
  context.steps_left -= steps;
  Graft graft(context, work_->context, alike_);
  for (RuleDef& rule : work_->project.model.rules) graft.take(std::move(rule));
  context.project.held = work_;
  return true;
}

}  // namespace mm
