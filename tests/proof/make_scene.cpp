// The whole project: kinds alpha, beta (joined in pairs), gamma on delta (a stack), alphas in a chain.
#include "make.hpp"

namespace mm_proof {

namespace {

constexpr Dim ratio{}, length{1, 0}, area{2, 0}, turn{0, 1};

class SceneMaker {
 public:
  SceneMaker(Scene& scene, std::uint64_t seed, const Fragment& fragment)
      : scene_(scene), draw_(seed), fragment_(fragment), maker_(scene, draw_, fragment) {}

  void run() {
    scene_.words = {"oak", "ash", "elm", "fir"};
    scene_.sizes = {{"M6x1", 0, 6, 1, {}},
                    {"M8x1.25", 0, 8, Rational(5, 4), {}},
                    {"M8", 0, 8, Rational(5, 4), {}},
                    {"M8x1", 0, 8, 1, {}},
                    {"0.375-24", 1, Rational(381, 40), Rational(127, 120), 24},
                    {"0.375-24 UNF", 1, Rational(381, 40), Rational(127, 120), 24},
                    {"0.5-13", 1, Rational(127, 10), Rational(127, 65), 13}};
    scene_.written_sizes = static_cast<int>(scene_.sizes.size());
    scene_.sizes.push_back({"M1x1", 0, 1, 1, {}});
    scene_.sizes.push_back({"1-1", 1, Rational(127, 5), Rational(127, 5), 1});
    tables();
    kinds_and_interfaces();
    formulas();
    kind_lets();
    requirements();
    make_build(scene_, draw_, fragment_);
  }

 private:
  int schema(const std::string& name) {
    Schema out;
    out.name = name;
    const int count = draw_.between(3, 5);
    for (int i = 0; i < count; ++i) {
      AttributeDef def;
      const int way = i == 0 ? 0 : draw_.below(12);
      const std::string number = std::to_string(i);
      if (way < 4) {
        def = {"len" + number, Sort::number, length, false, {}, {}, {}, {}};
        if (draw_.chance(60)) def.lo = 0, def.hi = 100;
      } else if (way < 6) {
        def = {"rat" + number, Sort::number, ratio, false, {}, {}, {}, {}};
        if (draw_.chance(60)) def.lo = -5, def.hi = 10;
      } else if (way < 7) {
        def = {"ang" + number, Sort::number, turn, false, {}, {}, {}, {}};
        if (draw_.chance(60)) def.lo = -180, def.hi = 360;
      } else if (way < 9) {
        def = {"cnt" + number, Sort::number, ratio, true, {}, {}, {}, {}};
        if (draw_.chance(70)) def.lo = 0, def.hi = 40;
      } else if (way < 10) {
        def = {"yes" + number, Sort::truth, {}, false, {}, {}, {}, {}};
      } else if (way < 11 || !fragment_.sizes) {
        def = {"wood" + number, Sort::word, {}, false, {}, {}, {}, {}};
      } else {
        def = {"size" + number, Sort::size, {}, false, {}, {}, {}, {}};
      }
      if (def.sort == Sort::number && !def.count && !def.dim.plain() && draw_.chance(30)) {
        def.measured = Rational(draw_.between(1, 5), 10);
        def.claimed = Rational(draw_.between(1, 9), 5);
        def.measured->canonicalize();
        def.claimed->canonicalize();
      }
      out.attributes.push_back(def);
    }
    scene_.schemas.push_back(out);
    return static_cast<int>(scene_.schemas.size()) - 1;
  }

  int var(const std::string& name) {
    scene_.var_names.push_back(name);
    return static_cast<int>(scene_.var_names.size()) - 1;
  }

  void kinds_and_interfaces() {
    scene_.interfaces.push_back(
        {"joint",
         {{"left", schema("left"), false, var("left")}, {"right", schema("right"), false, var("right")}},
         {},
         {}});
    scene_.interfaces.push_back(
        {"chain",
         {{"male", schema("male"), false, var("male")}, {"female", schema("female"), false, var("female")}},
         {},
         {}});
    scene_.interfaces.push_back(
        {"stack",
         {{"base", schema("base"), false, var("base")}, {"layer", schema("layer"), true, var("layer")}},
         {},
         {}});
    scene_.kinds.push_back({"alpha",
                            schema("alpha"),
                            {{"nose", 0, 0, true}, {"tail", 1, 0, true}, {"tip", 1, 1, true}},
                            {},
                            var("")});
    scene_.kinds.push_back({"beta", schema("beta"), {{"socket", 0, 1, true}}, {}, var("")});
    scene_.kinds.push_back({"gamma", schema("gamma"), {{"body", 2, 1, true}}, {}, var("")});
    scene_.kinds.push_back({"delta", schema("delta"), {{"seat", 2, 0, true}}, {}, var("")});
  }

