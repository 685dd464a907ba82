// Builds and trials, and the file as a whole.
#pragma once
#include "declarations.hpp"

namespace mm::grammar {

// clang-format off

// place front_left, rear_left hand left
struct place_name       : seq< name > {};
struct place_hand       : seq< name > {};
struct place            : seq< word<"place">, must< place_name >, star< comma, must< place_name > >, opt< word<"hand">, must< place_hand > > > {};

// fit wheel: alloy_15x6 at front_left, rear_left each 5 { overrides }   fit master: one of a, b
struct fit_name         : seq< name > {};
struct fit_colon        : seq< colon > {};
struct fit_part         : seq< name > {};
struct slot_of          : seq< word<"one">, word<"of"> > {};
struct slot             : seq< slot_of, must< fit_part >, star< comma, must< fit_part > > > {};
struct fit_place        : seq< name > {};
struct fit_at           : seq< word<"at">, must< fit_place >, star< comma, must< fit_place > > > {};
struct each_amount      : seq< quantity > {};
struct fit_each         : seq< word<"each">, must< each_amount > > {};
struct overrides        : seq< block_open, assignments, must< block_close > > {};
struct fit              : seq< word<"fit">, must< fit_name, fit_colon >, sor< slot, must< fit_part > >, opt< fit_at >, opt< fit_each >, opt< overrides > > {};

// join wheel.mount + hub.face at front_left   join NAME: a.f + b.g   join clamped left_end { side faces ... }
struct join_first       : seq< path > {};
struct join_second      : seq< path > {};
struct join_colon       : seq< colon > {};
struct join_plus        : mark<'+'> {};
struct join_place       : seq< name > {};
struct join_at          : seq< word<"at">, must< join_place >, star< comma, must< join_place > > > {};
struct join_more        : star< join_plus, must< join_second > > {};
struct fill_side        : seq< name > {};
struct fill_face        : seq< path > {};
struct fill             : seq< must< fill_side, fill_face >, star< comma, must< fill_face > > > {};
struct join_label       : seq< name > {};
struct join_block_start : success {};
struct join_block       : seq< join_block_start, opt< join_label >, block_of< fill > > {};
struct join_block_ahead : at< opt< name >, one<'{'> > {};
struct join_pair        : seq< must< join_plus, join_second >, join_more > {};
struct join_named       : seq< join_colon, must< join_second >, join_pair > {};
struct join             : seq< word<"join">, must< join_first >, sor< join_named, seq< join_block_ahead, join_block >, join_pair >, opt< join_at > > {};

// rework O1 "redrill" on half_shaft { flange.circle 108 mm } planned by "named machinist"
struct rework_name      : seq< name > {};
struct rework_doc       : seq< text > {};
struct rework_on        : word<"on"> {};
struct rework_target    : seq< path > {};
struct by_word          : word<"by"> {};
struct by_text          : seq< text > {};
struct done_word        : word<"done"> {};
struct rework_by        : seq< sor< word<"planned">, done_word >, must< by_word, by_text > > {};
struct rework_head      : seq< must< rework_name >, opt< rework_doc >, must< rework_on, rework_target > > {};
struct rework           : seq< word<"rework">, rework_head, must< required_open >, assignments, must< block_close >, opt< rework_by > > {};

// waive lug_circle on wheel.rear_left because ".." by ".." until 2026-06-01
struct waive_requirement: seq< name > {};
struct waive_on         : seq< path > {};
struct waive_because    : seq< text > {};
struct waive_by         : seq< text > {};
struct waive_until      : seq< date > {};
struct waive            : seq< word<"waive">, must< waive_requirement >, opt< word<"on">, must< waive_on > >, opt< word<"because">, must< waive_because > >,
                               opt< word<"by">, must< waive_by > >, opt< word<"until">, must< waive_until > > > {};

// stage rear_axle "..." uses axle, gears
struct stage_name       : seq< name > {};
struct stage_doc        : seq< text > {};
struct stage_uses       : word<"uses"> {};
struct stage_use        : seq< name > {};
struct stage            : seq< word<"stage">, must< stage_name >, opt< stage_doc >, must< stage_uses, stage_use >, star< comma, must< stage_use > > > {};

// expect conflict REQUIREMENT on JOINT   expect that EXPRESSION
struct expect_that      : seq< expression > {};
struct expect_verdict   : seq< name > {};
struct expect_requirement : seq< name > {};
struct expect_on        : seq< path > {};
struct expect           : seq< word<"expect">, sor< seq< word<"that">, must< expect_that > >,
                               seq< must< expect_verdict, expect_requirement >, opt< word<"on">, must< expect_on > > > > > {};

// build NAME "..." { ... }   trial "name" { ... }
struct build_name       : seq< name > {};
struct build_title      : seq< text > {};
struct build_head       : seq< must< build_name >, opt< build_title > > {};
struct a_build_statement: failure {};
struct build_statement  : sor< use, place, fit, join, rework, waive, stage, must< a_build_statement > > {};
struct build            : seq< word<"build">, build_head, block_of< build_statement > > {};
struct trial_title      : seq< text > {};
struct trial_head       : must< trial_title > {};
struct a_trial_statement: failure {};
struct trial_statement  : sor< part, use, place, fit, join, rework, waive, stage, expect, must< a_trial_statement > > {};
struct trial            : seq< word<"trial">, trial_head, block_of< trial_statement > > {};

// a file
struct a_declaration    : failure {};
struct declaration      : sor< part, use, unit, currency, choice, table, designation, formula, group, kind, interface, rule,
                               build, trial, must< a_declaration > > {};
struct file             : seq< ws, star< sor< separator, seq< not_at< eof >, declaration > > >, eof > {};

// clang-format on

}  // namespace mm::grammar
