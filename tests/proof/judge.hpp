// The judge: what a requirement comes to in one world, worked out by walking the generator's own tree with
// exact numbers. It shares no code with src/evaluate.
#pragma once
#include <functional>
#include <map>
#include <set>
#include <tuple>

#include "draw.hpp"
#include "margin.hpp"
#include "scene.hpp"

namespace mm_proof {

using CellKey = std::tuple<int, int, int, int>;  // instance, candidate, face (-1 the part), attribute

/// One value for every cell that is asked for: given, or drawn when first read.
class World {
 public:
  World(const Scene& scene, std::uint64_t seed);
  /// Which candidate stands in each fit.
  std::vector<int> candidates;
  /// How the next values are drawn: 0 anywhere, 1 ends mostly.
  int manner = 0;
  /// Rows of a table that disagree are taken in the order in which they stand, from this one on and then
  /// those before it; none: in an order that is drawn.
  std::optional<std::size_t> first_row;
  /// From now on some values are at a limit that a comparison of the scene names: there answers turn over.
  void seek_limits();

  void give(const CellKey& cell, Rational number) {
    between_.erase(cell);
    numbers_[cell] = std::move(number);
  }
  /// A number somewhere between the two.
  void give_between(const CellKey& cell, const Rational& lo, const Rational& hi);
  void give_word(const CellKey& cell, int word) { words_[cell] = word; }
  void clear(std::uint64_t seed);
  /// Another number for one cell that was asked for; gives what it was. None: there is no such cell.
  std::optional<std::pair<CellKey, Rational>> redraw_one();

  const Value& value(EntityRef e, int attribute) const;
  CellKey key(EntityRef e, int attribute) const;
  const Rational& number(EntityRef e, int attribute);
  /// The same, or what it lies between.
  Real real(EntityRef e, int attribute);
  int word(EntityRef e, int attribute);
  Draw& draw() { return draw_; }
  /// Order in which the rows of a table that disagree are taken in this world.
  std::vector<int> order(int table);
  std::string told() const;

 private:
  Rational drawn(const Value& value);
  Rational drawn(EntityRef e, int attribute);
  std::optional<Rational> at_limit(const Value& value, Dim dim);

  const Scene* scene_;
  Draw draw_;
  std::uint64_t seed_;
  std::map<CellKey, Rational> numbers_;
  std::map<CellKey, Real> between_;
  std::map<CellKey, int> words_;
  std::vector<const Node*> limits_;
};

/// A size that no text names, in a world where any will do.
inline constexpr int strange_size = 1'000'000;

struct Binding {
  std::vector<EntityRef> locals;
  std::vector<std::vector<EntityRef>> lists;
};

struct Verdicts {
  Truth applies = yes, holds = whatever;
};

class Judge {
 public:
  Judge(const Scene& scene, World& world);

  /// A requirement of an interface (rule null) or of a rule.
  Verdicts requirement(const Requirement& requirement, const Interface* interface, const Rule* rule,
                       const Binding& binding);
  /// Its margin in one dimension; the greatest of that of the test and of what keeps it from being asked.
  Margin margin(const Requirement& requirement, const Interface* interface, const Rule* rule,
                const Binding& binding, Dim measure);
  /// What `ask` may come to where this value lies between the two at a root: a difference that some
  /// comparison asks about is nothing there. One answer for each such difference that surely has a root, as
  /// it has no jump and is of one sign at `lo` and of the other at `hi`.
  std::vector<Truth> at_roots(const CellKey& cell, const Rational& lo, const Rational& hi,
                              const std::function<Truth()>& ask);
  /// Also keeps what tuned comparisons see.
  bool observe = false;
  /// Pieces into which a continuous range may be cut to prove "every"; points that are tried in it.
  /// A range within another may be cut in fewer, for that is done anew in each piece of the outer one.
  int range_pieces = 6, range_points = 3;

 private:
  struct Term {
    Real number;
    int word = -1;  // a word or size
    EntityRef entity;
    Truth state = yes;  // of words, sizes and entities: yes defined, undefined
  };
  void bind(const Interface* interface, const Rule* rule, const Binding& binding);
  Truth truth(const Node& node);
  /// Which comparison, of what: the node, its row of a table or its limit, and what variables stand for.
  using Site = std::tuple<const Node*, const void*, int, std::vector<std::pair<int, int>>>;
  /// Notes the difference; whether it is nothing at the root that is looked at.
  bool meets(const Node& node, const void* row, int limit, const Real& a, const Real& b);
  Real number(const Node& node);
  Term symbol(const Node& node);
  Term entity(const Node& node);
  Truth compare(const Node& node);
  Truth quantified(const Node& node);
  Truth over_range(const Node& node);
  void add_slacks(const Node& node, std::vector<Real>& out);
  std::vector<Rational> turns(const Node& node, const Rational& from, const Rational& to);
  Real aggregate(const Node& node);
  Real field(const Node& node);
  Truth row_matches(const Node& node, const std::vector<Cell>& row);
  Real table_number(const Node& node);
  Truth in_table(const Node& node);
  Real call(const Node& node);
  std::vector<EntityRef> domain(const Node& node, bool& lost);
  std::vector<EntityRef> reachable(EntityRef from, const std::vector<int>& through) const;
  Truth same_size(const Term& a, const Term& b) const;
  Margin margin(const Node& node);
  Margin compared_margin(const Node& node);
  Margin table_margin(const Node& node);
  Margin item_margin(const Node& node, bool some);
  Margin quantified_margin(const Node& node);
  Margin range_margin(const Node& node);
  void keep(const Node& node, const Real& seen);
  Node& at(const Node& node, std::size_t kid) const { return *node.kids[kid]; }

  const Scene* scene_;
  World* world_;
  std::vector<EntityRef> entities_;  // by variable
  std::vector<Real> numbers_;        // by variable
  bool within_range_ = false;        // in a piece of one
  std::map<Site, Real>* differences_ = nullptr;
  std::set<Site> nothing_;
  int parameters_ = 0;  // numbers that variables stand for: what reads one is of no site
  std::vector<std::vector<EntityRef>> lists_;  // by variable
  Dim measure_;                                // of the comparisons that a margin counts
};

/// The bindings of an interface's joint and of a rule, in the order of the build.
Binding binding_of(const Scene& scene, const Joint& joint);
std::vector<Binding> matches_of(const Scene& scene, const Rule& rule);

}  // namespace mm_proof
