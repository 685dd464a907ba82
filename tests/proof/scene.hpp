// A generated project as the generator knows it: rules as a tree of its own, parts with the values that they
// may have, a build. Nothing here comes from the program under test. Lengths are in mm, angles in degrees.
#pragma once
#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "node.hpp"

namespace mm_proof {

struct AttributeDef {
  std::string name;
  Sort sort = Sort::number;
  Dim dim;
  bool count = false;
  std::optional<Rational> lo, hi;             // declared range
  std::optional<Rational> measured, claimed;  // default spreads
};

struct Let {
  std::string name;
  Node* body;
};

struct Schema {
  std::string name;
  std::vector<AttributeDef> attributes;
};

struct Face {
  std::string name;
  int interface, side;
  bool optional;
};

struct Kind {
  std::string name;
  int schema;
  std::vector<Face> faces;
  std::vector<Let> lets;
  int self_var = -1;
};

struct Side {
  std::string name;
  int schema;
  bool many = false;
  int var = -1;
};

struct Requirement {
  std::string name;
  Node* test;
  Node* when = nullptr;
};

struct Interface {
  std::string name;
  std::vector<Side> sides;
  std::vector<Let> lets;
  std::vector<Requirement> requirements;
};

struct Rule {
  std::string name;
  std::vector<int> kinds, vars;
  std::vector<std::string> names;
  Node* where = nullptr;
  std::vector<Let> lets;
  std::vector<Requirement> requirements;
};

struct Formula {
  std::string name;
  std::vector<int> vars;
  std::vector<std::string> names;
  std::vector<Dim> dims;
  Node* body;
  Dim dim;
};

/// A size such as "M8x1.25": form 0 metric, 1 inch, 2 belt (of another pattern). Fields that a form lacks are
/// none.
struct Size {
  std::string text;
  int form;
  std::optional<Rational> major, pitch, tpi;
};

struct Column {
  std::string name;
  Sort sort;
  Dim dim;
  bool range = false;
};

struct Cell {
  Rational lo, hi;
  int word = -1;
};

struct Table {
  std::string name;
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;
};

/// What a value can be. A number: all of lo..hi (none: endless) or only the settings; a truth: 0, 1 or both.
struct Value {
  std::string text;  // after the attribute's name; "" where the part does not say
  std::optional<Rational> lo, hi;
  std::vector<Rational> settings;
  bool adjustable = false, whole = false;
  std::vector<int> words;  // of choices, or of sizes
  bool any_size = false;
  std::string second;  // a second statement of the same attribute
  bool single() const {
    return words.empty() ? lo && hi && *lo == *hi && !any_size : words.size() == 1 && !any_size;
  }
};

struct Part {
  std::string name;
  int kind;
  std::vector<std::vector<Value>> values;  // [0] its own, then face by face
};

struct Instance {
  std::string name;  // as reports call it
  int fit, kind;
  std::string place;
  std::vector<int> joints;  // by face; -1 open
};

struct Fit {
  std::string name;
  std::vector<int> candidates;  // parts
};

struct EntityRef {
  int instance = -1, face = -1;
  bool operator==(const EntityRef&) const = default;
};

/// Puts a variable back to what it was.
template <class T>
class Kept {
 public:
  explicit Kept(T& variable) : variable_(variable), before_(variable) {}
  ~Kept() { variable_ = before_; }
  Kept(const Kept&) = delete;
  Kept& operator=(const Kept&) = delete;

 private:
  T& variable_;
  T before_;
};

struct Joint {
  int interface;
  std::vector<std::vector<EntityRef>> sides;
  std::string text;
};

struct Scene {
  std::deque<Node> nodes;
  std::vector<std::string> words;  // of the one choice
  std::vector<Size> sizes;
  int written_sizes = 0;  // the first of them; what is missing may be any of them
  std::vector<Schema> schemas;
  std::vector<Kind> kinds;
  std::vector<Interface> interfaces;
  std::vector<Rule> rules;
  std::vector<Formula> formulas;
  std::vector<Table> tables;
  std::vector<Part> parts;
  std::vector<Fit> fits;
  std::vector<Instance> instances;
  std::vector<Joint> joints;
  std::vector<std::string> places;
  std::vector<std::string> var_names;

  Scene() = default;
  Scene(const Scene&) = delete;
  Scene& operator=(const Scene&) = delete;
  int schema_of(EntityRef e) const {
    const Kind& kind = kinds[static_cast<std::size_t>(instances[static_cast<std::size_t>(e.instance)].kind)];
    if (e.face < 0) return kind.schema;
    const Face& face = kind.faces[static_cast<std::size_t>(e.face)];
    return interfaces[static_cast<std::size_t>(face.interface)]
        .sides[static_cast<std::size_t>(face.side)]
        .schema;
  }
};

/// What the generator may use.
struct Fragment {
  bool transcendental = true, tables = true, sizes = true, rounding = true, powers = true, open_faces = true;
  bool adjustables = true, reach = true, ranges = true, units = true;
  int depth = 3;
};

/// The text of the whole project, one file.
std::string text_of(const Scene& scene);
std::string expression_text(const Scene& scene, const Node& node);
std::string decimal(const Rational& value);

}  // namespace mm_proof
