// The cautions at the foot of a page whose requirements touch work that can hurt someone.
#include <algorithm>
#include <set>

#include "report/check_sections.hpp"

namespace mm {

namespace {

struct HazardRow {
  std::string_view word, text;
};

constexpr HazardRow hazard_rows[] = {
    {"axle_retention", "Axle retention: new fasteners, a torque wrench, a check after the first miles."},
    {"brakes", "Brakes: pressure-test every joint; prove them at walking pace, off the road."},
    {"lifting", "Lifting: never under a load on a jack; use stands and slings rated for it."},
    {"steering", "Steering: check full lock at bump and droop for bind; new pins and lock nuts."},
    {"welding", "Welding: for a qualified welder, with inspection; fire, fumes and fuel apart."},
};

}  // namespace

std::vector<std::string> caution_texts(const CheckView& view) {
  std::set<std::string> touched;
  for (const Summary& summary : view.summaries)
    if (summary.hazard && summary.word != Word::not_applicable)
      touched.insert(std::string(view.scene.names.text(summary.hazard)));
  std::vector<std::string> out, others;
  for (std::string word : touched) {
    const auto* row = std::find_if(std::begin(hazard_rows), std::end(hazard_rows),
                                   [&](const HazardRow& r) { return r.word == word; });
    if (row != std::end(hazard_rows)) {
      out.emplace_back(row->text);
      continue;
    }
    std::replace(word.begin(), word.end(), '_', ' ');
    others.push_back(printable(word));
  }
  if (!others.empty()) out.push_back("Marked as a hazard by the rules: " + listed(others) + ".");
  if (!out.empty())
    out.emplace_back(
        "matchmark compares declared dimensions, not strength or workmanship. Follow local codes, and have "
        "this work done or checked by somebody licensed for it.");
  return out;
}

void hazards_section(Page& page, const CheckView& view) {
  const auto texts = caution_texts(view);
  if (texts.empty()) return;
  page.heading("TAKE CARE");
  for (const std::string& text : texts) page.text(text, 1, 3);
}

}  // namespace mm
