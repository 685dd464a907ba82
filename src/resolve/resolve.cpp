#include "resolve/resolve.hpp"

#include "resolve/build_context.hpp"
#include "resolve/declarations.hpp"
#include "resolve/designations.hpp"
#include "resolve/rules_apart.hpp"
#include "resolve/types.hpp"

namespace mm {

void read_declarations(Context& context) {
  declare_all(context);
  read_designations(context);
  read_columns(context);
  read_formula_types(context);
  read_sides(context);
  read_kinds(context);
  compile_computed_fields(context);
}

namespace {

/// What programs hang on only where something is wrong, which is told then.
void read_further(Context& context) {
  read_rows(context);
  check_groups(context);
  check_formulas(context);
  check_derived_attributes(context);
}

}  // namespace

Project resolve(const Tree& tree, const Sources& sources, Names& names, Messages& messages, FileId trials_of,
                Helpers* helpers) {
  Project project;
  Context context(tree, sources, names, messages, project);
  RulesApart apart(tree, sources, names, helpers);
  read_declarations(context);
  apart.note_beginning(context);
  read_further(context);
  compile_interfaces(context);
  find_part_kinds(context);
  std::deque<BuildContext> begun = begin_builds(context, trials_of);
  const std::size_t here = apart.left_to(context);
  compile_rules(context, 0, here);
  if (!apart.take_into(context)) compile_rules(context, here, context.rule_decls.size());
  resolve_builds(context, trials_of, std::move(begun));
  check_parts(context);
  add_samples(context);
  return project;
}

}  // namespace mm
