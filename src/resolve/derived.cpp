// Formulas on their own, and derived attributes.
#include "resolve/compiler.hpp"
#include "resolve/declarations.hpp"

namespace mm {

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
