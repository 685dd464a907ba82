// Limits of one value, the others over their whole ranges.
#pragma once
#include "evaluate/slack.hpp"
#include "evaluate/value_set.hpp"

namespace mm {

/// In base units. From/to where the test surely holds, and where it surely fails (fails below `fails_to` and
/// above `fails_from`); none where there is no such limit or the test does not move one way with the value.
struct Limits {
  std::optional<Limit> fits_from, fits_to, fails_from, fails_to;
  bool always = false, never = false;  // holds, or fails, whatever the value
};

enum class LimitsWanted : std::uint8_t { fits, fails, both };

/// Over the present box, which is left as it was. `slacks` were taken for it.
Limits find_limits(Bench& bench, const Variables& variables, const Slacks& slacks, std::size_t variable,
                   LimitsWanted wanted);
/// Of some of the slacks alone.
Limits find_limits(Bench& bench, const Variables& variables, const Slacks& slacks, std::span<const Slack> of,
                   std::size_t variable, LimitsWanted wanted);

SureValues sure_values(const Limits& limits);

}  // namespace mm
