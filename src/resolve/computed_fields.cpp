// Computed fields of designations. A field is compiled when all that it reads are: what has to wait is taken
// up again once the field that it waits for is there, so that each is looked at once for each that it needs.
#include "resolve/computed_fields.hpp"

#include <algorithm>
#include <deque>
#include <unordered_set>

#include "resolve/compiler.hpp"
#include "resolve/declarations.hpp"

namespace mm {

namespace {

constexpr std::uint32_t most_depth = 32;

}  // namespace

FieldNeeds::Index FieldNeeds::add(DesignationId designation, std::uint32_t form, Symbol name,
                                  bool may_be_given) {
  const auto index = static_cast<Index>(fields_.size());
  fields_.push_back({designation, form, may_be_given});
  by_name_[{designation, name}].push_back(index);
  by_designation_[designation].push_back(index);
  return index;
}

void FieldNeeds::start(Index field) {
  present_ = field;
  awaited_.clear();
  depth_ = 1;
}

void FieldNeeds::need(Index other) {
  if (!fields_[other].done)
    awaited_.insert(other);
  else
    depth_ = std::max(depth_, fields_[other].depth + 1);
}

bool FieldNeeds::reads(DesignationId designation, Symbol name, bool of_itself) {
  const auto at = by_name_.find({designation, name});
  if (at == by_name_.end()) return true;
  for (const Index other : at->second) {
    const bool elsewhere = fields_[other].form != fields_[present_].form;
    if (of_itself && (elsewhere || (other >= present_ && fields_[other].may_be_given))) continue;
    need(other);
  }
  return awaited_.empty();
}

void FieldNeeds::compares(DesignationId designation) {
  const auto at = by_designation_.find(designation);
  if (at == by_designation_.end()) return;
  for (const Index other : at->second) need(other);
}

/// The fields of one size are worked out in the order in which they were compiled.
void FieldNeeds::finish() {
  Field& field = fields_[present_];
  std::uint32_t& all = depth_of_form_[{field.designation, field.form}];
  all = std::max(all, depth_);
  field.done = true;
  field.depth = all;
}

namespace {

struct Declared {
  DesignationId designation;
  std::uint32_t form;
  const LetDecl* let;
};

class ComputedFields {
 public:
  explicit ComputedFields(Context& context) : context_(context) {}

  void compile_all() {
    collect();
    context_.field_needs = &needs_;
    std::deque<FieldNeeds::Index> ready(declared_.size());
    for (std::size_t i = 0; i < ready.size(); ++i) ready[i] = static_cast<FieldNeeds::Index>(i);
    std::vector<std::vector<FieldNeeds::Index>> waiting(declared_.size());
    while (!ready.empty()) {
      const FieldNeeds::Index field = ready.front();
      ready.pop_front();
      needs_.start(field);
      FormDef::Computed computed;
      const Type type = compiled(field, computed);
      if (!needs_.is_complete()) {
        waiting[needs_.awaited()].push_back(field);
        continue;
      }
      if (type.kind != TypeKind::error && check(field, computed))
        keep(field, type, std::move(computed));
      else
        keep_as_wrong(declared_[field]);
      needs_.finish();
      ready.insert(ready.end(), waiting[field].begin(), waiting[field].end());
    }
    for (std::size_t i = 0; i < declared_.size(); ++i)
      if (!needs_.is_finished(static_cast<FieldNeeds::Index>(i))) circle(declared_[i]);
    context_.field_needs = nullptr;
  }

 private:
  void collect() {
    for (std::size_t i = 0; i < context_.designation_decls.size(); ++i) {
      const DesignationId id{i};
      const auto& forms = context_.designation_decls[i]->forms;
      for (std::uint32_t f = 0; f < forms.size(); ++f) {
        std::unordered_set<Symbol> here;
        for (const LetDecl& let : forms[f].computed) {
          if (!here.insert(let.name.symbol).second || always_given(forms[f], let.name.symbol))
            context_.messages.add(Code::duplicate_name, let.name.span, {"field", context_.text(let.name)},
                                  "the size gives it, or it is computed, once");
          const auto& given = context_.model.designations[id].forms[f].written;
          const bool may_be_given = std::any_of(given.begin(), given.end(), [&](const NamedType& field) {
            return field.name == let.name.symbol;
          });
          needs_.add(id, f, let.name.symbol, may_be_given);
          declared_.push_back({id, f, &let});
        }
      }
    }
  }

