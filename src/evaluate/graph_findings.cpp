#include "evaluate/graph_findings.hpp"

#include <algorithm>
#include <map>
#include <unordered_map>

namespace mm {

namespace {

using What = GraphFinding::What;

struct Stock {
  bool stated = false;   // and known
  bool written = false;  // be it as "?"
  ExactInterval count;
};

class Counter {
 public:
  explicit Counter(const BuildIndex& index)
      : index_(index), build_(index.build), sheets_(build_.parts.size()) {
    for (const Instance& instance : build_.instances) {
      for (std::size_t v = 0; v < instance.versions; ++v) {
        CellId& sheet = sheets_[build_.part_of(instance, v)];
        if (!sheet) sheet = instance.sheet(v);
      }
    }
    for (std::uint32_t f = 0; f < build_.fits.size(); ++f) {
      const Fit& fit = build_.fits[f];
      if (fit.candidates.size() == 1 && !build_.parts[fit.candidates[0]].hands.empty())
        only_fits_[fit.candidates[0]].push_back(f);
    }
    for (const BuildPlace& place : build_.places) {
      if (place.hand) hand_at_.emplace(place.name, place.hand);
    }
  }

  void count(std::vector<GraphFinding>& out) {
    std::vector<Rational> always(build_.parts.size(), Rational(0));
    for (const Fit& fit : build_.fits) {
      if (fit.candidates.size() == 1) always[fit.candidates[0]] += needed(fit);
    }
    for (std::uint32_t part = 0; part < build_.parts.size(); ++part) {
      if (always[part] > 0) judge(part, always[part], out);
    }
    for (std::uint32_t f = 0; f < build_.fits.size(); ++f) {
      const Fit& fit = build_.fits[f];
      if (fit.candidates.size() < 2) continue;
      const std::size_t before = out.size();
      for (const std::uint32_t part : fit.candidates)
        judge(part, always[part] + needed(fit), out, always[part] == 1);
      for (std::size_t i = before; i < out.size(); ++i) out[i].slot = f;
    }
    for (const Fit& fit : build_.fits) {
      for (std::uint32_t c = 0; c < fit.candidates.size(); ++c) hands(fit, c, out);
    }
  }

 private:
  static Rational needed(const Fit& fit) { return fit.each * std::max<std::size_t>(fit.instances.size(), 1); }

  /// What the part's sheet offers, read from its first version.
  Stock stock_of(std::uint32_t part) const {
    Stock stock;
    const CellId sheet = sheets_[part];
    if (!sheet) return stock;
    const CellId quantity{sheet.index + static_cast<std::uint32_t>(PartProperty::quantity)};
    stock.stated = build_.parts[part].quantity_stated && (build_.cells[quantity].flags & cell_missing) == 0;
    stock.written = static_cast<bool>(build_.cells[quantity].given);
    stock.count = index_.exact(quantity);
    return stock;
  }

