// The generator's own tree of expressions.
#pragma once
#include <string>
#include <vector>

#include "real.hpp"

namespace mm_proof {

struct Dim {
  int length = 0, angle = 0;
  bool operator==(const Dim&) const = default;
  bool plain() const { return length == 0 && angle == 0; }
};

enum class Sort : std::uint8_t { number, truth, word, size, entity };

enum class Op : std::uint8_t {
  // leaves
  literal,
  yes_no,
  word,
  size_text,
  pi,
  entity,
  parameter,
  // from an entity or a size
  attribute,
  size_field,
  size_form,
  face,
  mate,
  part_of,
  same_place,
  // names for something
  let_use,
  kind_let,
  call,
  // numbers
  neg,
  add,
  sub,
  mul,
  div,
  pow,
  abs,
  min,
  max,
  sqrt,
  sin,
  cos,
  tan,
  asin,
  acos,
  atan,
  exp,
  ln,
  floor,
  ceil,
  round,
  // truth
  lt,
  le,
  gt,
  ge,
  eq,
  ne,
  within,
  in_range,
  all_of,
  any_of,
  negate,
  choose,
  // tables
  lookup,
  in_table,
  // quantifiers
  some,
  every,
  count,
  sum,
  least,
  greatest,
  some_z,
  every_z,
};

struct Node {
  Op op = Op::literal;
  Sort sort = Sort::number;
  Dim dim;
  std::vector<Node*> kids;
  Rational value;    // literal; yes_no
  std::string text;  // literal and size as written; names
  int index = -1;    // attribute, face, let, formula, table, word, size, form
  int var = -1;      // entity, parameter, quantifier
  // literal that is set once it is known what the other side can be
  bool tuned = false;
  int tune = 0;  // what the comparison is about: 0 left, 1 distance
  std::vector<Rational> seen;
  // quantifier: kids are where (or none) and body (or none); z: then the ends of its range
  int kind = -1;      // -1: any part
  int many_var = -1;  // a many side
  Node* from = nullptr;
  std::vector<int> through;  // interfaces
  // look-up: kids by condition
  std::vector<int> columns;
  std::vector<Op> relations;
  int column = -1;
};

}  // namespace mm_proof
