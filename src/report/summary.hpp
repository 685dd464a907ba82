// One headline word a finding, made from the verdicts of its cases; totals and the exit status of the whole.
// Nothing is judged here: verdicts are only read, and put in words.
#pragma once
#include <array>
#include <deque>
#include <string>
#include <vector>

#include "report/scene.hpp"

namespace mm {

/// Mild to bad. pending: planned reworks change the verdict ("fits after O1"). breaks: a planned rework would
/// turn a fit into a conflict.
enum class Word : std::uint8_t {
  not_applicable,
  fits,
  caution,
  setting,
  unknown,
  choice,
  pending,
  breaks,
  needs_also,
  conflict
};
inline constexpr std::size_t word_count = 10;
std::string_view word_name(Word word);  // as in the JSON: "needs_also"

/// The least set of planned reworks (indices into Build::reworks) after which a verdict is another.
struct PlannedTurn {
  enum class Kind : std::uint8_t { settles, may_settle, doubts, breaks, keeps };
  Kind kind = Kind::settles;
  std::vector<std::uint32_t> reworks;
};

/// What one combination of candidates comes to, with and without the planned reworks.
struct Option {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> choices;  // (fit, candidate); empty without slots
  Word word = Word::unknown;
  std::string text;       // "fits after O1", "conflict (should)", "fits, on a claim"
  std::size_t now = 0;    // index of the case without planned reworks
  std::size_t after = 0;  // index of the case with all of them
  std::vector<std::size_t> cases;
  std::vector<PlannedTurn> turns = {};  // what planned reworks change
  std::string aside = {};               // what else to know of these: "not after all planned work"
  Word today = Word::unknown;           // without the planned reworks
  bool fits_today() const { return today == Word::fits || today == Word::not_applicable; }
};

/// The same today and after the planned work, where what does not apply counts as what fits.
bool same_standing(const Option& a, const Option& b);

/// One a finding, so it is kept small: 32 bytes.
struct Summary {
  std::uint32_t finding = 0;     // index into Results::findings
  std::uint32_t shown_case = 0;  // the case whose numbers stand for the finding
  Symbol hazard;                 // of the requirement, if any
  Word word = Word::unknown;
  Weight weight = Weight::need;
  bool waived : 1 = false;  // a waiver covers it and has not expired
  bool waiver_expired : 1 = false;
  bool partly : 1 = false;       // not all combinations of the candidates were tried
  const char* said = "unknown";  // fixed words, or those of one of its options
  Seldom<Option> options;        // empty where nothing is chosen or planned: one case, and this tells it all

  Summary() = default;
  Summary(const Summary&) = delete;  // a copy would say what the options of the other one say
  Summary(Summary&&) = default;
  Summary& operator=(const Summary&) = delete;
  Summary& operator=(Summary&&) = default;
  ~Summary() = default;

  std::string_view text() const { return said; }
  bool is_hard() const { return !waived && (weight == Weight::need || weight == Weight::should); }
};

/// "fits", "conflict", "unknown", ... of one case, by the requirement's weight.
Word case_word(Verdict verdict, Weight weight);

using Summaries = std::deque<Summary>;  // no large piece of memory is wanted for a large build
Summary summarize(const Scene& scene, std::size_t finding);
Summaries summarize_all(const Scene& scene);

/// Findings that share requirement and verdict and differ only in place. `findings[0]` stands for all.
struct Totals {
  std::array<std::size_t, word_count> words{};
  std::array<std::size_t, word_count> told{};  // of these those that no waiver covers
  std::size_t waived = 0;
  std::size_t half_way = 0;    // of the pending: fit today and after all planned work, not after a part
  std::size_t weak_fits = 0;   // fits that rest on a claim, hearsay or nothing stated
  std::size_t judged() const;  // all but not_applicable
};
Totals count_words(const Summaries& summaries, const Results& results);

/// Is a graph finding a conflict, an unknown, a matter of the choice, or only listed (not_applicable)?
Word graph_word(const GraphFinding& graph);
/// What it would be if its part were chosen: conflict, unknown or not_applicable.
Word graph_word_if_chosen(GraphFinding::What what);

/// A part that is a candidate of several slots, of which there are too few for all of them, or may be.
struct SharedPart {
  std::uint32_t part = 0;            // index into Build::parts
  std::vector<std::uint32_t> slots;  // indices into Build::fits
  std::optional<Rational> there;     // the most pieces that there may be; none: nobody knows
  bool surely = true;                // there are too few, whatever the sheet means
  Rational always = 0, wanted = 0;   // pieces that fits without a choice take; that all of it takes
};
std::vector<SharedPart> parts_in_several_slots(const Scene& scene);
/// Pieces that a fit takes.
Rational pieces_of(const Fit& fit);

}  // namespace mm
