// The tree, fourth part: builds and trials.
#pragma once
#include "syntax/tree_declarations.hpp"

namespace mm {

struct PlaceDecl {
  std::vector<Name> names;
  std::optional<Name> hand;
  Span span;
};
struct FitDecl {
  Name name;
  std::vector<Name> parts;  // more than one, or is_slot: candidates
  bool is_slot = false;
  std::vector<Name> places;
  std::optional<QuantitySyntax> each;
  IdRange<AssignmentId> overrides;
  Span span;
};
struct JoinDecl {
  std::optional<Name> label;
  std::optional<Name> interface;  // the block form
  std::vector<Path> faces;        // a + b [+ c]
  struct SideFill {
    Name side;
    std::vector<Path> faces;
  };
  std::vector<SideFill> fills;  // block form
  std::vector<Name> places;
  Span span;
};
struct ReworkDecl {
  Name name;
  std::optional<TextLiteral> doc;
  Path target;  // fit name, or fit.place
  IdRange<AssignmentId> assignments;
  bool done = false;
  std::optional<TextLiteral> by;
  Span span;
};
struct WaiveDecl {
  Name requirement;
  std::optional<Path> on;
  std::optional<TextLiteral> because, by;
  std::optional<DateSyntax> until;
  Span span;
};
struct StageDecl {
  Name name;
  std::optional<TextLiteral> doc;
  std::vector<Name> uses;
  Span span;
};
struct ExpectDecl {
  std::optional<Name> verdict;  // none: "expect that EXPR"
  std::optional<Name> requirement;
  std::optional<Path> on;
  ExprId that;
  Span span;
};

/// A build or a trial: the same statements; only a trial has parts and expectations of its own.
struct BuildDecl {
  std::optional<Name> name;          // build
  std::optional<TextLiteral> title;  // trial name, or the build's description
  bool is_trial = false;
  std::vector<UseDecl> uses;
  std::vector<PartDecl> parts;
  std::vector<PlaceDecl> places;
  std::vector<FitDecl> fits;
  std::vector<JoinDecl> joins;
  std::vector<ReworkDecl> reworks;
  std::vector<WaiveDecl> waivers;
  std::vector<StageDecl> stages;
  std::vector<ExpectDecl> expects;
  Span span;
};

}  // namespace mm
