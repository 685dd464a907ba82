// Runs the program's own steps over a generated text and tells what they found in the scene's terms.
#pragma once
#include <map>
#include <memory>

#include "evaluate/evaluate.hpp"
#include "judge.hpp"
#include "resolve/resolve.hpp"
#include "syntax/load.hpp"

namespace mm_proof {

class Engine {
 public:
  /// False where the text is not taken, which is the generator's or the program's mistake; `said` tells why.
  /// details: with limits of values and windows of settings.
  bool judge(const Scene& scene, const std::string& text, std::size_t max_splits, bool details);

  struct Found {
    const Requirement* requirement = nullptr;
    const Interface* interface = nullptr;
    const Rule* rule = nullptr;
    Binding binding;
    const mm::Finding* finding = nullptr;
  };
  std::vector<Found> found;
  std::string said;

  /// Puts a case's choices, and the values of a certificate, into a world.
  void enter(const mm::Case& state, World& world) const;
  void give(const std::vector<mm::WorldValue>& values, World& world) const;
  /// The given numbers are values that the sheets allow. set: one that the builder sets is no value between
  /// two settings.
  bool inside(const std::vector<mm::WorldValue>& values, World& world, bool set = false) const;
  /// A value of a certificate that is only known to lie between two, in the judge's units.
  struct Between {
    CellKey cell;
    Rational lo, hi;
  };
  std::optional<Between> between(const std::vector<mm::WorldValue>& values, const World& world) const;
  /// A number of a world as the program has it; none for a value of its own.
  std::optional<mm::Rational> number(const mm::WorldValue& value, World& world) const;
  mm::WorldValue number_of(mm::CellId cell) const;  // not set yet
  /// A measure in the judge's terms.
  Dim dim(const mm::Measure& measure) const;

 private:
  EntityRef entity(mm::EntityId id) const;
  int attribute(const mm::WorldValue& value, EntityRef e) const;
  const AttributeDef& definition(EntityRef e, int attribute) const;

  struct Read {
    mm::Sources sources;
    mm::Names names;
    mm::Tree tree;
    mm::Messages messages;
    mm::Project project;
    mm::Results results;
  };
  const mm::Build& build() const { return read_->project.builds.back(); }

  const Scene* scene_ = nullptr;
  std::unique_ptr<Read> read_;
  std::map<std::string, int> instances_;
};

/// What one of the program's units counts here: it has metres and turns, the judge millimetres and degrees.
Rational scale_of(Dim dim);
std::string word_of(mm::Verdict verdict);

}  // namespace mm_proof
