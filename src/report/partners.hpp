// Which candidates of two slots go together.
#pragma once
#include "report/summary.hpp"

namespace mm {

/// What the candidates of one other slot come to together with this one, over the requirements that read both
/// slots and no third.
struct Partners {
  enum class Standing : std::uint8_t { goes, may_go, does_not };
  std::uint32_t fit = 0;           // index into Build::fits
  std::vector<Standing> worst;     // by candidate
  std::vector<std::string> names;  // of the requirements
  std::vector<bool> unfit = {};    // by candidate: it does not fit, whatever is chosen
  std::vector<std::uint32_t> of(Standing standing) const;
  /// They are told apart by cautions alone.
  bool goes_with_all() const { return of(Standing::goes).size() == worst.size(); }
};

/// Takes in a requirement of which one candidate's verdict turns on another slot; false for one that reads a
/// third slot too, or of which not all was tried.
bool add_partners(const Scene& scene, const Summary& summary, std::pair<std::uint32_t, std::uint32_t> own,
                  const std::string& name, std::vector<Partners>& out);

/// "with t13, not with t14 (bead_diameter)"
std::string partners_text(const Scene& scene, const Partners& partners);

}  // namespace mm
