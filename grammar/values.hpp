// Values of parts, fits, reworks and table cells; types of attributes, columns and fields.
#pragma once
#include "lexis.hpp"

namespace mm::grammar {

// clang-format off

// 25.40 mm +- 0.02 mm   25 mm +0.021 -0   12.5..13.0 mm
struct spread_amount   : seq< quantity > {};
struct symmetric       : seq< plus_minus, must< spread_amount > > {};
struct plus_amount     : seq< quantity > {};
struct minus_amount    : seq< quantity > {};
struct minus_mark      : mark<'-'> {};
struct two_sided       : seq< mark<'+'>, must< plus_amount, minus_mark, minus_amount > > {};
struct range_high      : seq< quantity > {};
struct range_rest      : seq< dots, must< range_high > > {};
struct first_quantity  : seq< quantity > {};
struct quantity_value  : seq< first_quantity, opt< sor< range_rest, symmetric, two_sided > > > {};

// ?   >= 20 mm   <= 4   adjustable 0.7..7 MPa step 0.05 MPa
struct unknown_value   : mark<'?'> {};
struct bound_amount    : seq< quantity > {};
struct at_least        : seq< string<'>', '='>, ws, must< bound_amount > > {};
struct at_most         : seq< string<'<', '='>, ws, must< bound_amount > > {};
struct knob_low        : seq< quantity > {};
struct knob_dots       : seq< dots > {};
struct knob_high       : seq< quantity > {};
struct knob_step       : seq< quantity > {};
struct knob_range      : seq< knob_low, must< knob_dots, knob_high >, opt< word<"step">, must< knob_step > > > {};
struct piece_count     : seq< bare_number > {};
struct piece_times     : seq< keyword_only<"x">, ws > {};
struct piece_size      : seq< quantity > {};
struct piece           : seq< piece_count, must< piece_times, piece_size > > {};
struct sums            : seq< word<"sums">, word<"of">, must< piece >, star< comma, must< piece > > > {};
struct setting         : seq< quantity > {};
struct settings        : seq< word<"one">, word<"of">, must< setting >, star< comma, must< setting > > > {};
struct knob            : sor< sums, settings, knob_range > {};
struct adjustable      : seq< word<"adjustable">, must< knob > > {};

// yes   cone_60   left, right   "M10x1.0"   2026-03-14
struct value_word      : seq< sor< bare_name, keyword_only<"yes">, keyword_only<"no"> >, ws > {};
struct words           : seq< value_word, star< comma, must< value_word > > > {};
struct text_value      : seq< text > {};
struct date_value      : seq< date > {};

// per measured "vernier, across two holes"
struct grade           : sor< word<"measured">, word<"tried">, word<"published">, word<"claimed">, word<"hearsay"> > {};
struct evidence_grade  : seq< grade > {};
struct evidence_note   : seq< text > {};
struct evidence        : seq< word<"per">, must< evidence_grade >, opt< evidence_note > > {};

struct value_form      : sor< date_value, quantity_value, text_value, unknown_value, at_least, at_most, adjustable, words > {};
struct value           : seq< value_form, opt< evidence > > {};

// circle 108 mm   or   mount { circle 108 mm  holes 5 }
struct path_name       : seq< bare_name > {};
struct path            : seq< path_name, star< one<'.'>, not_at< one<'.'> >, must< path_name > >, ws > {};
struct block_end       : sor< one<'}'>, eof > {};
struct assignment;
struct assignments     : star< sor< separator, seq< not_at< block_end >, assignment > > > {};
struct face_block      : seq< block_open, assignments, must< block_close > > {};
struct assigned_value  : seq< value > {};
struct assigned_path   : seq< path > {};
struct assigned        : seq< must< assigned_path >, sor< face_block, must< assigned_value > > > {};
struct assignment      : seq< assigned > {};

// cells of a table
struct cell_low        : seq< cell_quantity > {};
struct cell_high       : seq< cell_quantity > {};
struct cell_spread     : seq< cell_quantity > {};
struct cell_amount     : seq< cell_low, opt< sor< seq< dots, must< cell_high > >, seq< plus_minus, must< cell_spread > > > > > {};
struct cell_word       : seq< sor< bare_name, keyword_only<"yes">, keyword_only<"no"> >, ws > {};
struct cell            : sor< date_value, cell_amount, text_value, unknown_value, cell_word > {};

// types: length   mm   1/K   count   one of a, b   thread
struct type_choice     : seq< name > {};
struct type_choices    : seq< word<"one">, word<"of">, must< type_choice >, star< comma, must< type_choice > > > {};
struct type_word       : seq< type_unit, not_at< blanks, one<':'> >, ws > {};
struct type            : sor< type_choices, type_word > {};

// clang-format on

}  // namespace mm::grammar