  void tables() {
    if (!fragment_.tables) return;
    const auto number = [&](int lo, int hi) {
      Rational out(draw_.between(lo, hi), 2);
      out.canonicalize();
      return out;
    };
    Table steps{
        "steps",
        {{"upto", Sort::number, length}, {"gain", Sort::number, ratio}, {"pad", Sort::number, length}},
        {}};
    Table bands{
        "bands",
        {{"band", Sort::number, length, true}, {"load", Sort::number, ratio}, {"skin", Sort::number, length}},
        {}};
    Table woods{"woods",
                {{"wood", Sort::word, {}},
                 {"other", Sort::word, {}},
                 {"dense", Sort::number, ratio},
                 {"thick", Sort::number, length}},
                {}};
    Rational at = 0;
    for (int i = 0; i < 5; ++i) {
      steps.rows.push_back({{Rational(12 * i + 8), 0, -1}, {number(-6, 12), 0, -1}, {number(1, 40), 0, -1}});
      const Rational to = at + draw_.between(5, 20);
      bands.rows.push_back({{at, to, -1}, {number(-6, 12), 0, -1}, {number(1, 40), 0, -1}});
      at = draw_.chance(70) ? to : Rational(to + 1);
    }
    for (int i = 0; i < 5; ++i) {
      woods.rows.push_back(
          {{0, 0, draw_.below(4)}, {0, 0, draw_.below(4)}, {number(-6, 12), 0, -1}, {number(1, 40), 0, -1}});
    }
    scene_.tables = {steps, bands, woods};
  }

  void formulas() {
    for (int i = 0; i < 2; ++i) {
      Formula formula;
      formula.name = "calc" + std::to_string(i);
      formula.dim = draw_.chance(60) ? length : ratio;
      maker_.entities.clear();
      maker_.lets.clear();
      for (int p = 0; p < 2; ++p) {
        formula.dims.push_back(draw_.chance(60) ? length : ratio);
        formula.names.push_back("arg" + std::to_string(p));
        formula.vars.push_back(var(formula.names.back()));
        maker_.numbers.push_back({formula.vars.back(), formula.dims.back()});
      }
      const std::vector<Formula> before = std::move(scene_.formulas);
      scene_.formulas.clear();
      const std::vector<Table> none = std::move(scene_.tables);
      scene_.tables.clear();
      formula.body = maker_.number(formula.dim, 2);
      scene_.tables = none;
      scene_.formulas = before;
      scene_.formulas.push_back(formula);
      maker_.numbers.clear();
    }
  }

  void kind_lets() {
    for (std::size_t k = 0; k < scene_.kinds.size(); ++k) {
      maker_.entities = {{scene_.kinds[k].self_var, static_cast<int>(k), -1, -1, true}};
      maker_.lets.clear();
      Node* body = maker_.number(draw_.chance(60) ? length : ratio, 2);
      scene_.kinds[k].lets.push_back({"derived" + std::to_string(k), body});
    }
    maker_.entities.clear();
  }

  void lets_and_needs(std::vector<Let>& lets, std::vector<Requirement>& needs, int count) {
    maker_.lets.clear();
    lets.reserve(2);
    for (int i = 0; i < 2; ++i) {
      const Dim dim = maker_.any_dim();
      lets.push_back({"named" + std::to_string(i), maker_.number(dim, 2)});
      maker_.lets.push_back({&lets.back(), Sort::number, dim});
    }
    for (int i = 0; i < count; ++i) {
      Requirement need{"r" + std::to_string(next_++), maker_.truth(fragment_.depth), nullptr};
      if (draw_.chance(20)) need.when = maker_.truth(2);
      if (draw_.chance(10)) need.test = maker_.guarded_comparison(need.when);
      needs.push_back(need);
    }
  }

  void requirements() {
    for (int i = 0; i < 3; ++i) {
      Interface& interface = scene_.interfaces[static_cast<std::size_t>(i)];
      maker_.entities.clear();
      maker_.many.clear();
      for (std::size_t s = 0; s < interface.sides.size(); ++s) {
        if (interface.sides[s].many) {
          maker_.many = {interface.sides[s].var};
        } else {
          maker_.entities.push_back({interface.sides[s].var, -1, i, static_cast<int>(s)});
        }
      }
      lets_and_needs(interface.lets, interface.requirements, i == 1 ? 2 : 4);
      maker_.many.clear();
    }
    static const std::vector<std::vector<int>> domains{{0}, {1}, {0, 1}, {2}, {3, 0}, {0, 0}, {2, 2}};
    for (int i = 0; i < 3; ++i) {
      Rule& rule = scene_.rules.emplace_back();
      rule.name = "rule" + std::to_string(i);
      rule.kinds = draw_.of(domains);
      maker_.entities.clear();
      maker_.lets.clear();
      for (const int kind : rule.kinds) {
        rule.names.push_back("v" + std::to_string(rule.names.size()));
        rule.vars.push_back(var(rule.names.back()));
        maker_.entities.push_back({rule.vars.back(), kind, -1, -1});
      }
      Node* guarded = nullptr;
      if (draw_.chance(rule.kinds.size() > 1 ? 70 : 30)) rule.where = maker_.truth(draw_.between(0, 2));
      if (draw_.chance(15)) guarded = maker_.guarded_comparison(rule.where);
      lets_and_needs(rule.lets, rule.requirements, 3);
      if (guarded != nullptr) rule.requirements.push_back({"r" + std::to_string(next_++), guarded, nullptr});
    }
  }

  Scene& scene_;
  Draw draw_;
  const Fragment& fragment_;
  Maker maker_;
  int next_ = 0;
};

}  // namespace

std::unique_ptr<Scene> make_scene(std::uint64_t seed, const Fragment& fragment) {
  auto scene = std::make_unique<Scene>();
  SceneMaker(*scene, seed, fragment).run();
  return scene;
}

}  // namespace mm_proof
