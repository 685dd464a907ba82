// The tree, second part: expressions.
#pragma once
#include "syntax/tree_values.hpp"

namespace mm {

enum class UnaryOp : std::uint8_t { negate, logical_not };
enum class BinaryOp : std::uint8_t {
  add,
  sub,
  mul,
  div,
  pow,
  eq,
  ne,
  lt,
  le,
  gt,
  ge,
  logical_and,
  logical_or
};
enum class QuantifierKind : std::uint8_t { some, every };
enum class AggregateKind : std::uint8_t { count, sum, min, max };

struct QuantityExpr {
  QuantitySyntax quantity;
};
struct TextExpr {
  TextLiteral text;
};
struct DateExpr {
  DateSyntax date;
};
struct BoolExpr {
  bool value = false;
};
struct NameExpr {
  Name name;
};
struct FieldExpr {
  ExprId object;
  Name field;
};
struct CallExpr {
  Name function;
  std::vector<ExprId> arguments;
};
struct UnaryExpr {
  UnaryOp op;
  ExprId operand;
};
struct BinaryExpr {
  BinaryOp op;
  ExprId left, right;
};
struct WithinExpr {
  ExprId left, tolerance, right;
};
struct InRangeExpr {
  ExprId value, lo, hi;
};
struct InTableExpr {
  std::vector<ExprId> values;
  Name table;
};
struct IfExpr {
  ExprId condition, then_branch, else_branch;
};
struct LookupExpr {
  Name table;
  struct Condition {
    Name column;
    BinaryOp op;  // eq, lt, le, gt, ge
    ExprId value;
  };
  std::vector<Condition> conditions;
  Name column;
};
struct Binder {
  std::optional<Name> variable;  // none: a many side, named in `domain`
  std::optional<Name> domain;    // kind, "part", or the many side
  ExprId range_lo, range_hi;     // continuous: variable in lo..hi
  ExprId reach_from;             // reachable from
  std::vector<Name> reach_through;
  Span span;
};
struct QuantifierExpr {
  QuantifierKind kind;
  BinderId binder;
  ExprId where, body;  // none where absent
};
struct AggregateExpr {
  AggregateKind kind;
  ExprId term;      // none for count
  BinderId binder;  // none: the many side that `term` names
  ExprId where;
};
struct MateExpr {
  ExprId face;
};
struct PartOfExpr {
  ExprId face;
};

struct Expr {
  std::variant<QuantityExpr, TextExpr, DateExpr, BoolExpr, NameExpr, FieldExpr, CallExpr, UnaryExpr,
               BinaryExpr, WithinExpr, InRangeExpr, InTableExpr, IfExpr, LookupExpr, QuantifierExpr,
               AggregateExpr, MateExpr, PartOfExpr>
      form;
  Span span;
  bool bracketed = false;  // written in parentheses, which the span then holds (layout only)
};

}  // namespace mm
