// Computed fields of designations, formulas on their own, and derived attributes.
#include <algorithm>
#include <unordered_set>

#include "resolve/compiler.hpp"
#include "resolve/declarations.hpp"

namespace mm {

void compile_computed_fields(Context& context) {
  for (std::size_t i = 0; i < context.designation_decls.size(); ++i) {
    const DesignationId id{i};
    for (std::size_t f = 0; f < context.designation_decls[i]->forms.size(); ++f) {
      const FormDecl& form = context.designation_decls[i]->forms[f];
      const auto always_given = [&](Symbol field) {
        return std::all_of(form.patterns.begin(), form.patterns.end(), [&](const auto& pattern) {
          return std::any_of(pattern.begin(), pattern.end(), [&](const PatternPiece& piece) {
            return piece.field && piece.field->symbol == field;
          });
        });
      };
      std::unordered_set<Symbol> computed_here;
      for (const auto& let : form.computed) {
        if (!computed_here.insert(let.name.symbol).second || always_given(let.name.symbol))
          context.messages.add(Code::duplicate_name, let.name.span, {"field", context.text(let.name)},
                               "the size gives it, or it is computed, once");
        FormDef::Computed computed;
        Type type;
        {
          Compiler compiler(context, computed.program);
          compiler.set_slots(1);
          Type self_type = simple_type(TypeKind::designation, true);
          self_type.designation = id;
          compiler.open_block();
          compiler.bind_self(compiler.self_operand(OpCode::local, 0, self_type));
          Operand value = compiler.compile(let.value);
          value.expr = let.value;
          if (value.bare_word)
            value = compiler.fit_to(value, simple_type(TypeKind::text, true), context.text(let.name));
          type = value.type;
          computed.block = compiler.close_block(value.reg);
        }
        if (type.kind == TypeKind::error) continue;
        type.nominal = true;
        DesignationDef& def = context.model.designations[id];
        std::uint32_t at = no_reg;
        for (std::uint32_t k = 0; k < def.fields.size(); ++k)
          if (def.fields[k].name == let.name.symbol) at = k;
        if (at == no_reg) {
          at = static_cast<std::uint32_t>(def.fields.size());
          def.fields.push_back({let.name.symbol, type});
        } else {
          const Type& had = def.fields[at].type;
          const bool numbers = had.is_number() && type.is_number();
          if (numbers ? !compatible(had.dimension, type.dimension) : had.kind != type.kind) {
            context.messages.add(Code::wrong_dimension, let.name.span,
                                 {type_text(context, had), type_text(context, type)},
                                 "a field means the same in every form");
            continue;
          }
        }
        computed.field = at;
        def.forms[f].computed.push_back(std::move(computed));
      }
    }
  }
  // Sizes that were read before the computed fields were known have room for them now.
  auto& made = context.model.designation_consts;
  for (std::size_t i = 0; i < made.size(); ++i) {
    DesignationConst& size = made[DesignationConstId{i}];
    size.fields.resize(context.model.designations[size.designation].fields.size());
  }
}

void check_formulas(Context& context) {
  for (std::uint32_t i = 0; i < context.formula_list.size(); ++i) {
    Program scratch;
    Compiler(context, scratch).compile_formula_alone(i);
  }
}

void check_derived_attributes(Context& context) {
  for (std::size_t i = 0; i < context.kind_decls.size(); ++i) {
    const KindId id{i};
    const Lets& lets = context.lets_of(id);
    for (std::size_t at = 0; at < lets.size(); ++at) {
      const LetDecl& let = lets[at];
      Program scratch;
      Compiler compiler(context, scratch);
      Type self = simple_type(TypeKind::part);
      self.part_kind = id;
      compiler.set_slots(1);  // the part itself
      compiler.open_block();
      compiler.bind_self(compiler.self_operand(OpCode::local, 0, self));
      compiler.bind_lets(lets, at);
      Operand value = compiler.compile(let.value);
      value.expr = let.value;
      if (value.bare_word) compiler.fit_to(value, {}, "");
    }
  }
}

}  // namespace mm
