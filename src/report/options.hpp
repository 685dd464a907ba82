// What a finding comes to, candidate by candidate: where they say the same it is told once, else each is told
// with the candidates that it holds for.
#pragma once
#include <functional>

#include "report/summary.hpp"

namespace mm {

/// Of an option, the case that the finding's word speaks of: as it is, or after all planned work.
std::size_t shown_case_of(const Summary& summary, const Option& option);

/// "r1", "m2 and h1", or "m2 with h1"; "" where nothing is chosen.
std::string option_name(const Scene& scene, const Option& option, std::string_view last = " and ");

/// "with r1 or r2", or how many of the choices.
std::string with_candidates(const std::vector<std::string>& names);

/// How badly it misses: the least that it is short by, in base units; `unknown` without a margin.
double least_miss(const Outcome& outcome, double unknown = 0);

/// A text for an option, as it stands in one of its cases; "" says nothing of it.
using OptionText = std::function<std::string(const Option& option, std::size_t case_index)>;

/// "2 more with r1; 4 more with r2", or "2 more" where all say so. The case alone where there are no options.
std::string by_option(const Scene& scene, const Summary& summary, const OptionText& text);
/// The same, and whether it is not one text for all.
std::pair<std::string, bool> told_apart(const Scene& scene, const Summary& summary, const OptionText& text);
/// ", after O1", where what the word says comes with planned work alone.
std::string only_after(const Summary& summary, Word word);
/// ", with high": the candidates with which a finding has this word, where it has not with all; else "".
std::string only_with(const Scene& scene, const Summary& summary, Word word);

/// The margin over all options: the least to spare, or the least that it misses by; "" where they have no
/// such thing in common.
std::string least_margin(const Scene& scene, const Summary& summary);

/// The option that misses least, of a finding that fails with each; null where all miss alike.
const Option* nearest_option(const Scene& scene, const Summary& summary);

}  // namespace mm
