// Builds and trials as nodes to lay out.
#include <algorithm>

#include "syntax/print_nodes.hpp"

namespace mm {

PrintNode Wording::node(const PlaceDecl& d) const {
  return simple(d.span, "place " + list(d.names) + (d.hand ? " hand " + name(*d.hand) : ""));
}

PrintNode Wording::node(const FitDecl& d) const {
  std::string head = "fit " + name(d.name) + ": " + (d.is_slot ? "one of " : "") + list(d.parts);
  std::uint32_t head_end = d.parts.back().span.end;
  if (!d.places.empty()) {
    head += std::string(1, soft_break) + "at " + list(d.places);
    head_end = d.places.back().span.end;
  }
  if (d.each) {
    head += " each " + quantity(*d.each);
    head_end = d.each->end;
  }
  if (d.overrides.empty()) return simple(d.span, std::move(head));
  return block(d.span, std::move(head), head_end, assignments(d.overrides));
}

PrintNode Wording::node(const JoinDecl& d) const {
  std::string at;
  if (!d.places.empty()) at.append(" at ").append(list(d.places));
  if (!d.interface) {
    const std::string label = d.label ? name(*d.label) + ": " : "";
    return simple(d.span, "join " + label + paths(d.faces, " + ") + at);
  }
  std::vector<PrintNode> items;
  for (const auto& fill : d.fills) {
    const Span last = fill.faces.back().span;
    items.push_back(simple({last.file, fill.side.span.begin, last.end},
                           name(fill.side) + " " + paths(fill.faces, std::string(",") + soft_break)));
  }
  std::string head = "join " + name(*d.interface);
  if (d.label) head.append(" ").append(name(*d.label));
  PrintNode result =
      block(d.span, std::move(head), d.label ? d.label->span.end : d.interface->span.end, std::move(items));
  result.tail = at;
  return result;
}

PrintNode Wording::node(const ReworkDecl& d) const {
  PrintNode result = block(d.span, "rework " + name(d.name) + text(d.doc) + " on " + path(d.target),
                           d.target.span.end, assignments(d.assignments));
  if (d.by) result.tail = (d.done ? " done by" : " planned by") + text(d.by);
  return result;
}

PrintNode Wording::node(const WaiveDecl& d) const {
  std::string head = "waive " + name(d.requirement) + (d.on ? " on " + path(*d.on) : "");
  if (d.because) head += std::string(1, soft_break) + "because " + text(*d.because);
  if (d.by) head += std::string(1, soft_break) + "by " + text(*d.by);
  if (d.until) head += std::string(1, soft_break) + "until " + date(*d.until);
  return simple(d.span, std::move(head));
}

PrintNode Wording::node(const StageDecl& d) const {
  return simple(d.span, "stage " + name(d.name) + text(d.doc) + soft_break + "uses " + list(d.uses));
}

PrintNode Wording::node(const ExpectDecl& d) const {
  if (!d.verdict) return simple(d.span, "expect that " + expression(d.that));
  return simple(
      d.span, "expect " + name(*d.verdict) + " " + name(*d.requirement) + (d.on ? " on " + path(*d.on) : ""));
}

PrintNode Wording::node(const BuildDecl& d) const {
  std::vector<PrintNode> items;
  add(items, d.uses);
  add(items, d.parts);
  add(items, d.places);
  add(items, d.fits);
  add(items, d.joins);
  add(items, d.reworks);
  add(items, d.waivers);
  add(items, d.stages);
  add(items, d.expects);
  const std::uint32_t head_end = d.title ? d.title->span.end : d.name->span.end;
  return block(d.span, (d.is_trial ? "trial" : "build " + name(*d.name)) + text(d.title), head_end,
               std::move(items));
}

}  // namespace mm
