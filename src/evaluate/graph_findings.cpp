#include "evaluate/graph_findings.hpp"

#include <algorithm>
#include <map>

namespace mm {

namespace {

using What = GraphFinding::What;

struct Stock {
  bool stated = false;  // and known
  ExactInterval count;
};

class Counter {
 public:
  explicit Counter(const BuildIndex& index) : index_(index), build_(index.build) {}

  void count(std::vector<GraphFinding>& out) {
    std::vector<Rational> always(build_.parts.size(), Rational(0));
    for (const Fit& fit : build_.fits) {
      if (fit.candidates.size() == 1) always[fit.candidates[0]] += needed(fit);
    }
    for (std::uint32_t part = 0; part < build_.parts.size(); ++part) {
      if (always[part] > 0) judge(part, always[part], out);
    }
    for (const Fit& fit : build_.fits) {
      if (fit.candidates.size() < 2) continue;
      // a slot is short only when no candidate is enough
      std::vector<GraphFinding> short_ones;
      bool one_is_enough = false;
      for (const std::uint32_t part : fit.candidates) {
        const std::size_t before = short_ones.size();
        judge(part, always[part] + needed(fit), short_ones);
        one_is_enough = one_is_enough || short_ones.size() == before;
      }
      if (!one_is_enough) out.insert(out.end(), short_ones.begin(), short_ones.end());
    }
    for (const Fit& fit : build_.fits) {
      for (std::uint32_t c = 0; c < fit.candidates.size(); ++c) hands(fit, c, out);
    }
  }

 private:
  static Rational needed(const Fit& fit) {
    return fit.each * Rational(static_cast<unsigned long>(std::max<std::size_t>(fit.instances.size(), 1)));
  }

  /// What the part's sheet offers, read from any instance of it.
  Stock stock(std::uint32_t part) const {
    Stock out;
    for (const Instance& instance : build_.instances) {
      for (const Version& version : instance.versions) {
        if (version.part != part) continue;
        const CellId quantity{version.part_cells.index + static_cast<std::uint32_t>(PartProperty::quantity)};
        out.stated = build_.parts[part].quantity_stated && (build_.cells[quantity].flags & cell_missing) == 0;
        out.count = index_.exact(quantity);
        return out;
      }
    }
    return out;
  }

  void judge(std::uint32_t part, const Rational& needed, std::vector<GraphFinding>& out) const {
    const Stock there = stock(part);
    GraphFinding finding;
    finding.part = part;
    finding.needed = needed;
    if (!there.stated) {
      if (needed <= 1) return;
      finding.what = What::quantity_unstated;
      out.push_back(finding);
      return;
    }
    if (there.count.lo_infinite || there.count.lo_value < needed) {
      const bool surely = !there.count.hi_infinite && there.count.hi_value < needed;
      finding.what = surely ? What::quantity_short : What::quantity_unstated;
      finding.there = there.count.hi_infinite ? Rational(0) : there.count.hi_value;
      out.push_back(finding);
    }
  }

  /// Pieces of one hand among those listed: one listed hand is that of every piece; a list as long as the
  /// quantity says each piece's; a list that divides the quantity repeats; else every other listed hand takes
  /// one piece.
  static Rational of_hand(const std::vector<Symbol>& listed, Symbol hand, const Stock& there,
                          const Rational& wanted) {
    const auto times = static_cast<unsigned long>(std::count(listed.begin(), listed.end(), hand));
    const Rational length(static_cast<unsigned long>(listed.size()));
    if (times == 0) return 0;
    if (!there.stated || there.count.hi_infinite) return listed.size() == 1 ? wanted : Rational(times);
    const Rational repeats = there.count.hi_value / length;
    if (repeats.get_den() == 1) return repeats * times;
    return there.count.hi_value - (length - times);
  }

  /// Places with a hand need a piece of that hand each.
  void hands(const Fit& fit, std::uint32_t candidate, std::vector<GraphFinding>& out) const {
    const std::uint32_t part = fit.candidates[candidate];
    const Stock there = stock(part);
    const std::vector<Symbol>& listed = build_.parts[part].hands;
    if (listed.empty()) return;
    std::map<std::uint32_t, Rational> needed;  // by hand
    for (const Fit& other : build_.fits) {
      const bool counts = &other == &fit || (other.candidates.size() == 1 && other.candidates[0] == part);
      if (!counts) continue;
      if (&other < &fit && other.candidates.size() == 1 && fit.candidates.size() == 1) return;  // said there
      for (const std::uint32_t i : other.instances) {
        for (const BuildPlace& place : build_.places) {
          if (place.hand && place.name == build_.instances[i].place) needed[place.hand.index] += other.each;
        }
      }
    }
    for (const auto& [hand, count] : needed) {
      const Rational most = of_hand(listed, Symbol{hand}, there, count);
      if (most >= count) continue;
      GraphFinding finding;
      finding.what = What::hand_short;
      finding.part = part;
      finding.needed = count;
      finding.there = most < 0 ? Rational(0) : most;
      finding.hand = Symbol{hand};
      out.push_back(finding);
    }
  }

  const BuildIndex& index_;
  const Build& build_;
};

}  // namespace

std::vector<GraphFinding> find_graph_findings(const BuildIndex& index) {
  const Build& build = index.build;
  std::vector<GraphFinding> out;
  Counter(index).count(out);
  for (const Instance& instance : build.instances) {
    bool any_joined = instance.faces.empty();
    for (const EntityId face : instance.faces)
      any_joined = any_joined || build.entities[face].joint != no_reg;
    const KindDef& kind = index.model.kinds[instance.kind];
    for (std::size_t f = 0; f < instance.faces.size(); ++f) {
      if (kind.faces[f].optional || build.entities[instance.faces[f]].joint != no_reg) continue;
      out.push_back({What::open_face, instance.faces[f], no_reg, 0, 0, {}});
    }
    if (!any_joined)
      out.push_back({What::unjoined_part, instance.entity, instance.versions[0].part, 0, 0, {}});
  }
  for (std::uint32_t part = 0; part < build.parts.size(); ++part) {
    const bool fitted = std::any_of(build.fits.begin(), build.fits.end(), [&](const Fit& fit) {
      return std::find(fit.candidates.begin(), fit.candidates.end(), part) != fit.candidates.end();
    });
    if (!fitted && build.parts[part].own_file) out.push_back({What::left_over_part, {}, part, 0, 0, {}});
  }
  return out;
}

}  // namespace mm
