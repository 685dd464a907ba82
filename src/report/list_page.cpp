#include "report/list_page.hpp"

#include "messages/message.hpp"
#include "report/list_facts.hpp"
#include "report/list_words.hpp"
#include "report/page.hpp"

namespace mm {

namespace {

void tell_attributes(Page& page, const Offer& offer, const Schema& schema, bool of_kind, std::size_t indent) {
  for (const AttributeDef* attribute : stated(schema, of_kind)) {
    std::string line = name_text(offer, attribute->name);
    const std::size_t end = line.size();
    line += ": " + type_words(offer, *attribute);
    if (const std::string range = range_words(offer, *attribute); !range.empty()) line += ", " + range;
    if (!attribute->doc.empty()) line += "; " + printable(attribute->doc);
    if (!attribute->measure.empty()) line += "; measure with " + printable(attribute->measure);
    page.text(line, indent, indent + 4, Tone::bold, end);
  }
}

void tell_kind(Page& page, const Offer& offer, const KindDef& kind) {
  page.blank();
  page.text("kind " + head_words(offer, kind.name, kind.doc, kind.span), 0, 4, Tone::bold,
            5 + name_text(offer, kind.name).size());
  tell_attributes(page, offer, kind.schema, true, 2);
  for (const FaceDef& face : kind.faces) {
    const InterfaceDef& interface = offer.model.interfaces[face.interface];
    const SideDef& side = interface.sides[face.side];
    page.text("face " + name_text(offer, face.name) + ": the " + name_text(offer, side.name) + " side of " +
                  name_text(offer, interface.name) + (face.optional ? ", may stay open" : ""),
              2, 6);
    tell_attributes(page, offer, side.schema, false, 4);
  }
}

void tell_interface(Page& page, const Offer& offer, const InterfaceDef& interface) {
  page.blank();
  page.text("interface " + head_words(offer, interface.name, interface.doc, interface.span), 0, 4, Tone::bold,
            10 + name_text(offer, interface.name).size());
  for (const SideDef& side : interface.sides) {
    std::vector<std::string> kinds;
    for (const KindDef& kind : offer.model.kinds)
      for (const FaceDef& face : kind.faces)
        if (&offer.model.interfaces[face.interface].sides[face.side] == &side)
          kinds.push_back(name_text(offer, kind.name) + "." + name_text(offer, face.name));
    page.text("side " + name_text(offer, side.name) + (side.many ? " (any number)" : "") +
                  (kinds.empty() ? "" : ", on " + listed(kinds)),
              2, 6);
    tell_attributes(page, offer, side.schema, false, 4);
  }
  std::vector<std::string> names;
  for (const RequirementId requirement : interface.requirements)
    names.push_back(name_text(offer, offer.model.requirements[requirement].name));
  if (!names.empty()) page.text("checks " + listed(names), 2, 6);
}

}  // namespace

std::vector<std::string> offered_names(const Offer& offer) {
  std::vector<std::string> out;
  for (const KindDef& kind : offer.model.kinds) out.emplace_back(offer.names.text(kind.name));
  for (const InterfaceDef& interface : offer.model.interfaces)
    out.emplace_back(offer.names.text(interface.name));
  for (std::string& name : fact_names(offer)) out.push_back(std::move(name));
  return out;
}

std::string list_page(const Offer& offer, const std::vector<std::string>& wanted, bool colour) {
  Page page(colour);
  const auto kinds = by_name(offer, offer.model.kinds, wanted);
  const auto interfaces = by_name(offer, offer.model.interfaces, wanted);
  if (!wanted.empty()) {
    for (const KindDef* kind : kinds) tell_kind(page, offer, *kind);
    for (const InterfaceDef* interface : interfaces) tell_interface(page, offer, *interface);
    tell_facts(page, offer, wanted);
    return page.str();
  }
  if (!kinds.empty()) page.heading("KINDS OF PART");
  for (const KindDef* kind : kinds)
    page.text(head_words(offer, kind->name, kind->doc, kind->span), 1, 4, Tone::bold,
              name_text(offer, kind->name).size());
  if (!interfaces.empty()) page.heading("INTERFACES: HOW FACES MATE");
  for (const InterfaceDef* interface : interfaces)
    page.text(head_words(offer, interface->name, interface->doc, interface->span), 1, 4, Tone::bold,
              name_text(offer, interface->name).size());
  const bool facts = name_facts(page, offer);
  page.blank();
  if (kinds.empty() && interfaces.empty())
    page.text(facts ? "\"list FILE NAME\" tells one of them in full."
                    : "No kind, interface, size, choice, table or formula is declared.");
  else
    page.text("\"list FILE NAME\" tells what a part of that kind may state, and how to measure it.");
  return page.str();
}

}  // namespace mm
