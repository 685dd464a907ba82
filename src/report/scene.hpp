// What a report reads: one judged build with everything it came from. Nothing here is changed by a report.
#pragma once
#include <cstdint>
#include <string>

#include "evaluate/results.hpp"
#include "messages/message.hpp"

namespace mm {

struct Scene {
  const Project& project;
  const Build& build;
  const Results& results;
  const Tree& tree;
  const Sources& sources;
  const Names& names;
  std::string today;                  // "2026-03-14"; empty: waivers do not expire
  std::size_t max_choices = 500'000;  // steps that a search for a way out may take

  const Model& model() const { return project.model; }
  const RequirementDef& requirement(const Finding& finding) const {
    return project.model.requirements[finding.requirement];
  }
  /// A name, safe to print; "" for none.
  std::string text(Symbol symbol) const { return symbol ? printable(names.text(symbol)) : std::string(); }
};

/// "file:line", with the build file's own folder left out where `short_path`. "" without a place.
std::string where(const Scene& scene, Span span, bool short_path = false);

/// "a.size "185" gives no load (tyres.parts:4): read the whole size off the part", safe to print; "" without
/// a reason.
std::string reason_text(const Scene& scene, const Outcome& outcome);

/// "build market_day_van" or "trial \"...\"".
std::string build_name(const Scene& scene);

/// The entities that a finding binds, in order, many sides flattened.
std::vector<EntityId> bound_entities(const Finding& finding);

/// "wheel.mount + hub.face": entities without the place that they share ("" for a requirement about no part).
/// The parts alone ("wheel + hub") where `faces` is false; of more than `most` only the first, and how many
/// more.
std::string subject_text(const Scene& scene, const Finding& finding, bool faces = true,
                         std::size_t most = SIZE_MAX);

/// Numbers that are equal where that text is. Of one finding after another: many of one joint come together,
/// and what is the same for all of them is worked out once.
class SubjectHash {
 public:
  explicit SubjectHash(const Scene& scene, bool faces = true) : scene_(scene), faces_(faces) {}
  std::uint64_t of(const Finding& finding);

 private:
  const Scene& scene_;
  bool faces_;
  const Binding* binding_ = nullptr;  // that `hash_` is of
  std::uint64_t hash_ = 0;
};

/// "wheel.rear_left.rim", or without the place.
std::string entity_text(const Scene& scene, EntityId entity, bool with_place);

/// Names by which `why ... on SUBJECT` finds it: fit names, fit.place, joint label, place.
std::vector<std::string> subject_names(const Scene& scene, const Finding& finding);

/// "alloy_15" of candidate `candidate` of a slot.
std::string candidate_name(const Scene& scene, std::uint32_t fit, std::uint32_t candidate);

}  // namespace mm
