// Lexis: white space, words, names, numbers, units, text and dates.
#pragma once
#include <tao/pegtl.hpp>

#include "tokens.hpp"

namespace mm::grammar {

using namespace tao::pegtl;

// clang-format off

// white space: a line end is white space too, except between a number and its unit
struct comment      : seq< one<'#'>, rest_of_line > {};
struct spaces       : any_of< is_space > {};
struct ws           : seq< spaces, star< comment, spaces > > {};
struct blanks       : any_of< is_gap > {};
struct separator    : seq< one<';'>, ws > {};

// words and names
struct name_char    : sor< alnum, one<'_'> > {};
struct bare_word    : any_word {};
template<Word W> struct keyword_only : seq< literal<W>, not_at< name_char > > {};
template<Word W> struct word         : seq< keyword_only<W>, ws > {};
struct colon        : seq< one<':'>, ws > {};
template<Word W> struct introducer   : seq< keyword_only<W>, ws, not_at< colon > > {};
using reserved_words = word_list<"and", "or", "not", "if", "then", "else", "within", "of", "in", "some", "every", "mate",
                                 "part_of", "has", "where", "for", "yes", "no", "per", "when">;
struct reserved     : one_word_of< reserved_words > {};
struct bare_name    : word_other_than< reserved_words > {};
struct name         : seq< bare_name, ws > {};

// punctuation
template<char C> struct mark : seq< one<C>, ws > {};
struct comma        : mark<','> {};
struct equals       : mark<'='> {};
struct dots         : seq< two<'.'>, ws > {};
struct plus_minus   : seq< sor< string<'+', '-'>, string<'\xC2', '\xB1'> >, ws > {};
struct block_open   : mark<'{'> {};
struct block_close  : mark<'}'> {};

// numbers: 12   0.43   .5   1e-3
struct digits       : run_of< is_digit > {};
struct exponent     : seq< one<'e', 'E'>, opt< one<'+', '-'> >, digits > {};
struct decimals     : seq< one<'.'>, digits > {};
struct over         : seq< one<'/'>, digits > {};

// units: mm   N*m   km/h   m/s^2   %   1/K (in a type)
struct percent_sign : one<'%'> {};
struct unit_power   : seq< one<'^'>, opt< one<'-'> >, rep_min_max<1, 3, digit>, not_at< digit > > {};
struct unit_factor  : seq< bare_word, opt< unit_power > > {};
struct unit_sign    : one<'*', '/'> {};
struct unit_product : seq< unit_factor, star< unit_sign, unit_factor > > {};
struct known_factor : seq< at< known_unit >, not_at< bare_word, sor< seq< one<'.'>, not_at< one<'.'> > >, one<'('> > >, unit_factor > {};
struct known_product: seq< unit_factor, star< unit_sign, known_factor > > {};
struct type_unit    : sor< percent_sign, seq< string<'1', '/'>, unit_product >, unit_product > {};

// An own unit is told from the next statement's word by what follows it.
struct line_over    : seq< blanks, sor< eolf, one<'#', ';', '}', ')', ']', ','>, one<'\r'> > > {};
struct value_over   : sor< line_over, seq< blanks, sor< one<'*', '/', '^', '+'>, string<'\xC2', '\xB1'>, two<'.'>,
                           keyword_only<"per">, keyword_only<"step"> > > > {};
struct term_over    : sor< line_over, seq< blanks, sor< one<'*', '/', '^', '+', '-', '=', '<', '>', '{'>, string<'!', '='>,
                           two<'.'>, reserved > > > {};
struct clause_word  : sor< keyword_only<"measure">, keyword_only<"spread"> > {};
struct own_in_value : seq< not_at< sor< reserved, clause_word > >, unit_product, at< value_over > > {};
struct own_in_term  : seq< not_at< reserved >, known_product, at< term_over > > {};
struct value_unit   : seq< blanks, sor< percent_sign, seq< at< sor< known_unit, own_in_value > >, unit_product > > > {};
struct term_unit    : seq< blanks, sor< percent_sign, seq< at< sor< known_unit, own_in_term > >, known_product > > > {};
struct cell_unit    : seq< blanks, sor< percent_sign, seq< at< known_unit >, unit_product > > > {};

// a number with its unit, in a value, in an expression and in a table's cell
struct sign         : seq< one<'-'>, blanks > {};
struct plain_rest   : seq< opt< decimals >, opt< exponent > > {};
template<typename Unit> struct mixed_rest    : seq< run_of< is_gap >, digits, over, at< Unit > > {};
template<typename Unit> struct fraction_rest : seq< over, at< Unit > > {};
struct point_number : seq< decimals, opt< exponent > > {};
struct value_number : sor< seq< digits, sor< over, mixed_rest< value_unit >, plain_rest > >, point_number > {};
struct term_number  : sor< seq< digits, sor< fraction_rest< term_unit >, mixed_rest< term_unit >, plain_rest > >, point_number > {};
struct cell_number  : sor< seq< digits, sor< over, mixed_rest< cell_unit >, plain_rest > >, point_number > {};
struct bare_number  : seq< value_number, ws > {};
struct quantity     : seq< opt< sign >, value_number, opt< value_unit >, ws > {};
struct term_quantity: seq< term_number, opt< term_unit > > {};
struct cell_quantity: seq< opt< sign >, cell_number, opt< cell_unit >, ws > {};

// text: "..." on one line
struct escape_char  : one<'"', '\\', 'n', '{', '}', '[', ']'> {};
struct escape       : seq< one<'\\'>, must< escape_char > > {};
struct text_chars   : run_of< is_none_of<'"', '\\', '\n', '\r'> > {};
struct text_end     : one<'"'> {};
struct to_quote     : seq< star< not_one<'"', '\n'> >, one<'"'> > {};
struct odd_quotes   : seq< to_quote, star< to_quote, to_quote >, star< not_one<'"', '\n'> >, sor< one<'\n'>, eof > > {};
struct quoteless    : seq< not_at< blanks, one<'}'> >, star< not_one<'"', '\n'> >, one<'\n'> > {};
struct broken_line  : seq< opt< one<'\r'> >, one<'\n'>, at< rep_opt<12, quoteless>, odd_quotes > > {};  // the text ends on a later line: an error, and read on
struct bare_text    : seq< one<'"'>, star< sor< text_chars, escape, broken_line > >, must< text_end > > {};
struct text         : seq< bare_text, ws > {};

// dates: 2026-03-14
struct bare_date    : seq< rep<4, digit>, one<'-'>, rep<2, digit>, one<'-'>, rep<2, digit>, not_at< name_char > > {};
struct date         : seq< bare_date, ws > {};

// clang-format on

}  // namespace mm::grammar
