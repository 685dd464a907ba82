// Flat chains to trees. The grammar reads "a - b * -c ^ d + e" as one list, which keeps its recursion shallow
// and its errors near; precedence is put in here, in three passes over the list: powers from the right with
// the minuses before them, then products, then sums. Runs of prefixes and powers count as nesting.
#include <algorithm>

#include "syntax/builder.hpp"

namespace mm {

namespace {

void check_prefixes(const Builder& builder, const ExprItem& item) {
  if (item.prefixes > builder.max_nesting) throw builder.too_deep(item.prefix_begin);
}

ExprId with_prefixes(Builder& builder, const ExprItem& item, ExprId id, UnaryOp op) {
  for (unsigned i = 0; i < item.prefixes; ++i) {
    const Span inner = builder.span_of(id);
    id = builder.make(UnaryExpr{op, id}, {inner.file, item.prefix_begin, inner.end});
  }
  return id;
}

ExprId join(Builder& builder, BinaryOp op, ExprId left, ExprId right) {
  const Span a = builder.span_of(left);
  const Span b = builder.span_of(right);
  return builder.make(BinaryExpr{op, left, right}, {a.file, a.begin, b.end});
}

/// Operands first..last are joined by ^ only.
ExprId fold_powers(Builder& builder, std::size_t first, std::size_t last) {
  if (last - first > builder.max_nesting)
    throw builder.too_deep(builder.span_of(builder.items[first].id).begin);
  ExprId result;
  for (std::size_t i = last + 1; i-- > first;) {
    const ExprItem item = builder.items[i];
    check_prefixes(builder, item);
    result = result ? join(builder, BinaryOp::pow, item.id, result) : item.id;
    result = with_prefixes(builder, item, result, UnaryOp::negate);
  }
  return result;
}

}  // namespace

ExprId fold_arithmetic(Builder& builder, std::size_t mark, const std::vector<BinaryOp>& ops) {
  ExprId sum, product;
  BinaryOp sum_op = BinaryOp::add;
  BinaryOp product_op = BinaryOp::mul;
  for (std::size_t i = 0; i <= ops.size(); ++i) {
    const std::size_t first = i;
    while (i < ops.size() && ops[i] == BinaryOp::pow) ++i;
    const ExprId factor = fold_powers(builder, mark + first, mark + i);
    product = product ? join(builder, product_op, product, factor) : factor;
    const bool product_ends = i == ops.size() || ops[i] == BinaryOp::add || ops[i] == BinaryOp::sub;
    if (!product_ends) {
      product_op = ops[i];
      continue;
    }
    sum = sum ? join(builder, sum_op, sum, product) : product;
    product = ExprId::none();
    if (i < ops.size()) sum_op = ops[i];
  }
  builder.items.resize(mark);
  return sum;
}

ExprId fold_logic(Builder& builder, std::size_t mark, const std::vector<BinaryOp>& ops) {
  ExprId any, all;
  for (std::size_t i = 0; i <= ops.size(); ++i) {
    const ExprItem item = builder.items[mark + i];
    check_prefixes(builder, item);
    const ExprId operand = with_prefixes(builder, item, item.id, UnaryOp::logical_not);
    all = all ? join(builder, BinaryOp::logical_and, all, operand) : operand;
    if (i < ops.size() && ops[i] == BinaryOp::logical_and) continue;
    any = any ? join(builder, BinaryOp::logical_or, any, all) : all;
    all = ExprId::none();
  }
  builder.items.resize(mark);
  return any;
}

}  // namespace mm
