// Rules that a helper compiles while the caller compiles the others: in a project of its own, so that the two
// share nothing but the tree. What it makes is then taken over as if it had been compiled in its place.
#pragma once
#include <memory>

#include "base/helpers.hpp"
#include "resolve/context.hpp"

namespace mm {

/// How much there is of what compiling adds to.
struct PoolSizes {
  std::size_t numbers = 0, sets = 0, sizes = 0, names = 0;
  bool operator==(const PoolSizes&) const = default;
};

class RulesApart {
 public:
  /// The helper begins at once, if there is one and rules enough. All but the helpers must stay.
  RulesApart(const Tree& tree, const Sources& sources, const Names& names, Helpers* helpers);
  ~RulesApart();
  RulesApart(const RulesApart&) = delete;
  RulesApart& operator=(const RulesApart&) = delete;

  /// How many of the rules, in their order, are left to the caller.
  std::size_t left_to(const Context& context) const;
  /// To be called where only declarations were read.
  void note_beginning(const Context& context);
  /// Appends the other rules, which hold what the project keeps from then on. False where the helper had not
  /// begun, or where some message is due, or a limit: then the caller compiles them, and says it.
  bool take_into(Context& context);

 private:
  struct Work;

  Helpers* helpers_ = nullptr;  // null: nothing was handed over
  std::shared_ptr<Work> work_;
  PoolSizes alike_;  // of the caller, as it began
};

}  // namespace mm
