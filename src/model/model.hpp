// Everything the text declares, with names bound and dimensions checked; builds are in build.hpp.
#pragma once
#include <deque>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "base/boxed.hpp"
#include "interval/exact_interval.hpp"
#include "model/program.hpp"
#include "model/types.hpp"
#include "syntax/tree.hpp"
#include "units/unit_table.hpp"

namespace mm {

inline constexpr std::size_t grade_count = 6;

struct AttributeDef {
  Symbol name;
  Type type;
  Boxed<ExactInterval> range;       // base units
  const Unit* shown_in = nullptr;   // of the model; the unit that the declaration names, if any
  const Unit* ranged_in = nullptr;  // the unit of its range, if any
  std::string doc, measure;
  Boxed<Rational> default_spread[grade_count];  // half-width in base units, by Grade
  Span span;

  /// Where no value was written in one; null: in the usual one.
  const Unit* told_in() const {
    if (shown_in != nullptr || ranged_in == nullptr) return shown_in;
    return ranged_in->offset != 0 && type.is_difference() ? nullptr : ranged_in;
  }
};

/// The attributes of a kind or of an interface's side, in a fixed order.
struct Schema {
  std::vector<AttributeDef> attributes;
  std::unordered_map<Symbol, std::uint32_t> index;
};

/// Every kind's schema starts with these.
enum class PartProperty : std::uint32_t { price, state, quantity, hand, seller, return_by, tag, note, place };
inline constexpr std::uint32_t part_property_count = 9;

struct FaceDef {
  Symbol name;
  InterfaceId interface;
  std::uint32_t side = 0;
  bool optional = false;
  Span span;
};

struct KindDef {
  Symbol name;
  std::string doc;
  Schema schema;
  std::vector<FaceDef> faces;
  std::vector<LetDecl> lets;
  Span span;
  /// A sheet has a cell for each attribute: of the part, then of each face's side, in the order of `faces`.
  std::vector<std::uint32_t> face_offsets;
  std::uint32_t sheet_size = 0;
};

struct SideDef {
  Symbol name;
  bool many = false;
  Schema schema;
  Span span;
};

struct InterfaceDef {
  Symbol name;
  std::string doc;
  std::vector<SideDef> sides;
  std::vector<RequirementId> requirements;
  Span span;
};

/// A cell of a table or a field of a designation: an exact number, or a symbolic set.
struct ConstValue {
  NumberId number;
  SymbolicSetId symbols;
  bool is_range = false;  // "key range" cell: number is the range
};

struct TableDef {
  Symbol name;
  std::string doc;
  std::vector<AttributeDef> columns;
  std::vector<bool> key_range;
  std::vector<std::vector<ConstValue>> rows;
  /// By column: what its ranges cover together, ascending, with a gap between each two. Empty for a column
  /// without ranges.
  std::vector<std::vector<ExactInterval>> covered;
  std::vector<std::string> sources;
  std::vector<Span> row_spans;
  Span span;
};

struct FieldDef {
  Symbol name;
  Type type;
};

/// A field of a pattern, or a parameter of a formula, as it is declared.
struct NamedType {
  Symbol name;
  Type type;
  const Unit* shown_in = nullptr;  // of the model; the unit that the declaration names, if any
  bool letter = false;             // a text of one capital
};

struct FormDef {
  Symbol name;
  /// Computed fields in order: program with one slot-less root block; earlier fields are read by op `field`
  /// on local slot 0 (the designation itself). Index of the field it sets.
  struct Computed {
    std::uint32_t field;
    Program program;
    BlockIndex block;
    ExprId expr;
  };
  std::vector<Computed> computed;
  std::vector<NamedType> written;  // fields that a text of this form may give
  std::vector<Span> patterns;      // with their quotes
  Span span;
};

/// What the calculation is called with, and what it comes to; it is compiled into what uses it.
struct FormulaDef {
  Symbol name;
  std::vector<NamedType> parameters;
  NamedType result;  // without a name
  std::string source;
  ExprId body;
  Span span;
};

struct ChoiceDef {
  Symbol name;
  std::vector<Symbol> words;  // as they stand
  Span span;
};

struct DesignationDef {
  Symbol name;
  std::string doc;
  std::vector<FieldDef> fields;  // over all forms
  std::vector<FormDef> forms;
  Span span;
};

/// One designation as written somewhere: form and the fields that its text gives (computed ones are empty).
/// Equal text-given fields share one id; whether two ids are equal is for the evaluator (computed fields
/// count).
struct DesignationConst {
  DesignationId designation;
  std::uint32_t form = 0;
  std::vector<std::optional<ConstValue>> fields;  // by field index
  std::string text;
};

/// Members are sorted: Symbol indices (choice, text, place) or DesignationConstId indices. `all`: any member
/// at all.
struct SymbolicSet {
  bool all = false;
  std::vector<std::uint32_t> members;
};

struct NumberConst {
  ExactInterval exact;
  Interval bounds;   // outward rounding of exact
  int pi_power = 0;  // of one number in a unit that holds pi, and of pi
};

/// Text with values put in: pieces alternate as they stand; a piece with a block is an expression's value.
struct TextPiece {
  std::string text;
  BlockIndex block = no_block;
  ExprId expr;
  Type type;
};
using Template = std::vector<TextPiece>;

enum class Gate : std::uint8_t { none, order, assemble, drive };

struct RequirementDef {
  Symbol name;
  Weight weight = Weight::need;
  Symbol owner;            // interface or rule
  InterfaceId interface;   // none for a rule's
  std::uint32_t rule = 0;  // index into Model::rules when interface is none
  Program program;
  BlockIndex test = no_block, when = no_block;
  Template because, remedy;
  std::string source;
  Gate settles_at = Gate::none;
  Symbol hazard;
  Measure measure;                  // of the comparisons that the test is made of
  bool has_margin = false;          // they are all of that one
  std::optional<Unit> margin_unit;  // unit of the first literal of the test's dimension in the rule, if any
  ExprId test_expr, when_expr;
  Span span;  // name
};

struct RuleDef {
  Symbol name;
  std::string doc;
  struct Variable {
    Symbol name;
    KindId kind;  // none: any part
    /// Only parts that can be reached from this entity, which hangs on earlier variables alone.
    Program from_program;
    BlockIndex from = no_block;
    std::vector<InterfaceId> through;
  };
  std::vector<Variable> variables;  // local slots 0..n-1
  Program where_program;
  BlockIndex where = no_block;
  /// Conjuncts `u.attr = v.attr` of `where` that tie two variables: the matcher uses them as an index.
  struct Tie {
    std::uint32_t left_slot, left_attribute, right_slot, right_attribute;
  };
  std::vector<Tie> ties;
  ExprId where_expr;
  std::vector<RequirementId> requirements;
  Span span;
};

/// Name and description are the declaration's.
struct PartDef {
  const PartDecl* decl = nullptr;  // in the tree, which outlives the model
  KindId kind;
};

/// Values hold pointers to its units, so it is moved and never copied.
struct Model {
  Model() = default;
  Model(Model&&) = default;
  Model& operator=(Model&&) = default;

  UnitTable units;
  std::deque<Unit> unit_products;  // those that were written, each once
  BlockStore<KindDef, KindId> kinds;
  BlockStore<InterfaceDef, InterfaceId> interfaces;
  BlockStore<DesignationDef, DesignationId> designations;
  BlockStore<TableDef, TableId> tables;
  BlockStore<RequirementDef, RequirementId> requirements;
  BlockStore<SymbolicSet, SymbolicSetId> sets;
  /// The members in the order first written, where that is another one.
  std::unordered_map<SymbolicSetId, std::vector<std::uint32_t>> sets_as_written;
  BlockStore<NumberConst, NumberId> numbers;
  BlockStore<DesignationConst, DesignationConstId> designation_consts;
  std::vector<RuleDef> rules;
  std::vector<FormulaDef> formulas;
  std::vector<ChoiceDef> choices;
  std::vector<PartDef> parts;  // of files; a trial's own parts are in its build
};

/// The members of a set, to be told.
inline const std::vector<std::uint32_t>& as_written(const Model& model, SymbolicSetId set) {
  const auto found = model.sets_as_written.find(set);
  return found != model.sets_as_written.end() ? found->second : model.sets[set].members;
}

}  // namespace mm
