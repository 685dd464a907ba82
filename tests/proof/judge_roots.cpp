// Worlds with a value that may be no fraction: a root between two fractions (intermediate value theorem).
#include <algorithm>

#include "judge.hpp"

namespace mm_proof {

namespace {

int sign_of(const Real& a) {
  if (!a.known || !a.exists || a.undef) return 0;
  return a.lo > 0 ? 1 : a.high() < 0 ? -1 : 0;
}

/// One is the other times a number other than nothing.
bool is_multiple(const std::vector<Rational>& a, const std::vector<Rational>& b) {
  const auto at = [](const std::vector<Rational>& form, std::size_t i) {
    return i < form.size() ? form[i] : Rational(0);
  };
  const std::size_t count = std::max(a.size(), b.size());
  std::size_t lead = 0;
  while (lead < count && at(a, lead) == 0) ++lead;
  if (lead == count || at(b, lead) == 0) return false;
  const Rational ratio = at(b, lead) / at(a, lead);
  for (std::size_t i = 0; i < count; ++i)
    if (at(a, i) * ratio != at(b, i)) return false;
  return true;
}

/// Of a range's variable or a formula's.
bool reads_parameter(const Node& node) {
  return node.op == Op::parameter || std::any_of(node.kids.begin(), node.kids.end(), [](const Node* kid) {
           return kid != nullptr && reads_parameter(*kid);
         });
}

}  // namespace

bool Judge::meets(const Node& node, const void* row, int limit, const Real& a, const Real& b) {
  if (differences_ == nullptr && nothing_.empty()) return false;
  if (parameters_ > 0 && reads_parameter(node)) return false;
  Site site{&node, row, limit, {}};
  for (const EntityRef e : entities_) std::get<3>(site).emplace_back(e.instance, e.face);
  const bool is_nothing = nothing_.contains(site);
  if (differences_ != nullptr) differences_->insert_or_assign(std::move(site), sub(a, b));
  return is_nothing;
}

std::vector<Truth> Judge::at_roots(const CellKey& cell, const Rational& lo, const Rational& hi,
                                   const std::function<Truth()>& ask) {
  std::map<Site, Real> at_lo, at_hi, between;
  const auto note = [&](std::map<Site, Real>& into) {
    differences_ = &into;
    ask();
    differences_ = nullptr;
  };
  world_->give(cell, lo);
  note(at_lo);
  world_->give(cell, hi);
  note(at_hi);
  world_->give_between(cell, lo, hi);
  note(between);
  std::vector<Truth> out;
  for (const auto& [site, difference] : between) {
    if (!difference.known || !difference.exists || difference.undef || difference.jumps) continue;
    const auto first = at_lo.find(site), last = at_hi.find(site);
    if (first == at_lo.end() || last == at_hi.end()) continue;
    if (sign_of(first->second) * sign_of(last->second) >= 0) continue;
    for (const auto& [other, its] : between)
      if (other == site || is_multiple(difference.form, its.form)) nothing_.insert(other);
    out.push_back(ask());
    nothing_.clear();
  }
  world_->give(cell, lo);
  return out;
}

}  // namespace mm_proof