  static bool always_given(const FormDecl& form, Symbol field) {
    return std::all_of(form.patterns.begin(), form.patterns.end(), [&](const auto& pattern) {
      return std::any_of(pattern.begin(), pattern.end(), [&](const PatternPiece& piece) {
        return piece.field && piece.field->symbol == field;
      });
    });
  }

  Type compiled(FieldNeeds::Index field, FormDef::Computed& computed) {
    const auto& [designation, form, let] = declared_[field];
    Compiler compiler(context_, computed.program);
    compiler.set_slots(1);
    Type self_type = simple_type(TypeKind::designation, true);
    self_type.designation = designation;
    compiler.open_block();
    compiler.bind_self(compiler.self_operand(OpCode::local, 0, self_type));
    Operand value = compiler.compile(let->value);
    value.expr = let->value;
    if (value.bare_word && needs_.is_complete())
      value = compiler.fit_to(value, simple_type(TypeKind::text, true), context_.text(let->name));
    computed.block = compiler.close_block(value.reg);
    computed.expr = let->value;
    return value.type;
  }

  void circle(const Declared& field) {
    context_.messages.add(Code::field_circle, field.let->name.span, {context_.text(field.let->name)});
    keep_as_wrong(field);
  }

  /// Who reads it is not told that it is missing.
  void keep_as_wrong(const Declared& field) {
    auto& fields = context_.model.designations[field.designation].fields;
    const auto named = [&](const FieldDef& one) { return one.name == field.let->name.symbol; };
    if (std::none_of(fields.begin(), fields.end(), named))
      fields.push_back({field.let->name.symbol, simple_type(TypeKind::error)});
  }

  bool check(FieldNeeds::Index field, const FormDef::Computed& computed) {
    const LetDecl& let = *declared_[field].let;
    const auto& blocks = computed.program.blocks;
    const bool over_parts = std::any_of(blocks.begin(), blocks.end(), [](const Block& block) {
      return std::any_of(block.ops.begin(), block.ops.end(),
                         [](const Op& op) { return is_over_entities(op.code); });
    });
    if (over_parts)
      context_.messages.add(Code::field_of_parts, context_.tree.exprs[let.value].span,
                            {context_.text(let.name)},
                            "a size is the same in every build: ask about parts in a rule");
    else if (needs_.depth() == most_depth + 1)
      context_.messages.add(Code::fields_too_deep, let.name.span,
                            {context_.text(let.name), std::to_string(most_depth)});
    else
      return needs_.depth() <= most_depth;
    return false;
  }

  void keep(FieldNeeds::Index field, Type type, FormDef::Computed computed) {
    const LetDecl& let = *declared_[field].let;
    type.nominal = true;
    DesignationDef& def = context_.model.designations[declared_[field].designation];
    const auto named = [&](const FieldDef& one) { return one.name == let.name.symbol; };
    const auto at = std::find_if(def.fields.begin(), def.fields.end(), named);
    computed.field = static_cast<std::uint32_t>(at - def.fields.begin());
    if (at == def.fields.end()) {
      def.fields.push_back({let.name.symbol, type});
    } else {
      const bool numbers = at->type.is_number() && type.is_number();
      if (numbers ? !compatible(at->type.dimension, type.dimension) : at->type.kind != type.kind) {
        context_.messages.add(Code::wrong_dimension, let.name.span,
                              {type_text(context_, at->type), type_text(context_, type)},
                              "a field means the same in every form");
        return;
      }
    }
    def.forms[declared_[field].form].computed.push_back(std::move(computed));
  }

  Context& context_;
  FieldNeeds needs_;
  std::vector<Declared> declared_;
};

}  // namespace

void compile_computed_fields(Context& context) {
  ComputedFields(context).compile_all();
  // Sizes that were read before the computed fields were known have room for them now.
  auto& made = context.model.designation_consts;
  for (std::size_t i = 0; i < made.size(); ++i) {
    DesignationConst& size = made[DesignationConstId{i}];
    size.fields.resize(context.model.designations[size.designation].fields.size());
  }
}

}  // namespace mm
