// The build of a project: parts of its kinds, fitted in places, and joined.
#include "make.hpp"
#include "make_values.hpp"

namespace mm_proof {

namespace {

class BuildMaker {
 public:
  BuildMaker(Scene& scene, Draw& draw, const Fragment& fragment)
      : scene_(scene), draw_(draw), fragment_(fragment) {}

  void run() {
    scene_.places = {"here", "there"};
    const int pairs = draw_.between(1, 3);
    std::vector<int> alphas, betas, gammas;
    const auto place = [&]() -> std::string { return draw_.chance(70) ? draw_.of(scene_.places) : ""; };
    for (int i = 0; i < pairs; ++i) {
      alphas.push_back(fit("a" + std::to_string(i), 0, draw_.chance(20) ? 2 : 1, place()));
      betas.push_back(fit("b" + std::to_string(i), 1, draw_.chance(25) ? draw_.between(2, 3) : 1, place()));
      if (i == 0 || draw_.chance(80) || !fragment_.open_faces)
        join(0, {{{alphas.back(), 0}}, {{betas.back(), 0}}});
      if (i > 0 && draw_.chance(80))
        join(1, {{{alphas[static_cast<std::size_t>(i)], 1}}, {{alphas[static_cast<std::size_t>(i) - 1], 2}}});
    }
    const int base = fit("d", 3, 1, place());
    std::vector<EntityRef> layers;
    const int count = draw_.between(1, 3);
    for (int i = 0; i < count; ++i) layers.push_back({fit("g" + std::to_string(i), 2, 1, place()), 0});
    join(2, {{{base, 0}}, layers});
  }

 private:
  Part part(const std::string& name, int kind) {
    const Kind& of = scene_.kinds[static_cast<std::size_t>(kind)];
    Part out{name, kind, {}};
    const auto sheet = [&](int schema) {
      std::vector<Value> values;
      for (const AttributeDef& def : scene_.schemas[static_cast<std::size_t>(schema)].attributes) {
        values.push_back(make_value(draw_, scene_, fragment_, def));
      }
      out.values.push_back(std::move(values));
    };
    sheet(of.schema);
    for (const Face& face : of.faces) {
      sheet(scene_.interfaces[static_cast<std::size_t>(face.interface)]
                .sides[static_cast<std::size_t>(face.side)]
                .schema);
    }
    return out;
  }

  int fit(const std::string& name, int kind, int candidates, const std::string& place) {
    Fit out{name, {}};
    for (int c = 0; c < candidates; ++c) {
      out.candidates.push_back(static_cast<int>(scene_.parts.size()));
      scene_.parts.push_back(part("p" + std::to_string(scene_.parts.size()), kind));
    }
    Instance instance{
        place.empty() ? name : name + "." + place, static_cast<int>(scene_.fits.size()), kind, place, {}};
    instance.joints.assign(scene_.kinds[static_cast<std::size_t>(kind)].faces.size(), -1);
    scene_.fits.push_back(out);
    scene_.instances.push_back(instance);
    return static_cast<int>(scene_.instances.size()) - 1;
  }

  void join(int interface, std::vector<std::vector<EntityRef>> sides) {
    for (const auto& side : sides) {
      for (const EntityRef e : side) {
        scene_.instances[static_cast<std::size_t>(e.instance)].joints[static_cast<std::size_t>(e.face)] =
            static_cast<int>(scene_.joints.size());
      }
    }
    scene_.joints.push_back({interface, std::move(sides), ""});
  }

  Scene& scene_;
  Draw& draw_;
  const Fragment& fragment_;
};

}  // namespace

void make_build(Scene& scene, Draw& draw, const Fragment& fragment) {
  BuildMaker(scene, draw, fragment).run();
}

}  // namespace mm_proof
