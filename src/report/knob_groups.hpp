// What depends on a setting, gathered by the knob that sets it.
#pragma once
#include "report/check_sections.hpp"

namespace mm {

/// One outcome that is a matter of the setting: of which candidates, and of which state of the planned work.
struct Setting {
  enum class State : std::uint8_t { always, as_is, later };
  const Outcome* outcome = nullptr;
  State state = State::always;
  std::string candidate;           // "m2 and h1", or ""
  std::vector<std::string> knobs;  // "valve.knee (brakes.build:12)"
  const Option* option = nullptr;  // null where nothing is chosen or planned
};

/// With each candidate, as it is and after the planned work where that makes other settings fit.
std::vector<Setting> settings_of(const CheckView& view, const Summary& summary);

/// The different sets of knobs among these, in order.
std::vector<std::vector<std::string>> knobs_of(const std::vector<Setting>& settings);

/// "4.9 mm and 5 mm surely fit with mc_a; 5.4 mm surely fits with mc_b" of what these knobs set; "" where no
/// setting is known to fit for sure, unless `always`. Second: it is not the same with each candidate.
std::pair<std::string, bool> windows_text(const Scene& scene, const Summary& summary,
                                          const std::vector<Setting>& settings,
                                          const std::vector<std::string>& knobs, bool always);

/// What one knob, or several together, set.
struct KnobGroup {
  struct Member {
    Setting setting;
    std::string requirement;
  };
  std::vector<std::string> knobs;
  std::vector<std::string> names = {};     // of the requirements, with their windows
  std::vector<Member> members = {};        // of these, with each candidate
  bool by_candidate = false;               // some of them differ with the candidate
  std::vector<std::string> open = {};      // the requirements for which no range of settings is sure
  std::vector<std::string> at_times = {};  // of those that set something with some candidates only
  std::vector<Setting> with = {};          // these
};

std::vector<KnobGroup> knob_groups(const CheckView& view, const std::vector<const Summary*>& summaries);

/// "27.5 mm to 28.5 mm surely fits all of them", or that nothing does and what to do first; "" where there is
/// nothing to put together.
std::string shared_text(const Scene& scene, const KnobGroup& group);
/// "with some candidates also leg (5 MPa to 7 MPa surely fits, with big)", and that one setting does not do
/// for all then; "" without any.
std::string at_times_text(const Scene& scene, const KnobGroup& group);
/// ". No one range of settings is known to fit high for sure; measure first: pin.length", or "".
std::string open_text(const Scene& scene, const KnobGroup& group);

}  // namespace mm
