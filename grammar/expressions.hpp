// Expressions. Loosest first: or, and, not, comparison, + -, * /, unary minus, ^, then what stands alone.
#pragma once
#include "lexis.hpp"

namespace mm::grammar {

// clang-format off

struct expression;
struct arithmetic;
struct operand;

// names, fields, calls and table look-ups
struct member_name    : seq< bare_name > {};
struct member         : seq< one<'.'>, not_at< one<'.'> >, must< member_name > > {};
struct argument       : seq< expression > {};
struct call_open      : seq< blanks, one<'('>, ws > {};
struct call_close     : one<')'> {};
struct arguments      : seq< must< argument >, star< comma, must< argument > >, must< call_close > > {};
struct call           : seq< call_open, sor< call_close, arguments > > {};
struct lookup_column  : seq< name > {};
struct lookup_relation: seq< sor< string<'<', '='>, string<'>', '='>, one<'=', '<', '>'> >, ws > {};
struct lookup_value   : seq< arithmetic > {};
struct lookup_condition : seq< lookup_column, must< lookup_relation, lookup_value > > {};
struct lookup_open    : seq< blanks, one<'['>, ws > {};
struct lookup_close   : one<']'> {};
struct lookup_dot     : one<'.'> {};
struct lookup_result  : seq< bare_name > {};
struct lookup         : seq< lookup_open, must< lookup_condition >, star< comma, must< lookup_condition > >, must< lookup_close, lookup_dot, lookup_result > > {};
struct statement_ahead: seq< sor< keyword_only<"let">, keyword_only<"need">, keyword_only<"should">, keyword_only<"caution">,
                                  keyword_only<"also"> >, blanks, bare_name > {};
struct used_name      : seq< not_at< statement_ahead >, bare_name > {};
struct name_use       : seq< used_name, opt< sor< call, lookup > > > {};

// (a + b)   and   (a, b) in TABLE
struct inner          : seq< expression > {};
struct bracket_open   : mark<'('> {};
struct bracket_close  : one<')'> {};
struct tuple_table    : seq< bare_name > {};
struct tuple_in       : word<"in"> {};
struct tuple_rest     : seq< plus< comma, must< inner > >, must< bracket_close >, ws, must< tuple_in, tuple_table > > {};
struct bracketed      : seq< bracket_open, must< inner >, sor< tuple_rest, must< bracket_close > > > {};

// binders: x: KIND [reachable from E through I]   z in lo..hi   layer
struct bound_name     : seq< name > {};
struct bound_kind     : seq< name > {};
struct reach_from     : word<"from"> {};
struct reach_start    : seq< operand > {};
struct reach_through  : word<"through"> {};
struct reach_interface: seq< name > {};
struct reach_more     : seq< comma, not_at< name, colon >, must< reach_interface > > {};
struct reachable      : seq< word<"reachable">, must< reach_from, reach_start, reach_through, reach_interface >, star< reach_more > > {};
struct kind_domain    : seq< colon, must< bound_kind >, opt< reachable > > {};
struct domain_low     : seq< arithmetic > {};
struct domain_dots    : seq< dots > {};
struct domain_high    : seq< arithmetic > {};
struct range_domain   : seq< word<"in">, must< domain_low, domain_dots, domain_high > > {};
struct any_binder     : seq< bound_name, opt< sor< kind_domain, range_domain > > > {};
struct count_binder   : seq< bound_name, opt< kind_domain > > {};
struct kind_binder    : seq< bound_name, must< colon, bound_kind >, opt< reachable > > {};

// some x: KIND where c has e   every layer has e   count of x: KIND   sum of e for x: KIND
struct where_test     : seq< expression > {};
struct where          : seq< word<"where">, must< where_test > > {};
struct has_test       : seq< expression > {};
struct has_word       : word<"has"> {};
struct has            : seq< has_word, must< has_test > > {};
struct some           : seq< word<"some">, must< any_binder >, opt< where >, opt< has > > {};
struct every          : seq< word<"every">, must< any_binder >, opt< where >, must< has > > {};
struct term_of        : seq< operand, star< sor< struct multiply, struct divide, struct power >, must< operand > > > {};
struct count_word     : seq< word<"count">, word<"of"> > {};
struct count_of       : seq< count_word, must< count_binder >, opt< where > > {};
struct aggregate_word : sor< keyword_only<"sum">, keyword_only<"min">, keyword_only<"max"> > {};
struct aggregate_term : seq< term_of > {};
struct aggregate_for  : seq< word<"for">, must< kind_binder >, opt< where > > {};
struct aggregate_of   : seq< aggregate_word, ws, word<"of">, must< aggregate_term >, opt< aggregate_for > > {};

// if c then a else b
struct condition      : seq< expression > {};
struct then_word      : word<"then"> {};
struct then_value     : seq< expression > {};
struct else_word      : word<"else"> {};
struct else_value     : seq< expression > {};
struct choice_of_two  : seq< word<"if">, must< condition, then_word, then_value, else_word, else_value > > {};

// mate of FACE   part_of FACE
struct face_operand;
struct mate_of_word   : word<"of"> {};
struct mate_of        : seq< word<"mate">, must< mate_of_word, face_operand > > {};
struct part_of        : seq< word<"part_of">, must< face_operand > > {};
struct reference      : seq< sor< bracketed, name_use >, star< member > > {};
struct face_operand   : sor< mate_of, part_of, seq< reference, ws > > {};

// what stands alone
struct term_date      : seq< bare_date > {};
struct term_text      : seq< bare_text > {};
struct yes            : keyword_only<"yes"> {};
struct no             : keyword_only<"no"> {};
struct term_amount    : seq< term_quantity > {};
struct primary        : sor< term_date, term_amount, term_text, choice_of_two, some, every, count_of, aggregate_of,
                             mate_of, part_of, yes, no, reference > {};

// operators
struct minus_sign     : mark<'-'> {};
struct operand        : seq< star< minus_sign >, primary, ws > {};
struct plus_op        : seq< one<'+'>, not_at< one<'-'> >, ws > {};
struct minus_op       : mark<'-'> {};
struct multiply       : mark<'*'> {};
struct divide         : mark<'/'> {};
struct power          : mark<'^'> {};
struct arithmetic     : seq< operand, star< sor< plus_op, minus_op, multiply, divide, power >, must< operand > > > {};

struct equal_op       : mark<'='> {};
struct unequal_op     : seq< string<'!', '='>, ws > {};
struct at_most_op     : seq< string<'<', '='>, ws > {};
struct less_op        : mark<'<'> {};
struct at_least_op    : seq< string<'>', '='>, ws > {};
struct greater_op     : mark<'>'> {};
struct compare_op     : sor< equal_op, unequal_op, at_most_op, less_op, at_least_op, greater_op > {};
struct compared       : seq< arithmetic > {};
struct comparing      : seq< compare_op, must< compared > > {};
struct tolerance      : seq< arithmetic > {};
struct tolerance_of   : word<"of"> {};
struct within_target  : seq< arithmetic > {};
struct within         : seq< word<"within">, must< tolerance, tolerance_of, within_target > > {};
struct in_domain      : seq< arithmetic > {};
struct in_high        : seq< arithmetic > {};
struct in_range       : seq< dots, must< in_high > > {};
struct in             : seq< word<"in">, must< in_domain >, opt< in_range > > {};
struct relation       : sor< comparing, within, in > {};
struct unchained      : not_at< sor< compare_op, word<"within">, word<"in"> > > {};
struct comparison     : seq< arithmetic, opt< relation, must< unchained > > > {};

struct not_word       : word<"not"> {};
struct logic_operand  : seq< star< not_word >, comparison > {};
struct and_word       : word<"and"> {};
struct or_word        : word<"or"> {};
struct expression     : seq< logic_operand, star< sor< and_word, or_word >, must< logic_operand > > > {};

// text with expressions in it: "centring ring {wheel.bore} / {hub.pilot}"
struct hole_value     : seq< expression > {};
struct hole_end       : one<'}'> {};
struct hole           : seq< mark<'{'>, must< hole_value, hole_end > > {};
struct template_chars : run_of< is_none_of<'"', '\\', '{', '\n', '\r'> > {};
struct template_escape: seq< escape > {};
struct template_text  : seq< one<'"'>, star< sor< template_chars, template_escape, hole, broken_line > >, must< text_end >, ws > {};

// clang-format on

}  // namespace mm::grammar
