#include "model/build.hpp"

namespace mm {

std::string entity_name(const Model& model, const Build& build, EntityId entity, const Names& names) {
  const Entity& e = build.entities[entity];
  const Instance& instance = build.instances[e.instance];
  std::string out(names.text(instance.fit_name));
  if (instance.place) out += "." + std::string(names.text(instance.place));
  if (e.face != no_reg) out += "." + std::string(names.text(model.kinds[instance.kind].faces[e.face].name));
  return out;
}

const Schema& schema_of(const Model& model, const Build& build, EntityId entity) {
  const Entity& e = build.entities[entity];
  const KindDef& kind = model.kinds[build.instances[e.instance].kind];
  if (e.face == no_reg) return kind.schema;
  const FaceDef& face = kind.faces[e.face];
  return model.interfaces[face.interface].sides[face.side].schema;
}

}  // namespace mm
