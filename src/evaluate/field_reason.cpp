// Which size it is that does not give the field that a rule asks for.
#include "evaluate/field_reason.hpp"

#include <algorithm>

#include "evaluate/unfold.hpp"

namespace mm {

namespace {

constexpr std::string_view read_it_whole = "read the whole size off the part";

/// The attribute that a register holds; null where it holds no part's value as it stands.
const Op* attribute_in(const Claim::Part& part, Reg reg) {
  for (const Block& block : part.program->blocks)
    for (const Op& op : block.ops)
      if (op.target == reg) return op.code == OpCode::attribute ? &op : nullptr;
  return nullptr;
}

bool may_give(const FormDef& form, Symbol name, std::uint32_t field) {
  return std::any_of(form.written.begin(), form.written.end(),
                     [&](const NamedType& written) { return written.name == name; }) ||
         std::any_of(form.computed.begin(), form.computed.end(),
                     [&](const FormDef::Computed& computed) { return computed.field == field; });
}

}  // namespace

OpenReason field_reason(Bench& bench, const Names& names, const Claim& claim) {
  OpenReason out;
  std::string not_given;  // the first size of which nothing is known
  // what a quantifier's items ask is asked by the claim written out
  const Unfolded unfolded(bench, claim);
  const Claim& plain = unfolded.differs() ? unfolded.claim() : claim;
  each_step(bench.fast, bench, plain, [&](const Claim::Part& part, std::size_t, const Op& op) {
    if (!out.text.empty() || op.code != OpCode::field) return;
    const auto& size = bench.fast.at(op.a);
    if ((bench.fast.at(op.target).state & may_undef) == 0 || (size.state & may_undef) != 0) return;
    const Op* attribute = attribute_in(part, op.a);
    if (attribute == nullptr || !bench.fast.at(attribute->a).entity) return;
    const EntityId entity = bench.fast.at(attribute->a).entity;
    const Model& model = bench.index.model;
    const Build& build = bench.index.build;
    const std::string name =
        entity_name(model, build, entity, names) + "." +
        std::string(names.text(schema_of(model, build, entity).attributes[attribute->payload].name));
    if (size.symbols == nullptr || size.symbols->all || size.symbols->members.empty()) {
      if (not_given.empty()) not_given = "nothing is known of " + name;
      return;
    }
    const DesignationConst& written = model.designation_consts[DesignationConstId{size.symbols->members[0]}];
    const DesignationDef& def = model.designations[written.designation];
    const bool one = size.symbols->members.size() == 1;
    out.text = name + (one ? " \"" + written.text + "\" gives no " : " may give no ") +
               std::string(names.text(def.fields[op.payload].name));
    out.at = build.cells[bench.world.cell(entity, attribute->payload)].given;
    const FormDef& form = def.forms[written.form];
    out.todo =
        one && !may_give(form, def.fields[op.payload].name, op.payload)
            ? "no " + std::string(names.text(form.name)) + " one does; if the part says more, write it whole"
            : std::string(read_it_whole);
  });
  if (out.text.empty() && !not_given.empty()) out.text = not_given;
  if (out.text.empty()) out = {"a size does not give what is asked of it", {}, std::string(read_it_whole)};
  return out;
}

}  // namespace mm
