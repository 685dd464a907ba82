// The tree: what the text says, before any name is looked up. Immutable after parsing; children are added
// before parents; every node has a span. Meaning (types, units, bindings) lives in later steps' side tables.
#pragma once
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/ids.hpp"
#include "base/names.hpp"
#include "text/source.hpp"

namespace mm {

struct ExprTag;
struct ValueTag;
using ExprId = Id<ExprTag>;
using ValueId = Id<ValueTag>;

struct Name {
  Symbol symbol;
  Span span;
};

/// front.hub.circle
struct Path {
  std::vector<Name> names;
  Span span;
};

struct TextLiteral {
  std::string text;  // escapes resolved
  Span span;         // with the quotes
};

struct UnitFactorSyntax {
  Name name;
  int power = 1;  // signed: after '/' negative
};

/// A unit as written. No factors: none was written. "%" is stored as the name percent.
struct UnitSyntax {
  std::vector<UnitFactorSyntax> factors;
  Span span;
  bool empty() const { return factors.empty(); }
};

/// A number as written ("1 1/4", "-0.5"); read exactly by read_number where its value is wanted.
struct NumberSyntax {
  Span span;  // without sign
  bool negative = false;
};

struct QuantitySyntax {
  NumberSyntax number;
  UnitSyntax unit;
  Span span;
};

struct DateSyntax {
  int year = 0, month = 0, day = 0;
  Span span;
};

// ---------------------------------------------------------------- values

enum class Grade : std::uint8_t { measured, tried, published, claimed, unstated, hearsay };  // strong to weak

struct Evidence {
  Grade grade = Grade::unstated;
  std::optional<TextLiteral> note;
  Span span;
};

struct UnknownValue {};  // ?
struct QuantityValue {
  QuantitySyntax quantity;
  std::optional<QuantitySyntax> plus, minus;  // both for "+- t"; an empty unit means the quantity's own
  bool symmetric = false;                     // written with +- or ±
};
struct RangeValue {
  std::optional<QuantitySyntax> lo, hi;  // >= x has no hi; <= x no lo; lo may lack a unit in 1..2 mm
};
struct WordsValue {
  std::vector<Name> words;  // choice, yes, no, or a list
};
struct TextValue {
  TextLiteral text;  // text or a designation
};
struct DateValue {
  DateSyntax date;
};
struct AdjustableValue {
  std::optional<RangeValue> range;
  std::optional<QuantitySyntax> step;
  struct Piece {
    QuantitySyntax count;  // bare number
    QuantitySyntax size;
  };
  std::vector<Piece> sums;
  std::vector<QuantitySyntax> one_of;
};

struct Value {
  std::variant<UnknownValue, QuantityValue, RangeValue, WordsValue, TextValue, DateValue, AdjustableValue>
      form;
  std::optional<Evidence> evidence;
  Span span;
};

/// circle 108 mm   or   mount { circle 108 mm }: the block form is flattened, path = mount.circle.
struct Assignment {
  Path path;
  ValueId value;
  std::uint32_t outer = 0;  // how many leading names came from enclosing blocks (layout only)
  Span span;
};

// ---------------------------------------------------------------- expressions

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
  Binder binder;
  ExprId where, body;  // none where absent
};
struct AggregateExpr {
  AggregateKind kind;
  ExprId term;                   // none for count
  std::optional<Binder> binder;  // none: the many side that `term` names
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

// ---------------------------------------------------------------- declarations

/// length | mm | km/h | count | one of a, b | thread ...
struct TypeSyntax {
  UnitSyntax
      unit;  // a single plain word is one factor of power 1: dimension word, unit, choice or designation
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
  std::vector<Assignment> assignments;
  Span span;
};

// build statements
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
  std::vector<Assignment> overrides;
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
  std::vector<Assignment> assignments;
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

using Declaration =
    std::variant<UseDecl, UnitDecl, CurrencyDecl, ChoiceDecl, TableDecl, FormulaDecl, DesignationDecl,
                 GroupDecl, KindDecl, InterfaceDecl, RuleDecl, PartDecl, BuildDecl>;

/// One file's statements in order.
struct FileTree {
  FileId file;
  std::vector<Declaration> declarations;
  std::vector<Span> comments;  // in order, from '#' to the end of the line
};

/// Everything that was read. Expressions and values of all files share two stores.
struct Tree {
  Store<Expr, ExprId> exprs;
  Store<Value, ValueId> values;
  std::vector<FileTree> files;  // a file that is used stands before the file that uses it
};

}  // namespace mm
