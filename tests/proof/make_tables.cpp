// Look-ups and calls of the generator.
#include <algorithm>

#include "make.hpp"

namespace mm_proof {

namespace {

template <class T>
const T& item(const std::vector<T>& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

}  // namespace

Node* Maker::table_number(Dim dim, int depth) {
  std::vector<std::pair<int, int>> found;
  for (std::size_t t = 0; t < scene_.tables.size(); ++t) {
    const auto& columns = scene_.tables[t].columns;
    for (std::size_t c = 1; c < columns.size(); ++c) {
      if (columns[c].sort == Sort::number && columns[c].dim == dim && !columns[c].range)
        found.emplace_back(t, c);
    }
  }
  if (found.empty()) return nullptr;
  const auto [table, column] = draw_.of(found);
  const Column& key = item(scene_.tables, table).columns[0];
  Node* node = make(Op::lookup, Sort::number, dim, {});
  node->index = table;
  node->column = column;
  node->columns = {0};
  if (key.sort == Sort::word) {
    Node* asked = attribute(Sort::word, {}, false);
    if (asked == nullptr) return nullptr;
    node->kids = {asked};
    node->relations = {Op::eq};
    return node;
  }
  static const Op ops[] = {Op::ge, Op::gt, Op::le, Op::lt};
  node->relations = {key.range          ? Op::eq
                     : draw_.chance(20) ? Op::eq
                                        : ops[draw_.below(draw_.chance(70) ? 2 : 4)]};
  node->kids = {number(key.dim, std::min(depth - 1, 1))};
  return node;
}

Node* Maker::table_truth() {
  if (scene_.tables.empty()) return nullptr;
  Node* node = make(Op::in_table, Sort::truth, {}, {});
  node->index = draw_.below(static_cast<int>(scene_.tables.size()));
  const Table& table = item(scene_.tables, node->index);
  const std::size_t keys = table.columns.size() > 1 && table.columns[1].sort == Sort::word ? 2 : 1;
  for (std::size_t i = 0; i < keys; ++i) {
    Node* asked = table.columns[i].sort == Sort::word ? attribute(Sort::word, {}, false)
                                                      : number(table.columns[i].dim, 1);
    if (asked == nullptr) return nullptr;
    node->kids.push_back(asked);
    node->columns.push_back(static_cast<int>(i));
    node->relations.push_back(Op::eq);
  }
  return node;
}

Node* Maker::call(Dim dim, int depth) {
  for (std::size_t i = 0; i < scene_.formulas.size(); ++i) {
    const Formula& formula = scene_.formulas[i];
    if (!(formula.dim == dim) || !draw_.chance(60)) continue;
    Node* node = make(Op::call, Sort::number, dim, {});
    node->index = static_cast<int>(i);
    for (const Dim& parameter : formula.dims) node->kids.push_back(number(parameter, depth - 2));
    return node;
  }
  return nullptr;
}

}  // namespace mm_proof
