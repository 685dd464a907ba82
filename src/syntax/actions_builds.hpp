// Actions of builds and trials. Seen by parse.cpp only.
#pragma once
#include "syntax/actions_rules.hpp"

namespace mm {

template <typename T>
void put(std::vector<T>& list, T& node, Span at) {
  node.span = at;
  list.push_back(std::move(node));
}

MM_ADD(place_name, PlaceDecl, names, b.name(at));
MM_SET(place_hand, PlaceDecl, hand, b.name(at));
MM_CONSTRUCT(place, PlaceDecl) { put(b.get<BuildDecl>().places, node, at); }
MM_END;

MM_SET(fit_name, FitDecl, name, b.name(at));
MM_ADD(fit_part, FitDecl, parts, b.name(at));
MM_SET(slot_of, FitDecl, is_slot, true);
MM_ADD(fit_place, FitDecl, places, b.name(at));
MM_SET(each_amount, FitDecl, each, b.take_quantity());
MM_CONSTRUCT(fit, FitDecl) {
  node.overrides = b.take_assignments();
  put(b.get<BuildDecl>().fits, node, at);
}
MM_END;

MM_ON(join_first) { b.get<JoinDecl>().faces.push_back(b.take_path(at)); }
MM_END;
MM_ON(join_colon) {
  JoinDecl& join = b.get<JoinDecl>();
  join.label = one_name(b, join.faces.front());
  join.faces.clear();
}
MM_END;
MM_ADD(join_second, JoinDecl, faces, b.take_path(at));
MM_ADD(join_place, JoinDecl, places, b.name(at));
MM_ON(join_block_start) {
  JoinDecl& join = b.get<JoinDecl>();
  join.interface = one_name(b, join.faces.front());
  join.faces.clear();
}
MM_END;
MM_SET(join_label, JoinDecl, label, b.name(at));
MM_ADD(fill_side, JoinDecl, fills, (JoinDecl::SideFill{b.name(at), {}}));
MM_ADD(fill_face, JoinDecl, fills.back().faces, b.take_path(at));
MM_RECOVERING(fill);
MM_CONSTRUCT(join, JoinDecl) { put(b.get<BuildDecl>().joins, node, at); }
MM_END;

MM_SET(rework_name, ReworkDecl, name, b.name(at));
MM_SET(rework_doc, ReworkDecl, doc, b.literal(text));
MM_SET(rework_target, ReworkDecl, target, b.take_path(at));
MM_SET(done_word, ReworkDecl, done, true);
MM_SET(by_text, ReworkDecl, by, b.literal(text));
MM_HEAD(rework_head);
MM_CONSTRUCT(rework, ReworkDecl) {
  node.assignments = b.take_assignments();
  put(b.get<BuildDecl>().reworks, node, at);
}
MM_END;

MM_SET(waive_requirement, WaiveDecl, requirement, b.name(at));
MM_SET(waive_on, WaiveDecl, on, b.take_path(at));
MM_SET(waive_because, WaiveDecl, because, b.literal(text));
MM_SET(waive_by, WaiveDecl, by, b.literal(text));
MM_SET(waive_until, WaiveDecl, until, b.date(text));
MM_CONSTRUCT(waive, WaiveDecl) { put(b.get<BuildDecl>().waivers, node, at); }
MM_END;

MM_SET(stage_name, StageDecl, name, b.name(at));
MM_SET(stage_doc, StageDecl, doc, b.literal(text));
MM_ADD(stage_use, StageDecl, uses, b.name(at));
MM_CONSTRUCT(stage, StageDecl) { put(b.get<BuildDecl>().stages, node, at); }
MM_END;

MM_SET(expect_that, ExpectDecl, that, b.pop());
MM_SET(expect_verdict, ExpectDecl, verdict, b.name(at));
MM_SET(expect_requirement, ExpectDecl, requirement, b.name(at));
MM_SET(expect_on, ExpectDecl, on, b.take_path(at));
MM_CONSTRUCT(expect, ExpectDecl) { put(b.get<BuildDecl>().expects, node, at); }
MM_END;

MM_SET(build_name, BuildDecl, name, b.name(at));
MM_SET(build_title, BuildDecl, title, b.literal(text));
MM_HEAD(build_head);
MM_RECOVERING(build_statement);
MM_CONSTRUCT(build, BuildDecl) { declare(b, node, at); }
MM_END;
MM_SET(trial_title, BuildDecl, title, b.literal(text));
MM_HEAD(trial_head);
MM_RECOVERING(trial_statement);
MM_CONSTRUCT(trial, BuildDecl) {
  node.is_trial = true;
  declare(b, node, at);
}
MM_END;

}  // namespace mm
