// What every part of the resolver shares: the tree, the tables of names, and the project being made.
#pragma once
#include <map>
#include <span>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "base/index_table.hpp"
#include "base/ratio.hpp"
#include "base/symbol_map.hpp"
#include "messages/message.hpp"
#include "model/build.hpp"
#include "resolve/computed_fields.hpp"
#include "resolve/lets.hpp"

namespace mm {

struct FormulaEntry {
  const FormulaDecl* decl = nullptr;
  std::vector<Type> parameters;
  Type result;
};

/// A type as written.
struct ReadType {
  Type type;                   // kind error after a message
  const Unit* unit = nullptr;  // of the model, where the type is a unit: bare numbers may be read in it
  bool letter = false, word = false;  // designation fields: what text to take
};

/// Of compiling, over all files.
inline constexpr std::size_t max_steps_in_all = 3'000'000;

struct Context {
  Context(const Tree& t, const Sources& s, Names& n, Messages& m, Project& p)
      : tree(t), sources(s), names(n), messages(m), project(p), model(p.model) {}

  const Tree& tree;
  const Sources& sources;
  Names& names;
  Messages& messages;
  Project& project;
  Model& model;

  std::unordered_map<Symbol, KindId> kinds;
  std::unordered_map<Symbol, InterfaceId> interfaces;
  std::unordered_map<Symbol, TableId> tables;
  std::unordered_map<Symbol, DesignationId> designations;
  std::unordered_map<Symbol, SymbolicSetId> choices;
  std::unordered_map<Symbol, const GroupDecl*> groups;
  std::unordered_set<Symbol> groups_taken;             // by a kind or a side
  std::unordered_map<Symbol, std::uint32_t> formulas;  // into formula_list
  SymbolMap<std::uint32_t> parts;                      // into model.parts
  std::vector<FormulaEntry> formula_list;
  std::vector<const KindDecl*> kind_decls;            // by KindId
  std::vector<const InterfaceDecl*> interface_decls;  // by InterfaceId
  std::vector<const TableDecl*> table_decls;
  std::vector<const DesignationDecl*> designation_decls;
  std::vector<const RuleDecl*> rule_decls;
  std::vector<Symbol> currencies;
  std::vector<std::optional<ReadType>> types_read;  // by UnitId; none: not read yet, or wrong
  std::vector<AttributeDef> part_properties;        // of every kind; made for the first
  Schema any_part;                                  // these alone, once a part of any kind is asked for one
  std::vector<const Unit*> units_read;              // by UnitId; null: not read yet, or wrong
  std::vector<bool> parts_read;                     // by part of the model: its values were checked already
  std::size_t steps_left = max_steps_in_all;
  bool said_too_long = false, said_too_deep = false;
  std::unordered_set<std::uint32_t> formulas_too_long;  // by themselves: what uses them is not told again
  std::size_t names_for_hints = 3'000'000;
  std::map<std::string, std::unordered_map<Symbol, Span>> declared;  // sort -> name -> first place
  std::map<std::vector<std::uint32_t>, SymbolicSetId> set_index;     // of more than one member, or none
  std::vector<SymbolicSetId> single_sets;                            // by symbol
  SymbolicSetId any_set;                                             // none: not needed yet
  std::map<std::string, DesignationConstId> designation_index;
  struct Literal {
    Ratio value;
    Type type;
    NumberId number;
  };
  /// Of a quantity written in an expression, which may be put in at many places.
  struct Written {
    NumberId number;
    Type type;
  };
  std::unordered_map<std::uint32_t, Written> written;  // by ExprId
  std::vector<Literal> literals;
  IndexTable literals_at;                                    // by value
  NumberId pi_number;                                        // none until asked for
  std::unordered_map<const Unit*, ExactInterval> pi_scales;  // of units that hold pi: factor * pi^pi_power
  std::vector<std::unordered_map<std::string_view, DesignationConstId>>
      sizes_read;  // by designation and text

