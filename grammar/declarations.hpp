// Declarations: units, choices, tables, designations, formulas, groups, kinds, interfaces, rules, parts.
#pragma once
#include "expressions.hpp"
#include "values.hpp"

namespace mm::grammar {

// clang-format off

// A block's statements up to its closing brace; `;` may stand between them.
template<typename Statement> struct statements : star< sor< separator, seq< not_at< block_end >, Statement > > > {};
struct required_open    : seq< block_open > {};
template<typename Statement> struct block_of   : seq< must< required_open >, statements< Statement >, must< block_close > > {};

// use "rel/path.rules"   unit stone = 6.35029318 kg   currency GBP   choice seat = cone_60, ball
struct use_path         : seq< text > {};
struct use              : seq< word<"use">, must< use_path > > {};
struct unit_name        : seq< name > {};
struct unit_equals      : seq< equals > {};
struct unit_definition  : seq< quantity > {};
struct unit             : seq< word<"unit">, must< unit_name, unit_equals, unit_definition > > {};
struct currency_name    : seq< name > {};
struct currency         : seq< word<"currency">, must< currency_name > > {};
struct choice_name      : seq< name > {};
struct choice_equals    : seq< equals > {};
struct choice_word      : seq< name > {};
struct choice           : seq< word<"choice">, must< choice_name, choice_equals, choice_word >, star< comma, must< choice_word > > > {};

// attributes: NAME: TYPE [in RANGE] ["doc"] [measure "how"] [spread GRADE AMOUNT, ...]
struct attribute_name   : seq< name > {};
struct attribute_colon  : seq< colon > {};
struct attribute_type   : seq< type > {};
struct limit_low        : seq< quantity > {};
struct limit_dots       : seq< dots > {};
struct limit_high       : seq< quantity > {};
struct limit_amount     : seq< quantity > {};
struct limit_from       : seq< string<'>', '='>, ws, must< limit_amount > > {};
struct limit_to         : seq< string<'<', '='>, ws, must< limit_amount > > {};
struct limits           : sor< limit_from, limit_to, seq< limit_low, must< limit_dots, limit_high > > > {};
struct attribute_range  : seq< introducer<"in">, must< limits > > {};
struct attribute_doc    : seq< text > {};
struct measure_text     : seq< text > {};
struct attribute_measure: seq< introducer<"measure">, must< measure_text > > {};
struct spread_grade     : seq< grade > {};
struct default_amount   : seq< quantity > {};
struct default_spread   : seq< spread_grade, must< default_amount > > {};
struct attribute_spread : seq< introducer<"spread">, must< default_spread >, star< comma, must< default_spread > > > {};
struct attribute_more   : sor< attribute_range, attribute_doc, attribute_measure, attribute_spread > {};
struct attribute        : seq< must< attribute_name, attribute_colon, attribute_type >, star< attribute_more > > {};
struct with_group       : seq< name > {};
struct with             : seq< introducer<"with">, must< with_group >, star< comma, must< with_group > > > {};

// table NAME "doc" { size: mm  key: mm range   cells ...   source "..." }
struct table_name       : seq< name > {};
struct table_doc        : seq< text > {};
struct range_mark       : introducer<"range"> {};
struct column_name      : seq< name > {};
struct column_mark      : seq< keyword_only<"range">, ws, at< colon > > {};
struct column_type      : seq< type > {};
struct column           : seq< column_name, opt< column_mark >, colon, must< column_type >, opt< range_mark > > {};
struct column_start     : seq< bare_word, ws, opt< word<"range"> >, one<':'> > {};
struct table_source_text: seq< text > {};
struct table_source     : seq< word<"source">, at< one<'"'> >, table_source_text > {};
struct row_cell         : seq< cell > {};
struct table_statement  : sor< table_source, seq< at< column_start >, column >, must< row_cell > > {};
struct table_head       : seq< must< table_name >, opt< table_doc > > {};
struct table            : seq< word<"table">, table_head, block_of< table_statement > > {};

// let NAME = EXPRESSION
struct let_name         : seq< name > {};
struct let_equals       : seq< equals > {};
struct let_value        : seq< expression > {};
struct let              : seq< introducer<"let">, must< let_name, let_equals, let_value > > {};

// designation NAME "{width: mm}/{aspect: percent}R{rim: in}"   or   { form NAME "..." { field = EXPRESSION } }
struct field_name       : seq< name > {};
struct field_colon      : seq< colon > {};
struct field_type       : seq< type > {};
struct field_end        : one<'}'> {};
struct field            : seq< mark<'{'>, must< field_name, field_colon, field_type, field_end > > {};
struct optional_chars   : run_of< is_none_of<'"', '\\', '{', '}', '[', ']', '\n', '\r'> > {};
struct optional_end     : one<']'> {};
struct optional_literal : seq< one<'['>, star< sor< optional_chars, escape > >, must< optional_end > > {};
struct pattern_chars    : run_of< is_none_of<'"', '\\', '{', '}', '[', ']', '\n', '\r'> > {};
struct pattern_escape   : seq< escape > {};
struct pattern          : seq< one<'"'>, star< sor< pattern_chars, pattern_escape, field, optional_literal > >, must< text_end >, ws > {};
struct form_pattern     : seq< pattern > {};
struct form_name        : seq< name > {};
struct computed_name    : seq< name > {};
struct computed_equals  : seq< equals > {};
struct computed_value   : seq< expression > {};
struct computed_field   : seq< must< computed_name, computed_equals, computed_value > > {};
struct computed         : seq< computed_field > {};
struct computed_block   : seq< at< block_open >, block_of< computed > > {};
struct form_word        : word<"form"> {};
struct named_form       : seq< must< form_word, form_name, form_pattern >, star< comma, must< form_pattern > >, opt< computed_block > > {};
struct form             : seq< named_form > {};
struct short_form       : seq< form_pattern, star< comma, must< form_pattern > > > {};
struct designation_name : seq< name > {};
struct designation_doc  : seq< text > {};
struct forms_ahead      : at< opt< text >, block_open > {};
struct designation      : seq< word<"designation">, must< designation_name >,
                               sor< seq< forms_ahead, opt< designation_doc >, block_of< form > >, must< short_form > > > {};

// formula NAME(p: TYPE, ...) : TYPE = EXPRESSION { source "..." }
struct formula_name     : seq< name > {};
struct formula_open     : mark<'('> {};
struct parameter_name   : seq< name > {};
struct parameter_colon  : seq< colon > {};
struct parameter_type   : seq< type > {};
struct parameter        : seq< must< parameter_name, parameter_colon, parameter_type > > {};
struct formula_close    : mark<')'> {};
struct formula_colon    : seq< colon > {};
struct formula_type     : seq< type > {};
struct formula_equals   : seq< equals > {};
struct formula_value    : seq< expression > {};
struct formula_source_word : word<"source"> {};
struct formula_source_text : seq< text > {};
struct formula_source   : seq< must< formula_source_word, formula_source_text > > {};
struct formula_block    : seq< at< block_open >, block_of< formula_source > > {};
struct parameters       : sor< at< formula_close >, seq< parameter, star< comma, parameter > > > {};
struct formula          : seq< word<"formula">, must< formula_name, formula_open >, parameters, must< formula_close, formula_colon,
                               formula_type, formula_equals, formula_value >, opt< formula_block > > {};

// group NAME { attributes }
struct group_name       : seq< name > {};
struct group_head       : must< group_name > {};
struct group            : seq< word<"group">, group_head, block_of< struct group_statement > > {};
struct group_statement  : seq< attribute > {};

// kind NAME "doc" { with GROUP  face mount: lug.wheel optional  attributes  let }
struct face_name        : seq< name > {};
struct face_colon       : seq< colon > {};
struct face_interface   : seq< bare_name > {};
struct face_dot         : one<'.'> {};
struct face_side        : seq< name > {};
struct face_optional    : introducer<"optional"> {};
struct face             : seq< introducer<"face">, must< face_name >, star< comma, must< face_name > >,
                               must< face_colon, face_interface, face_dot, face_side >, opt< face_optional > > {};
struct kind_name        : seq< name > {};
struct kind_doc         : seq< text > {};
struct kind_head        : seq< must< kind_name >, opt< kind_doc > > {};
struct kind_statement   : sor< with, face, let, attribute > {};
struct kind             : seq< word<"kind">, kind_head, block_of< kind_statement > > {};

// need NAME: EXPRESSION when EXPRESSION { because ".." source ".." remedy ".." settles at order hazard brakes }
struct need_word        : word<"need"> {};
struct should_word      : word<"should"> {};
struct caution_word     : word<"caution"> {};
struct also_word        : word<"also"> {};
struct weight           : sor< need_word, should_word, caution_word, also_word > {};
struct requirement_name : seq< name > {};
struct requirement_colon: seq< colon > {};
struct requirement_test : seq< expression > {};
struct when_test        : seq< expression > {};
struct when             : seq< word<"when">, must< when_test > > {};
struct because_text     : seq< template_text > {};
struct source_text      : seq< text > {};
struct remedy_text      : seq< template_text > {};
struct settles_at_word  : word<"at"> {};
struct settles_gate     : sor< word<"order">, word<"assemble">, word<"drive"> > {};
struct hazard_name      : seq< name > {};
struct because          : seq< word<"because">, must< because_text > > {};
struct source           : seq< word<"source">, must< source_text > > {};
struct remedy           : seq< word<"remedy">, must< remedy_text > > {};
struct settles          : seq< word<"settles">, must< settles_at_word, settles_gate > > {};
struct hazard           : seq< word<"hazard">, must< hazard_name > > {};
struct detail           : sor< because, source, remedy, settles, hazard, must< struct a_detail > > {};
struct a_detail         : failure {};
struct details          : seq< at< block_open >, block_of< detail > > {};
struct requirement      : seq< weight, must< requirement_name, requirement_colon, requirement_test >, opt< when >, opt< details > > {};

// interface NAME "doc" { one side bolt { attributes }  let  need }
struct one_word         : word<"one"> {};
struct many_word        : word<"many"> {};
struct side_word        : word<"side"> {};
struct side_name        : seq< name > {};
struct side_statement   : sor< with, attribute > {};
struct side_start       : sor< side_word, seq< sor< one_word, many_word >, must< side_word > > > {};
struct side             : seq< side_start, must< side_name >, block_of< side_statement > > {};
struct interface_name   : seq< name > {};
struct interface_doc    : seq< text > {};
struct interface_head   : seq< must< interface_name >, opt< interface_doc > > {};
struct interface_statement : sor< side, let, requirement, must< struct an_interface_statement > > {};
struct an_interface_statement : failure {};
struct interface        : seq< word<"interface">, interface_head, block_of< interface_statement > > {};

// rule NAME "doc" { for w: wheel, c: caliper where ...  let  need }
struct rule_name        : seq< name > {};
struct rule_doc         : seq< text > {};
struct rule_binder      : seq< kind_binder > {};
struct rule_where_test  : seq< expression > {};
struct rule_where       : seq< word<"where">, must< rule_where_test > > {};
struct for_word         : word<"for"> {};
struct for_clause       : seq< for_word, must< rule_binder >, star< comma, must< rule_binder > >, opt< rule_where > > {};
struct rule_statement   : sor< for_clause, let, requirement, must< struct a_rule_statement > > {};
struct a_rule_statement : failure {};
struct rule_head        : seq< must< rule_name >, opt< rule_doc > > {};
struct rule             : seq< word<"rule">, rule_head, block_of< rule_statement > > {};

// part NAME "doc" is KIND { assignments }
struct part_name        : seq< name > {};
struct part_doc         : seq< text > {};
struct part_is          : word<"is"> {};
struct part_kind        : seq< name > {};
struct part_head        : seq< must< part_name >, opt< part_doc >, must< part_is, part_kind > > {};
struct part             : seq< word<"part">, part_head, must< required_open >, assignments, must< block_close > > {};

// clang-format on

}  // namespace mm::grammar
