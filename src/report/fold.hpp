// Identical findings at several places told once.
#pragma once
#include "report/summary.hpp"
#include "report/values.hpp"

namespace mm {

/// Summaries of one requirement with the same verdicts, margins and values, at different places.
struct Entry {
  const Summary* first = nullptr;
  std::vector<const Summary*> members;  // first included, in order
  std::vector<Symbol> places;
  bool varied = false;  // the members differ in their numbers; `first` is the worst
};

/// Folds those that `wanted` names, in order of their first member.
std::vector<Entry> fold(const Scene& scene, const std::vector<const Summary*>& wanted);

/// "lug_circle" + subject + places: "lug_circle: wheel.mount + hub.face at front_left and front_right".
std::string entry_head(const Scene& scene, const Entry& entry, bool faces = true,
                       std::size_t most = SIZE_MAX);

}  // namespace mm