  // What an error left out of a kind or side: that it is missing there is not said again.
  std::unordered_map<KindId, std::unordered_set<Symbol>> faces_in_error;
  std::unordered_set<KindId> kinds_in_error;         // a group of theirs is not known
  std::unordered_set<std::uint64_t> sides_in_error;  // by key_of_side

  std::unordered_map<KindId, Lets> lets;         // by kind; made when first asked for
  std::unordered_set<Symbol> derived_names;      // of all kinds
  std::unordered_set<Symbol> requirement_names;  // of interfaces and rules

  std::optional<bool> places_asked;  // by some expression; none: not looked for yet

  FieldNeeds* field_needs = nullptr;  // while computed fields of sizes are compiled

  // What compilers work in, left to the next one: programs are many and small, and keep no room to grow.
  std::vector<std::vector<Op>> rooms_for_ops;
  std::vector<std::vector<Type>> rooms_for_types;

  std::string text(Symbol symbol) const { return std::string(names.text(symbol)); }
  std::string text(const Name& name) const { return text(name.symbol); }

  static std::uint64_t key_of_side(InterfaceId interface, std::size_t side) {
    return std::uint64_t{interface.index} << 32U | side;
  }
  bool lacks_face(KindId kind, Symbol name) const {
    const auto found = faces_in_error.find(kind);
    return found != faces_in_error.end() && found->second.contains(name);
  }
  /// Of a kind that was read.
  const Lets& lets_of(KindId kind);
  /// False (and an error with both places) when this sort of thing has that name already.
  bool declare(const std::string& sort, const Name& name);
  void declared_twice(const std::string& sort, const Name& name, Span first);
  /// "there is no SORT called NAME", with the nearest of the known names as a hint.
  /// What stands in the same list already is not meant again.
  Message& unknown(const std::string& sort, const Name& name, std::vector<std::string_view> known,
                   std::span<const Name> listed = {});
  template <class Map>
  Message& unknown_in(const std::string& sort, const Name& name, const Map& map,
                      std::span<const Name> listed = {}) {
    std::vector<std::string_view> known;
    add_known(map, known);
    return unknown(sort, name, std::move(known), listed);
  }
  /// The names of a map, for a hint; none where thousands of errors asked for thousands of names already.
  template <class Map>
  void add_known(const Map& map, std::vector<std::string_view>& known) {
    if (map.size() > names_for_hints) return;
    for (const auto& entry : map) known.push_back(names.text(entry.first));
  }

  SymbolicSetId set_of(std::vector<std::uint32_t> members);
  SymbolicSetId set_of(Symbol symbol);
  SymbolicSetId any_member();
  NumberId number(ExactInterval value, int pi_power = 0);
  NumberId pi();
  /// Of equal points one number, so that equal steps on it are made once.
  NumberId literal(const ExactInterval& value, const Type& type, int pi_power);
  /// As `suggestion`; "" where thousands of errors asked for thousands of names already.
  std::string suggest(std::string_view wanted, std::vector<std::string_view> known);
  /// "cone_60, ball or flat"
  std::string list_of(SymbolicSetId set) const;
};

/// What somebody is to read, with a blank for each line end in it.
std::string in_one_line(std::string_view text);

/// The nearest known name as "did you mean ...?", or "" (see Context::suggest).
std::string suggestion(std::string_view wanted, std::vector<std::string_view> known);

/// "a length", "a count", "one of cone_60 or ball", "a thread", "the \"wheel\" side of lug": for messages.
std::string type_text(const Context& context, const Type& type);
std::string dimension_text(const Context& context, const Dimension& dimension);

Type quantity_type(const Dimension& dimension, bool nominal = false);
Type simple_type(TypeKind kind, bool nominal = false);

/// Where each name of one owner was declared first.
class FirstNames {
 public:
  void take(const Name& name) { first_.try_emplace(name.symbol, name.span); }
  /// False where another has it, which is then told.
  bool declare(Context& context, const std::string& sort, const Name& name) {
    const auto [found, added] = first_.try_emplace(name.symbol, name.span);
    if (!added) context.declared_twice(sort, name, found->second);
    return added;
  }

 private:
  std::unordered_map<Symbol, Span> first_;
};

}  // namespace mm
