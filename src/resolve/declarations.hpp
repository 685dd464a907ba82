// The steps of resolving, in the order in which they must run.
#pragma once
#include <deque>

#include "resolve/context.hpp"

namespace mm {

struct BuildContext;

// resolve.cpp: all of what programs name
void read_declarations(Context& context);
// declare.cpp: what is there, by name
void declare_all(Context& context);
/// A function of the language itself (compile_calls.cpp).
bool is_built_in(std::string_view function);
// schemas.cpp: what each thing looks like
void read_designations(Context& context);
void read_columns(Context& context);
void read_rows(Context& context);
void read_formula_types(Context& context);
void read_sides(Context& context);
void read_kinds(Context& context);
// computed_fields.cpp
void compile_computed_fields(Context& context);
// derived.cpp: programs that are no requirements
void check_formulas(Context& context);
void check_derived_attributes(Context& context);
// requirements.cpp
void compile_interfaces(Context& context);
/// From the first of the rules declared up to the last.
void compile_rules(Context& context, std::size_t first, std::size_t last);
/// `expect that EXPR` of a trial: a requirement without variables.
RequirementId compile_expectation(Context& context, ExprId expr);
// sheets.cpp
void find_part_kinds(Context& context);
/// Of parts whose sheets no build has read.
void check_parts(Context& context);
// build.cpp
/// The first builds, no trials, as far as they need no requirement: while a helper compiles rules.
std::deque<BuildContext> begin_builds(Context& context, FileId trials_of);
/// All of them, of which those were begun.
void resolve_builds(Context& context, FileId trials_of, std::deque<BuildContext> begun);

}  // namespace mm
