// A reason tree that agrees with its verdict. The tree is made in doubles, which leave a value that just
// touches its limit open; the verdict is exact.
#include <algorithm>

#include "report/phrases.hpp"

namespace mm {

namespace {

void settle(TraceNode& node, bool holds);

/// All of the children hold, or none does.
void settle_all(TraceNode& node, bool holds) {
  for (TraceNode& child : node.children)
    if (!child.label.ends_with("(perhaps)")) settle(child, holds);
}

/// Some child decides: the only one that is open, where the others do not.
void settle_only(TraceNode& node, bool holds) {
  TraceNode* open = nullptr;
  for (TraceNode& child : node.children) {
    if (child.kind != TypeKind::boolean || child.truth == (holds ? Truth::yes : Truth::no)) return;
    if (child.truth != Truth::maybe) continue;
    if (open != nullptr) return;
    open = &child;
  }
  if (open != nullptr) settle(*open, holds);
}

void settle(TraceNode& node, bool holds) {
  if (node.kind != TypeKind::boolean || node.truth != Truth::maybe) return;
  node.truth = holds ? Truth::yes : Truth::no;
  switch (node.code) {
    case OpCode::logical_and:
    case OpCode::every_entity:
      return holds ? settle_all(node, true) : settle_only(node, false);
    case OpCode::logical_or:
    case OpCode::some_entity:
      return holds ? settle_only(node, true) : settle_all(node, false);
    case OpCode::logical_not:
      return settle_all(node, !holds);
    default:
      return;
  }
}

}  // namespace

const TraceNode& test_of(const TraceNode& tree) {
  const bool conditional = tree.code == OpCode::logical_or && !tree.children.empty() &&
                           (tree.children[0].label == "when" || tree.children[0].label == "where");
  return conditional ? tree.children.back() : tree;
}

bool goes_over_none(const TraceNode& tree) {
  const TraceNode& test = test_of(tree);
  return (test.code == OpCode::every_entity || test.code == OpCode::some_entity) && test.children.empty() &&
         test.truth != Truth::maybe;
}

TraceNode settled_trace(Tracer& tracer, const Finding& finding, std::size_t case_index) {
  TraceNode tree = tracer.trace(finding, case_index);
  const Verdict verdict = finding.cases[case_index].outcome.verdict;
  if (verdict != Verdict::fits && verdict != Verdict::conflict) return tree;
  TraceNode& test = &test_of(tree) == &tree ? tree : tree.children.back();
  settle(test, verdict == Verdict::fits);
  return tree;
}

}  // namespace mm