  /// `one_taken`: where nobody says how many there are, there is the one that is fitted elsewhere.
  void judge(std::uint32_t part, const Rational& needed, std::vector<GraphFinding>& out,
             bool one_taken = false) const {
    if (!build_.parts[part].quantity_stated && needed <= 1) return;  // nearly every one
    const Stock there = stock_of(part);
    GraphFinding finding;
    finding.part = part;
    finding.needed = needed;
    if (!there.stated) {
      if (needed <= 1) return;
      one_taken = one_taken && !there.written;
      finding.what = one_taken ? What::quantity_short : What::quantity_unstated;
      finding.there = one_taken ? 1 : 0;
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
    const Rational length = listed.size();
    if (times == 0) return 0;
    if (!there.stated || there.count.hi_infinite) return listed.size() == 1 ? wanted : Rational(times);
    const Rational repeats = there.count.hi_value / length;
    if (repeats.is_whole()) return repeats * times;
    return there.count.hi_value - (length - times);
  }

  /// Places with a hand need a piece of that hand each.
  void hands(const Fit& fit, std::uint32_t candidate, std::vector<GraphFinding>& out) const {
    const std::uint32_t part = fit.candidates[candidate];
    const std::vector<Symbol>& listed = build_.parts[part].hands;
    if (listed.empty()) return;
    const Stock there = stock_of(part);
    const bool alone = fit.candidates.size() == 1;
    const auto slot = alone ? no_reg : static_cast<std::uint32_t>(&fit - build_.fits.data());
    const auto found = only_fits_.find(part);
    static const std::vector<std::uint32_t> none;
    const std::vector<std::uint32_t>& only = found == only_fits_.end() ? none : found->second;
    if (alone && &build_.fits[only.front()] != &fit) return;  // said there
    std::map<std::uint32_t, Rational> needed;                 // by hand
    const auto add = [&](const Fit& other) {
      for (const std::uint32_t i : other.instances) {
        const auto hand = hand_at_.find(build_.instances[i].place);
        if (hand != hand_at_.end()) needed[hand->second.index] += other.each;
      }
    };
    for (const std::uint32_t other : only) add(build_.fits[other]);
    if (!alone) add(fit);
    for (const auto& [hand, count] : needed) {
      const Rational most = of_hand(listed, Symbol{hand}, there, count);
      if (most >= count) continue;
      GraphFinding finding;
      finding.what = What::hand_short;
      finding.part = part;
      finding.needed = count;
      finding.there = most < 0 ? Rational(0) : most;
      finding.hand = Symbol{hand};
      finding.slot = slot;
      out.push_back(finding);
    }
  }

  const BuildIndex& index_;
  const Build& build_;
  std::vector<CellId> sheets_;  // by part: its first version; none where it is not fitted
  /// By part, of those that list hands: the fits that take it and nothing else.
  std::unordered_map<std::uint32_t, std::vector<std::uint32_t>> only_fits_;
  std::unordered_map<Symbol, Symbol> hand_at_;  // of places that have one
};

/// A slot's best candidate takes what is worse about the others for a matter of the choice.
void mark_choices(const Build& build, std::vector<GraphFinding>& findings) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, Verdict> worst;  // by slot and part
  std::map<std::uint32_t, Verdict> best;                             // by slot
  for (const GraphFinding& finding : findings) {
    if (finding.slot == no_reg) continue;
    Verdict& its = worst.try_emplace({finding.slot, finding.part}, Verdict::fits).first->second;
    its = std::max(its, verdict_of(finding.what));
    best.emplace(finding.slot, Verdict::conflict);
  }
  for (auto& [slot, of_slot] : best)
    for (const std::uint32_t part : build.fits[slot].candidates) {
      const auto known = worst.find({slot, part});
      of_slot = std::min(of_slot, known == worst.end() ? Verdict::fits : known->second);
    }
  for (GraphFinding& finding : findings)
    finding.by_choice = finding.slot != no_reg && best.at(finding.slot) < verdict_of(finding.what);
}

}  // namespace

Verdict verdict_of(GraphFinding::What what) {
  switch (what) {
    case What::quantity_short:
    case What::hand_short:
      return Verdict::conflict;
    case What::quantity_unstated:
    case What::open_face:
      return Verdict::unknown;
    case What::left_over_part:
    case What::unjoined_part:
      break;
  }
  return Verdict::not_applicable;
}

std::vector<GraphFinding> find_graph_findings(const BuildIndex& index) {
  const Build& build = index.build;
  std::vector<GraphFinding> out;
  Counter(index).count(out);
  mark_choices(build, out);
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
      out.push_back({What::unjoined_part, instance.entity, build.part_of(instance, 0), 0, 0, {}});
  }
  for (const std::uint32_t part : build.left_over) out.push_back({What::left_over_part, {}, part, 0, 0, {}});
  return out;
}

}  // namespace mm
