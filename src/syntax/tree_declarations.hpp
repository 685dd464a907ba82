// The tree, third part: what rule and part files declare.
#pragma once
#include <string>

#include "syntax/tree_expressions.hpp"

namespace mm {

/// length | mm | km/h | count | one of a, b | thread ...
struct TypeSyntax {
  UnitSyntax unit;  // a plain word is one factor of power 1: dimension word, unit, choice or designation
  std::vector<Name> choices;  // one of ...
  bool range_key = false;     // table column "mm range"
  Span span;
};

struct DefaultSpread {
  Grade grade;
  QuantitySyntax amount;
  Span span;
};

struct AttributeDecl {
  Name name;
  TypeSyntax type;
  std::optional<RangeValue> range;
  Span range_span;
  std::optional<TextLiteral> doc, measure;
  std::vector<DefaultSpread> spreads;
  Span span;
};

struct LetDecl {
  Name name;
  ExprId value;
  Span span;
};

/// A piece of a remedy or because: literal text, or an expression whose value is put in.
struct TemplatePiece {
  std::string literal;  // escapes resolved; used when expr is none
  ExprId expr;
};

enum class Weight : std::uint8_t { need, should, caution, also };

struct RequirementDecl {
  Weight weight;
  Name name;
  ExprId test, when;  // when: none where absent
  std::optional<TextLiteral> because, source, remedy;
  std::vector<TemplatePiece> because_pieces, remedy_pieces;
  std::optional<Name> settles_at, hazard;
  Span span;
};

struct UseDecl {
  TextLiteral path;
  Span span;
};
struct UnitDecl {
  Name name;
  QuantitySyntax definition;
  Span span;
};
struct CurrencyDecl {
  Name name;
  Span span;
};
struct ChoiceDecl {
  Name name;
  std::vector<Name> choices;
  Span span;
};
struct TableDecl {
  Name name;
  std::optional<TextLiteral> doc;
  std::vector<AttributeDecl> columns;  // name and type only
  std::vector<std::vector<ValueId>> rows;
  std::vector<TextLiteral> sources;
  Span span;
};
struct FormulaDecl {
  Name name;
  struct Parameter {
    Name name;
    TypeSyntax type;
  };
  std::vector<Parameter> parameters;
  TypeSyntax result;
  ExprId body;
  std::optional<TextLiteral> source;
  Span span;
};
struct PatternPiece {
  std::string literal;            // literal text, when no field
  bool optional_literal = false;  // written in [ ]
  std::optional<Name> field;
  TypeSyntax type;
};
struct FormDecl {
  std::optional<Name> name;  // none in the short form: "standard"
  std::vector<std::vector<PatternPiece>> patterns;
  std::vector<TextLiteral> pattern_texts;
  std::vector<LetDecl> computed;
  Span span;
};
struct DesignationDecl {
  Name name;
  std::optional<TextLiteral> doc;
  std::vector<FormDecl> forms;
  Span span;
};
struct GroupDecl {
  Name name;
  std::vector<AttributeDecl> attributes;
  Span span;
};
struct FaceDecl {
  std::vector<Name> names;
  Name interface, side;
  bool optional = false;
  Span span;
};
struct KindDecl {
  Name name;
  std::optional<TextLiteral> doc;
  std::vector<Name> groups;
  std::vector<FaceDecl> faces;
  std::vector<AttributeDecl> attributes;
  std::vector<LetDecl> lets;
  Span span;
};
struct SideDecl {
  Name name;
  bool many = false;
  std::vector<Name> groups;
  std::vector<AttributeDecl> attributes;
  Span span;
};
struct InterfaceDecl {
  Name name;
  std::optional<TextLiteral> doc;
  std::vector<SideDecl> sides;
  std::vector<LetDecl> lets;
  std::vector<RequirementDecl> requirements;
  Span span;
};
struct RuleDecl {
  Name name;
  std::optional<TextLiteral> doc;
  std::vector<Binder> binders;
  ExprId where;
  std::vector<LetDecl> lets;
  std::vector<RequirementDecl> requirements;
  Span span;
};
struct PartDecl {
  Name name;
  std::optional<TextLiteral> doc;
  Name kind;
  IdRange<AssignmentId> assignments;
  Span span;
};

}  // namespace mm
