// A precision that the program states of a verdict that it gave up, held against sampled worlds.
#pragma once
#include "engine.hpp"

namespace mm_proof {

/// In base units.
std::string told(const mm::Precision& precision);

class StatedCheck {
 public:
  /// `enter` puts a case's choices into the world.
  StatedCheck(World& world, Judge& judge, const Engine& engine, std::function<void()> enter)
      : world_(world), judge_(judge), engine_(engine), enter_(std::move(enter)) {}

  /// What a world says against it, "" where none does; the world then stays. Worlds are drawn, and walked to
  /// from there: one value after another is moved to where the margin is less, or greater.
  std::string contradiction(const Engine::Found& found, const mm::Precision& precision, int worlds);
  std::size_t tried() const { return tried_; }

 private:
  struct Seen {
    Margin margin;
    std::string wrong;
  };
  Seen look(const Engine::Found& found);
  std::string walk(const Engine::Found& found, bool down);

  World& world_;
  Judge& judge_;
  const Engine& engine_;
  std::function<void()> enter_;
  Dim measure_;
  std::optional<Rational> least_, most_;  // in the judge's units
  std::size_t tried_ = 0;
};

}  // namespace mm_proof
