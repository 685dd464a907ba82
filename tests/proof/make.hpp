// Makes random projects: every operator and quantifier of the language over small builds.
#pragma once
#include <memory>

#include "draw.hpp"
#include "scene.hpp"

namespace mm_proof {

/// A project whose tuned literals are still to be set (see tune).
std::unique_ptr<Scene> make_scene(std::uint64_t seed, const Fragment& fragment);

/// The last step of that: a build of the kinds and interfaces that the scene has.
void make_build(Scene& scene, Draw& draw, const Fragment& fragment);

/// Sets each tuned literal near, at or beyond what the other side of its comparison came to in sampled
/// worlds.
void tune(Scene& scene, std::uint64_t seed);

/// The expressions of one scope. Entities, numbers and lets that may be named are put in before.
class Maker {
 public:
  Maker(Scene& scene, Draw& draw, const Fragment& fragment)
      : scene_(scene), draw_(draw), fragment_(fragment) {}

  struct EntityName {
    int var;
    int kind = -1;  // a part; -1: a face of ...
    int interface = -1, side = -1;
    bool self = false;  // inside a kind's let: no name before the dot
  };
  struct NumberName {
    int var;
    Dim dim;
  };
  struct LetName {
    const Let* let;
    Sort sort;
    Dim dim;
  };
  std::vector<EntityName> entities;
  std::vector<int> many;  // variables of many sides
  std::vector<NumberName> numbers;
  std::vector<LetName> lets;

  Node* number(Dim dim, int depth);
  Node* truth(int depth);
  Node* comparison(int depth);
  /// What is asked for only where `guard`, which it makes too, holds, and has no value somewhere else.
  Node* guarded_comparison(Node*& guard);
  Node* literal(Dim dim);
  Node* make(Op op, Sort sort, Dim dim, std::vector<Node*> kids);
  Node* tuned(Dim dim);
  int new_var(const std::string& prefix);
  Dim any_dim();

 private:
  struct Reach {
    Node* entity;
    int schema;
    int kind;
  };
  std::vector<Reach> within_reach(bool mates);
  Node* attribute_of(const Reach& from, int attribute);
  Node* leaf(Dim dim);
  Node* attribute(Sort sort, Dim dim, bool count);
  Node* plain(int depth);
  Node* angle(int depth);
  Node* counted(int depth);
  Node* aggregate(Dim dim, int depth);
  Node* quantifier(int depth);
  Node* over_range(int depth);
  Node* table_number(Dim dim, int depth);
  Node* table_truth();
  Node* words();
  Node* guarded();
  Node* meeting();
  Node* call(Dim dim, int depth);
  /// Binds a quantifier's variable: sets the node's domain and makes it known until `unbind`.
  bool bind(Node& node, int depth);
  void unbind(const Node& node);
  Node* kind_let(Dim dim);
  const Schema& schema_of(const EntityName& name) const;

  Scene& scene_;
  Draw& draw_;
  const Fragment& fragment_;
  int nested_ = 0;
};

}  // namespace mm_proof
