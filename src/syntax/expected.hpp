// What the grammar expected where it stopped, in words; one row a rule. Seen by parse.cpp only.
#pragma once
#include "builds.hpp"
#include "syntax/recovery.hpp"

namespace mm {

template <typename Rule>
inline constexpr Wanted expectation{};

#define MM_EXPECT(rule, what, hint)                    \
  template <>                                          \
  inline constexpr Wanted expectation<grammar::rule> { \
    what, hint                                         \
  }

// punctuation
MM_EXPECT(colon, "':'", "");
MM_EXPECT(equals, "'='", "");
MM_EXPECT(required_open, "'{'", "what belongs to it stands in braces, as kind wheel { ... }");
MM_EXPECT(block_close, "'}'", "");
MM_EXPECT(bracket_close, "')'", "");
MM_EXPECT(call_close, "')' or ','", "");
MM_EXPECT(lookup_close, "']' or ','", "");
MM_EXPECT(hole_end, "'}'", "a text that holds a brace writes it as \\{");
MM_EXPECT(field_end, "'}'", "");
MM_EXPECT(optional_end, "']'", "");

// values
MM_EXPECT(spread_amount, "a number", "a spread is written 25.40 mm +- 0.02 mm, or 4.5 in +- 2 %");
MM_EXPECT(plus_amount, "a number", "unequal limits are written 25 mm +0.021 -0");
MM_EXPECT(minus_mark, "'-' and the lower limit", "unequal limits are written 25 mm +0.021 -0");
MM_EXPECT(minus_amount, "a number", "unequal limits are written 25 mm +0.021 -0");
MM_EXPECT(range_high, "the range's upper end", "a range is written 12.5..13.0 mm");
MM_EXPECT(bound_amount, "a number", "a bound is written >= 20 mm");
MM_EXPECT(knob, "a range, 'sums of' or 'one of'", "as adjustable 0.7..7 MPa step 0.05 MPa");
MM_EXPECT(knob_dots, "'..' and the upper end", "as adjustable 0.7..7 MPa step 0.05 MPa");
MM_EXPECT(knob_high, "the range's upper end", "as adjustable 0.7..7 MPa step 0.05 MPa");
MM_EXPECT(knob_step, "the step", "as adjustable 0.7..7 MPa step 0.05 MPa");
MM_EXPECT(piece, "a count", "as adjustable sums of 3 x 0.10 mm, 2 x 0.20 mm");
MM_EXPECT(piece_times, "'x'", "as adjustable sums of 3 x 0.10 mm, 2 x 0.20 mm");
MM_EXPECT(piece_size, "a size", "as adjustable sums of 3 x 0.10 mm, 2 x 0.20 mm");
MM_EXPECT(setting, "a setting", "as adjustable one of 10 mm, 12 mm");
MM_EXPECT(value_word, "a word", "");
MM_EXPECT(evidence_grade, "measured, tried, published, claimed or hearsay", "");
MM_EXPECT(path_name, "a name", "a name begins with a letter and goes on with letters, digits and _");
MM_EXPECT(assigned_path, "an attribute's name", "an attribute is written NAME VALUE, as circle 108 mm");
MM_EXPECT(assigned_value, "a value or a block",
          "as 108 mm +- 0.1 mm, ? for not known yet, \"text\", or a word");
MM_EXPECT(cell_high, "the range's upper end", "");
MM_EXPECT(cell_spread, "a number", "");
MM_EXPECT(type_choice, "a word to choose from", "as one of cone_60, ball, flat");

// expressions
MM_EXPECT(operand, "a value", "as a name, a number with its unit, or a part in parentheses");
MM_EXPECT(logic_operand, "a condition", "");
MM_EXPECT(compared, "a value to compare with", "comparisons are = != < <= > >=");
MM_EXPECT(member_name, "a field's name", "");
MM_EXPECT(argument, "a value", "");
MM_EXPECT(lookup_condition, "a column's name", "a look-up is written TABLE[column = value].column");
MM_EXPECT(lookup_relation, "'=', '<', '<=', '>' or '>='",
          "a look-up is written TABLE[column = value].column");
MM_EXPECT(lookup_value, "a value", "a look-up is written TABLE[column = value].column");
MM_EXPECT(lookup_dot, "'.' and a column's name", "a look-up is written TABLE[column = value].column");
MM_EXPECT(lookup_result, "a column's name", "a look-up is written TABLE[column = value].column");
MM_EXPECT(inner, "a value", "");
MM_EXPECT(tuple_in, "'in' and a table's name",
          "several values in parentheses are looked for in a table: (a, b) in TABLE");
MM_EXPECT(tuple_table, "a table's name", "");
MM_EXPECT(any_binder, "a name", "as some x: KIND has ..., or the name of a many side");
MM_EXPECT(count_binder, "a name", "as count of x: KIND, or the name of a many side");
MM_EXPECT(kind_binder, "a name", "as for x: KIND");
MM_EXPECT(bound_kind, "a kind's name", "'part' is any kind");
MM_EXPECT(reach_from, "'from'", "as x: KIND reachable from E through INTERFACE");
MM_EXPECT(reach_start, "a part or a face", "as x: KIND reachable from E through INTERFACE");
MM_EXPECT(reach_through, "'through'", "as x: KIND reachable from E through INTERFACE");
MM_EXPECT(reach_interface, "an interface's name", "as x: KIND reachable from E through INTERFACE");
MM_EXPECT(domain_low, "the range's lower end", "as every z in 0.15..0.80 has ...");
MM_EXPECT(domain_dots, "'..'", "as every z in 0.15..0.80 has ...");
MM_EXPECT(domain_high, "the range's upper end", "as every z in 0.15..0.80 has ...");
MM_EXPECT(where_test, "a condition", "");
MM_EXPECT(has, "'has' and a condition", "as every x: KIND has x.length >= 3 mm");
MM_EXPECT(has_test, "a condition", "");
MM_EXPECT(aggregate_term, "a value",
          "as sum of x.length for x: KIND; put a sum or difference in parentheses");
MM_EXPECT(condition, "a condition", "");
MM_EXPECT(then_word, "'then'", "as if CONDITION then A else B");
MM_EXPECT(then_value, "a value", "");
MM_EXPECT(else_word, "'else'", "as if CONDITION then A else B");
MM_EXPECT(else_value, "a value", "");
MM_EXPECT(mate_of_word, "'of'", "as (mate of w.mount).pilot");
MM_EXPECT(face_operand, "a face", "as (mate of w.mount).pilot");
MM_EXPECT(tolerance, "a tolerance", "as a within 0.1 mm of b");
MM_EXPECT(tolerance_of, "'of'", "as a within 0.1 mm of b");
MM_EXPECT(within_target, "a value", "as a within 0.1 mm of b");
MM_EXPECT(in_domain, "a range or a table's name", "");
MM_EXPECT(in_high, "the range's upper end", "");
MM_EXPECT(hole_value, "a value", "a text that holds a brace writes it as \\{");

// declarations
MM_EXPECT(use_path, "a file's path in quotes", "as use \"rules/wheels.rules\"");
MM_EXPECT(unit_name, "the unit's name", "as unit stone = 6.35029318 kg");
MM_EXPECT(unit_equals, "'='", "as unit stone = 6.35029318 kg");
MM_EXPECT(unit_definition, "a number and its unit", "as unit stone = 6.35029318 kg");
MM_EXPECT(currency_name, "the currency's name", "as currency GBP");
MM_EXPECT(choice_name, "the choice's name", "as choice seat_form = cone_60, ball, flat");
MM_EXPECT(choice_equals, "'='", "as choice seat_form = cone_60, ball, flat");
MM_EXPECT(choice_word, "a word to choose from", "as choice seat_form = cone_60, ball, flat");
MM_EXPECT(attribute_name, "an attribute's name", "as offset: length");
MM_EXPECT(attribute_colon, "':' and a type", "an attribute is written NAME: TYPE");
MM_EXPECT(attribute_type, "a type",
          "as length, mm, count, yes_no, text, date, one of a, b, or a designation's name");
MM_EXPECT(limits, "a range", "as length in -100 mm..100 mm");
MM_EXPECT(limit_dots, "'..' and the upper end", "as length in -100 mm..100 mm");
MM_EXPECT(limit_high, "the range's upper end", "as length in -100 mm..100 mm");
MM_EXPECT(limit_amount, "a number", "as length in >= 0 mm");
MM_EXPECT(measure_text, "a text", "as measure \"straightedge and depth rod\"");
MM_EXPECT(default_spread, "measured, tried, published, claimed or hearsay",
          "as spread measured 0.5 mm, claimed 3 mm");
MM_EXPECT(default_amount, "a number and its unit", "as spread measured 0.5 mm, claimed 3 mm");
MM_EXPECT(with_group, "a group's name", "");
MM_EXPECT(table_name, "the table's name", "");
MM_EXPECT(column_type, "a type", "as length, mm, count, text, or a designation's name");
MM_EXPECT(row_cell, "a cell, or 'source' and a text", "cells are separated by blanks");
MM_EXPECT(let_name, "a name", "as let gap = wheel.bore - hub.pilot");
MM_EXPECT(let_equals, "'='", "as let gap = wheel.bore - hub.pilot");
MM_EXPECT(let_value, "a value", "as let gap = wheel.bore - hub.pilot");
MM_EXPECT(field_name, "a field's name", "a field is written {width: mm}");
MM_EXPECT(field_colon, "':' and a type", "a field is written {width: mm}");
MM_EXPECT(field_type, "a type", "a field is written {width: mm}");
MM_EXPECT(form_pattern, "a pattern in quotes", "as \"M{major: mm}x{pitch: mm}\"");
MM_EXPECT(form_word, "'form'", "as form metric \"M{major: mm}x{pitch: mm}\"");
MM_EXPECT(form_name, "the form's name", "as form metric \"M{major: mm}x{pitch: mm}\"");
MM_EXPECT(short_form, "a pattern in quotes or '{'", "as \"M{major: mm}x{pitch: mm}\"");
MM_EXPECT(computed_name, "a field's name", "as pitch = 1 in / tpi");
MM_EXPECT(computed_equals, "'='", "as pitch = 1 in / tpi");
MM_EXPECT(computed_value, "a value", "as pitch = 1 in / tpi");
MM_EXPECT(designation_name, "the designation's name", "");
MM_EXPECT(formula_name, "the formula's name", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(formula_open, "'('", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(parameter_name, "a parameter's name", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(parameter_colon, "':' and a type", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(parameter_type, "a type", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(formula_close, "')' or ','", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(formula_colon, "':' and the result's type", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(formula_type, "the result's type", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(formula_equals, "'='", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(formula_value, "a value", "as formula area(d: length): area = pi / 4 * d ^ 2");
MM_EXPECT(formula_source_word, "'source' and a text", "");
MM_EXPECT(formula_source_text, "a text", "");
MM_EXPECT(group_name, "the group's name", "");
MM_EXPECT(face_name, "a face's name", "as face mount: lug.wheel");
MM_EXPECT(face_colon, "':' and INTERFACE.SIDE", "as face mount: lug.wheel");
MM_EXPECT(face_interface, "an interface's name", "as face mount: lug.wheel");
MM_EXPECT(face_dot, "'.' and a side's name", "as face mount: lug.wheel");
MM_EXPECT(face_side, "a side's name", "as face mount: lug.wheel");
MM_EXPECT(kind_name, "the kind's name", "as kind wheel \"road wheel\" { ... }");
MM_EXPECT(requirement_name, "the requirement's name", "as need hole_count: wheel.holes = hub.holes");
MM_EXPECT(requirement_colon, "':' and a condition", "as need hole_count: wheel.holes = hub.holes");
MM_EXPECT(requirement_test, "a condition", "as need hole_count: wheel.holes = hub.holes");
MM_EXPECT(when_test, "a condition", "");
MM_EXPECT(because_text, "a text", "");
MM_EXPECT(source_text, "a text", "");
MM_EXPECT(remedy_text, "a text", "");
MM_EXPECT(settles_at_word, "'at'", "as settles at order");
MM_EXPECT(settles_gate, "order, assemble or drive", "as settles at order");
MM_EXPECT(hazard_name, "the hazard's name", "as hazard brakes");
MM_EXPECT(side_word, "'side'", "as many side layer { ... }");
MM_EXPECT(side_name, "the side's name", "as side wheel { holes: count }");
MM_EXPECT(interface_name, "the interface's name", "");
MM_EXPECT(rule_name, "the rule's name", "");
MM_EXPECT(rule_binder, "a name", "as for w: wheel, c: caliper");
MM_EXPECT(rule_where_test, "a condition", "as for w: wheel, c: caliper where w.place = c.place");
MM_EXPECT(part_name, "the part's name",
          "as part alloy_15x6 is wheel { ... }; a name begins with a letter a to z");
MM_EXPECT(part_is, "'is' and a kind's name",
          "as part alloy_15x6 is wheel { ... }; a name is one word of letters a to z, digits and _");
MM_EXPECT(part_kind, "a kind's name", "as part alloy_15x6 is wheel { ... }");

// builds
MM_EXPECT(place_name, "a place's name", "as place front_left, front_right");
MM_EXPECT(place_hand, "left or right", "as place front_left hand left");
MM_EXPECT(fit_name, "a name", "as fit wheel: alloy_15x6 at front_left");
MM_EXPECT(fit_colon, "':' and a part's name", "as fit wheel: alloy_15x6 at front_left");
MM_EXPECT(fit_part, "a part's name", "as fit wheel: alloy_15x6 at front_left");
MM_EXPECT(fit_place, "a place's name", "as fit wheel: alloy_15x6 at front_left");
MM_EXPECT(each_amount, "a number", "as each 5");
MM_EXPECT(join_first, "a face", "as join wheel.mount + hub.face");
MM_EXPECT(join_second, "a face", "as join wheel.mount + hub.face");
MM_EXPECT(join_plus, "'+' and a face", "as join wheel.mount + hub.face");
MM_EXPECT(join_place, "a place's name", "as join wheel.mount + hub.face at front_left");
MM_EXPECT(fill_side, "a side's name", "as layer gasket.body, plate.body");
MM_EXPECT(fill_face, "a face", "as layer gasket.body, plate.body");
MM_EXPECT(rework_name, "the rework's name",
          "as rework O1 \"redrill\" on half_shaft { flange.circle 108 mm }");
MM_EXPECT(rework_on, "'on' and what is reworked",
          "as rework O1 \"redrill\" on half_shaft { flange.circle 108 mm }");
MM_EXPECT(rework_target, "the name of a fit",
          "as rework O1 \"redrill\" on half_shaft { flange.circle 108 mm }");
MM_EXPECT(by_word, "'by'", "as planned by \"named machinist\"");
MM_EXPECT(by_text, "a text", "as planned by \"named machinist\"");
MM_EXPECT(waive_requirement, "a requirement's name",
          "as waive lug_circle on wheel.rear_left because \"...\" until 2026-06-01");
MM_EXPECT(waive_on, "what it is waived on",
          "as waive lug_circle on wheel.rear_left because \"...\" until 2026-06-01");
MM_EXPECT(waive_because, "a text", "as waive lug_circle on wheel.rear_left because \"...\" until 2026-06-01");
MM_EXPECT(waive_by, "a text",
          "as waive lug_circle on wheel.rear_left because \"...\" by \"...\" until 2026-06-01");
MM_EXPECT(waive_until, "a date", "a date is written year-month-day, as 2026-03-14");
MM_EXPECT(stage_name, "the stage's name", "as stage rear_axle uses axle, gears");
MM_EXPECT(stage_uses, "'uses' and names of fits", "as stage rear_axle uses axle, gears");
MM_EXPECT(stage_use, "the name of a fit", "as stage rear_axle uses axle, gears");
MM_EXPECT(expect_that, "a condition", "");
MM_EXPECT(expect_verdict, "a verdict",
          "fits, conflict, unknown, setting, choice, also, caution, not_applicable, or that");
MM_EXPECT(expect_requirement, "a requirement's name", "as expect conflict lug_circle");
MM_EXPECT(expect_on, "a name", "as expect conflict lug_circle on w");
MM_EXPECT(build_name, "the build's name", "as build van \"market-day van\" { ... }");
MM_EXPECT(trial_title, "the trial's name in quotes", "as trial \"108 on 114.3 does not go\" { ... }");

#undef MM_EXPECT

/// The failure where Rule was expected.
template <typename Rule>
Failure failure_of(Builder& builder, std::uint32_t at) {
  static_assert(!expectation<Rule>.what.empty(), "say above what was expected");
  return expected_failure(builder, at, expectation<Rule>);
}

template <>
inline Failure failure_of<grammar::text_end>(Builder& builder, std::uint32_t at) {
  return {Code::unclosed_text, builder.text_begin(at), at, {}, "put '\"' at its end", {}};
}
template <>
inline Failure failure_of<grammar::escape_char>(Builder& builder, std::uint32_t at) {
  const std::string found = builder.character(at);
  if (found.empty() || found == "\n" || found == "\r") return failure_of<grammar::text_end>(builder, at);
  const auto end = at + static_cast<std::uint32_t>(found.size());
  if (begins_path(builder.bytes, at))
    return {Code::unknown_escape,
            at - 1,
            end,
            {found},
            "folders are parted by /, as use \"../wheels.rules\"",
            {}};
  return {Code::unknown_escape, at - 1, end, {found}, "escapes are \\\" \\\\ \\n \\{ \\} \\[ \\]", {}};
}
template <>
inline Failure failure_of<grammar::block_close>(Builder& builder, std::uint32_t at) {
  return close_failure(builder, at);
}
template <>
inline Failure failure_of<grammar::unchained>(Builder&, std::uint32_t at) {
  return {Code::chained_comparison,
          at,
          at + 1,
          {},
          "write a < b and b < c, or put brackets round what is compared",
          {}};
}
template <>
inline Failure failure_of<grammar::a_detail>(Builder& builder, std::uint32_t at) {
  return unknown_statement(builder, at, "because source remedy settles hazard");
}
template <>
inline Failure failure_of<grammar::an_interface_statement>(Builder& builder, std::uint32_t at) {
  return unknown_statement(builder, at, "side one many let need should caution also");
}
template <>
inline Failure failure_of<grammar::a_rule_statement>(Builder& builder, std::uint32_t at) {
  return unknown_statement(builder, at, "for let need should caution also");
}
template <>
inline Failure failure_of<grammar::a_build_statement>(Builder& builder, std::uint32_t at) {
  return unknown_statement(builder, at, "use place fit join rework waive stage");
}
template <>
inline Failure failure_of<grammar::a_trial_statement>(Builder& builder, std::uint32_t at) {
  return unknown_statement(builder, at, "part use place fit join rework waive stage expect");
}
template <>
inline Failure failure_of<grammar::a_declaration>(Builder& builder, std::uint32_t at) {
  return unknown_statement(
      builder, at,
      "part kind interface rule build trial use unit currency choice table designation formula group");
}

}  // namespace mm
