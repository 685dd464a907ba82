#include "report/partners.hpp"

#include <algorithm>

#include "report/page.hpp"

namespace mm {

namespace {

Partners::Standing standing_of(const Option& option, Weight weight) {
  using Standing = Partners::Standing;
  if (option.word <= Word::caution) return Standing::goes;
  return option.word == Word::conflict && weight == Weight::need ? Standing::does_not : Standing::may_go;
}

}  // namespace

bool add_partners(const Scene& scene, const Summary& summary, std::pair<std::uint32_t, std::uint32_t> own,
                  const std::string& name, std::vector<Partners>& out) {
  if (summary.partly || summary.options.front().choices.size() != 2) return false;
  for (const Option& option : summary.options) {
    const bool first = option.choices[0] == own;
    if (!first && option.choices[1] != own) continue;
    const auto [fit, candidate] = option.choices[first ? 1 : 0];
    auto at = std::find_if(out.begin(), out.end(), [&, f = fit](const Partners& p) { return p.fit == f; });
    if (at == out.end()) {
      const std::size_t count = scene.build.fits[fit].candidates.size();
      at = out.insert(out.end(), {fit, std::vector(count, Partners::Standing::goes), {}});
    }
    at->worst[candidate] = std::max(at->worst[candidate], standing_of(option, summary.weight));
    if (std::find(at->names.begin(), at->names.end(), name) == at->names.end()) at->names.push_back(name);
  }
  return true;
}

std::vector<std::uint32_t> Partners::of(Standing standing) const {
  std::vector<std::uint32_t> out;
  for (std::uint32_t c = 0; c < worst.size(); ++c)
    if (worst[c] == standing) out.push_back(c);
  return out;
}

std::string partners_text(const Scene& scene, const Partners& partners) {
  constexpr std::size_t most_named = 4;
  using Standing = Partners::Standing;
  std::vector<std::string> out;
  const std::pair<Standing, std::string_view> heads[] = {
      {Standing::goes, "with "}, {Standing::may_go, "perhaps with "}, {Standing::does_not, "not with "}};
  for (const auto& [standing, head] : heads) {
    std::vector<std::string> names;
    for (const std::uint32_t c : partners.of(standing))
      names.push_back(candidate_name(scene, partners.fit, c) +
                      (standing != Standing::does_not && c < partners.unfit.size() && partners.unfit[c]
                           ? " (which does not fit)"
                           : ""));
    if (names.size() > most_named + 1) {
      const std::size_t more = names.size() - most_named;
      names.resize(most_named);
      names.push_back(std::to_string(more) + " more");
    }
    if (!names.empty()) out.push_back(std::string(head) + listed(names, " or "));
  }
  return listed(out, ", ") + " (" + listed(partners.names) + ")";
}

}  // namespace mm
