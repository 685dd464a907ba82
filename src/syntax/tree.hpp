// The tree: what the text says, before any name is looked up. Immutable after parsing; children are added
// before parents; every node has a span. Meaning (types, units, bindings) lives in later steps' side tables.
#pragma once
#include <deque>

#include "syntax/tree_builds.hpp"

namespace mm {

using Declaration =
    std::variant<UseDecl, UnitDecl, CurrencyDecl, ChoiceDecl, TableDecl, FormulaDecl, DesignationDecl,
                 GroupDecl, KindDecl, InterfaceDecl, RuleDecl, PartDecl, BuildDecl>;

/// One file's statements in order.
struct FileTree {
  FileId file;
  std::deque<Declaration> declarations;
  std::vector<Span> comments;  // in order, from '#' to the end of the line
};

/// Everything that was read. Expressions and values of all files share two stores.
struct Tree {
  Store<Expr, ExprId> exprs;
  BlockStore<Value, ValueId> values;
  Runs<Name> names;                // of paths
  Runs<UnitFactorSyntax> factors;  // of units
  std::vector<FileTree> files;     // a file that is used stands before the file that uses it
};

}  // namespace mm
