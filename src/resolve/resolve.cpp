#include "resolve/resolve.hpp"

#include "resolve/declarations.hpp"
#include "resolve/designations.hpp"
#include "resolve/types.hpp"

namespace mm {

Project resolve(const Tree& tree, const Sources& sources, Names& names, Messages& messages,
                FileId trials_of) {
  Project project;
  Context context(tree, sources, names, messages, project);
  declare_all(context);
  read_designations(context);
  read_tables(context);
  read_formula_types(context);
  read_sides(context);
  read_kinds(context);
  check_groups(context);
  compile_computed_fields(context);
  check_formulas(context);
  check_derived_attributes(context);
  compile_interfaces(context);
  compile_rules(context);
  find_part_kinds(context);
  resolve_builds(context, trials_of);
  check_parts(context);
  add_samples(context);
  return project;
}

}  // namespace mm
