#include "report/json_check_lists.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "report/numbers.hpp"
#include "report/planned.hpp"
#include "report/slots.hpp"

namespace mm {

namespace {

Json lines_json(const std::vector<SlotLine>& lines) {
  Json out = Json::array();
  for (const SlotLine& line : lines)
    out.push_back(
        {{"requirement", line.name}, {"size", text_or_null(line.size)}, {"findings", line.findings}});
  return out;
}

Json partners_json(const Scene& scene, const std::vector<Partners>& partners) {
  Json out = Json::array();
  for (const Partners& slot : partners) {
    const auto names = [&](Partners::Standing standing) {
      Json list = Json::array();
      for (const std::uint32_t c : slot.of(standing)) list.push_back(candidate_name(scene, slot.fit, c));
      return list;
    };
    out.push_back({{"fit", scene.text(scene.build.fits[slot.fit].name)},
                   {"goes", names(Partners::Standing::goes)},
                   {"may_go", names(Partners::Standing::may_go)},
                   {"does_not", names(Partners::Standing::does_not)},
                   {"requirements", slot.names}});
  }
  return out;
}

Json effects_json(const Scene& scene, const std::vector<PlannedEffect>& effects) {
  static constexpr std::string_view verbs[] = {"settles", "may_settle", "doubts", "breaks", "keeps"};
  Json out = Json::array();
  for (const PlannedEffect& effect : effects) {
    Json findings = Json::array();
    for (const Summary* member : effect.entry.members) findings.push_back(member->finding);
    out.push_back({{"with", rework_names(scene, effect.with)},
                   {"what", verbs[static_cast<std::size_t>(effect.kind)]},
                   {"candidates", effect.candidates},
                   {"findings", std::move(findings)}});
  }
  return out;
}

}  // namespace

Json slots_json(const CheckView& view, const std::vector<SlotView>& slots) {
  const Scene& scene = view.scene;
  Json out = Json::array();
  for (const SlotView& slot : slots) {
    const Fit& fit = scene.build.fits[slot.fit];
    Json candidates = Json::array();
    for (std::uint32_t c = 0; c < fit.candidates.size(); ++c) {
      Json candidate;
      candidate["part"] = candidate_name(scene, slot.fit, c);
      candidate["price"] = text_or_null(price_of(scene, slot.fit, c));
      const Against none, &against = slot.matters ? slot.candidates[c] : none;
      candidate["verdict"] = slot.matters ? Json(verdict_of(against)) : Json(nullptr);
      const std::pair<const char*, const std::vector<SlotLine>*> lists[] = {
          {"no", &against.no},           {"should_not", &against.should}, {"planned", &against.after},
          {"spoiled", &against.breaks},  {"doubted", &against.doubts},    {"may_settle", &against.may_settle},
          {"unknown", &against.unknown}, {"setting", &against.setting},   {"needs_also", &against.also},
          {"caution", &against.caution}, {"others", &against.with},       {"waived", &against.waived}};
      for (const auto& [name, lines] : lists) candidate[name] = lines_json(*lines);
      candidate["partners"] = partners_json(scene, against.partners);
      candidates.push_back(std::move(candidate));
    }
    out.push_back({{"fit", scene.text(fit.name)},
                   {"place", place_json(scene, fit.span)},
                   {"matters", slot.matters},
                   {"common", slot.common},
                   {"candidates", std::move(candidates)}});
  }
  return out;
}

Json reworks_json(const CheckView& view) {
  const Scene& scene = view.scene;
  const auto works = planned_work(scene, view.summaries);
  Json out = Json::array();
  for (std::uint32_t r = 0; r < scene.build.reworks.size(); ++r) {
    const Rework& rework = scene.build.reworks[r];
    const auto work = std::find_if(works.begin(), works.end(), [&](const auto& w) { return w.rework == r; });
    out.push_back({{"name", scene.text(rework.name)},
                   {"doc", text_or_null(printable(rework.doc))},
                   {"by", text_or_null(printable(rework.by))},
                   {"done", rework.done},
                   {"place", place_json(scene, rework.span)},
                   {"effects", work == works.end() ? Json::array() : effects_json(scene, work->effects)}});
  }
  return out;
}

Json find_out_json(const CheckView& view) {
  const Scene& scene = view.scene;
  Json out = Json::array();
  for (const UnknownGroup& group : group_unknowns(scene, view.summaries).groups) {
    const AttributeDef& def = attribute_of(scene, group);
    const Given* given = given_of(scene, group.cell);
    const Unit unit = shown_unit(scene, def, given);
    const WaitCount count = count_waits({&group});
    Json places = Json::array(), findings = Json::array(), waits = Json::array();
    for (const Symbol place : group.places) places.push_back(scene.text(place));
    for (const Waiting& waiting : group.waiting) {
      if (findings.empty() || findings.back() != waiting.summary->finding)
        findings.push_back(waiting.summary->finding);
      waits.push_back({{"finding", waiting.summary->finding},
                       {"with", text_or_null(waiting.candidate)},
                       {"state", text_or_null(waiting.state)},
                       {"answers", text_or_null(answers_text(scene, *waiting.blame))}});
    }
    Json value;
    value["name"] = group_name(scene, group);
    value["places"] = std::move(places);
    value["missing"] = group.missing;
    value["written"] = given != nullptr ? Json(as_written(scene, group.cell)) : Json(nullptr);
    value["place"] = given != nullptr ? place_json(scene, given->span) : Json(nullptr);
    value["doc"] = text_or_null(printable(def.doc));
    value["measure"] = text_or_null(printable(def.measure));
    value["to"] = group.needed_half_width && !group.missing
                      ? Json(significant(in_unit(*group.needed_half_width, unit, true), 2, Rounding::down) +
                             unit_suffix(unit, true))
                      : Json(nullptr);
    value["answers"] = text_or_null(group_answers(scene, group).text);
    value["waiting"] = {{"needs", count.needs}, {"shoulds", count.shoulds}, {"others", count.others}};
    value["findings"] = std::move(findings);
    value["waits"] = std::move(waits);
    out.push_back(std::move(value));
  }
  return out;
}

}  // namespace mm
