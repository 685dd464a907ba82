#include <fmt/format.h>

#include <algorithm>

#include "base/article.hpp"
#include "resolve/build_context.hpp"
#include "resolve/quantities.hpp"

namespace mm {

namespace {

constexpr std::size_t max_instances = 4'000'000;

std::string_view folder_of(std::string_view path) {
  const auto slash = path.rfind('/');
  return slash == std::string_view::npos ? std::string_view{} : path.substr(0, slash);
}

/// `of_model`: which of its parts, or no_reg for the build's own.
std::uint32_t add_part(BuildContext& b, Symbol name, const PartDecl& decl, KindId kind,
                       std::uint32_t of_model) {
  BuildPart part;
  part.name = name;
  part.kind = kind;
  part.decl = &decl;
  part.span = decl.name.span;
  const Tree& tree = b.context.tree;
  for (const auto& assignment : tree.assignments[decl.assignments])
    if (is_property(b.context, assignment, "quantity") &&
        !std::holds_alternative<UnknownValue>(tree.values[assignment.value].form))
      part.quantity_stated = true;
  part.hands = hands_of(b.context, decl.assignments);
  const auto index = static_cast<std::uint32_t>(b.build.parts.size());
  b.build.parts.push_back(std::move(part));
  b.part_of_model.push_back(of_model);
  b.first_fit.push_back(no_reg);
  b.part_index.try_emplace(name, index);
  return index;
}

/// `listed`: the candidates it stands among.
std::uint32_t find_part(BuildContext& b, const Name& name, std::span<const Name> listed) {
  if (const auto* known = b.part_index.find(name.symbol)) return *known;
  Context& context = b.context;
  const std::uint32_t* found = context.parts.find(name.symbol);
  if (found == nullptr) {
    if (b.parts_in_error.contains(name.symbol)) return no_reg;
    std::vector<std::string_view> known;
    context.add_known(context.parts, known);
    context.add_known(b.part_index, known);
    context.unknown("part", name, known, listed);
    return no_reg;
  }
  const PartDef& part = context.model.parts[*found];
  if (!part.kind) return no_reg;  // said where the part is declared
  return add_part(b, name.symbol, *part.decl, part.kind, *found);
}

/// The instance that stands where another of its name is to be fitted: at the same place, or where one of the
/// two has no place.
std::uint32_t taken_by(const BuildContext& b, Symbol fit_name, Symbol place,
                       const std::vector<std::uint32_t>& same_name) {
  if (same_name.empty()) return no_reg;
  if (!place || !b.build.instances[same_name.front()].place) return same_name.front();
  const auto at = b.fitted_at.find(BuildContext::key_at(fit_name, place));
  return at == b.fitted_at.end() ? no_reg : at->second;
}

void fit_one(BuildContext& b, const FitDecl& decl) {
  Context& context = b.context;
  Fit fit;
  fit.name = decl.name.symbol;
  fit.is_slot = decl.is_slot;
  fit.span = decl.span;
  for (const auto& name : decl.parts) {
    const std::uint32_t part = find_part(b, name, decl.parts);
    if (part == no_reg) continue;
    if (!fit.candidates.empty() && b.build.parts[part].kind != b.build.parts[fit.candidates[0]].kind) {
      context.messages.add(
          Code::kinds_differ, name.span,
          {context.text(name), with_article(context.text(context.model.kinds[b.build.parts[part].kind].name)),
           "of kind " + context.text(context.model.kinds[b.build.parts[fit.candidates[0]].kind].name)});
      continue;
    }
    if (std::find(fit.candidates.begin(), fit.candidates.end(), part) != fit.candidates.end()) {
      context.messages.add(Code::duplicate_name, name.span, {"candidate", context.text(name)});
      continue;
    }
    // One physical part is in one place; a stated quantity is counted by the checker instead. Under the same
    // name it is told by what stands there already.
    const std::uint32_t first = b.first_fit[part];
    const bool same_name = first != no_reg && b.build.fits[first].name == fit.name;
    if (!decl.is_slot && !b.build.parts[part].quantity_stated && first != no_reg && !same_name) {
      Message& message = context.messages.add(Code::part_fitted_twice, name.span, {context.text(name)},
                                              "if there are several, say how many: quantity 2");
      message.labels.push_back({b.build.fits[first].span, "first fitted here"});
    }
    fit.candidates.push_back(part);
  }
  if (decl.each) {
    const Type count = simple_type(TypeKind::count);
    auto each = read_quantity(context, *decl.each, nullptr, &count);
    if (each && (!each->bare || !each->amount.is_whole() || each->amount < 1))
      context.messages.add(Code::each_not_whole, decl.each->span(), {});
    else if (each)
      fit.each = each->amount;
  }
  for (const auto& place : decl.places) {
    if (b.place_hand.contains(place.symbol)) continue;
    unknown_place(b, place, decl.places);
    b.fits_in_error.insert(decl.name.symbol);
  }
  if (fit.candidates.empty()) {
    b.fits_in_error.insert(decl.name.symbol);
    return;
  }
  const auto fit_index = static_cast<std::uint32_t>(b.build.fits.size());
  const KindId kind = b.build.parts[fit.candidates[0]].kind;
  std::vector<Name> places = decl.places;
  if (places.empty()) places.push_back({Symbol::none(), decl.name.span});
  for (const auto& place : places) {
    if (place.symbol && !b.place_hand.contains(place.symbol)) continue;
    auto& same_name = *b.fitted.try_emplace(decl.name.symbol, {}).first;
    if (const std::uint32_t other = taken_by(b, decl.name.symbol, place.symbol, same_name); other != no_reg) {
      const std::string at = place.symbol ? context.text(place) : std::string("one place");
      Message& message = context.messages.add(Code::place_taken, place.span, {context.text(decl.name), at});
      message.labels.push_back({b.build.instances[other].span, "first fitted here"});
      continue;
    }
    if (b.build.instances.size() >= max_instances) continue;
    Instance instance;
    instance.fit_name = decl.name.symbol;
    instance.place = place.symbol;
    instance.kind = kind;
    instance.fit = fit_index;
    instance.span = place.symbol ? place.span : decl.name.span;
    const auto index = static_cast<std::uint32_t>(b.build.instances.size());
    instance.entity = b.build.entities.add({index, no_reg, no_reg});
    instance.faces.count = static_cast<std::uint32_t>(context.model.kinds[kind].faces.size());
    instance.faces.first = EntityId{b.build.entities.size()};
    for (std::uint32_t f = 0; f < instance.faces.count; ++f) b.build.entities.add({index, f, no_reg});
    same_name.push_back(index);
    if (place.symbol) b.fitted_at.emplace(BuildContext::key_at(decl.name.symbol, place.symbol), index);
    fit.instances.push_back(index);
    b.build.instances.push_back(std::move(instance));
  }
  for (const auto part : fit.candidates)
    if (!fit.is_slot && b.first_fit[part] == no_reg) b.first_fit[part] = fit_index;
  b.build.fits.push_back(std::move(fit));
  b.fit_decls.push_back(&decl);
}

}  // namespace

void add_places(BuildContext& b) {
  FirstNames names;
  for (const auto& decl : b.decl.places) {
    Symbol hand;
    if (decl.hand) {
      hand = decl.hand->symbol;
      const std::string word = b.context.text(*decl.hand);
      if (word != "left" && word != "right") b.context.messages.add(Code::hand_word, decl.hand->span, {word});
    }
    for (const auto& name : decl.names) {
      if (!names.declare(b.context, "place", name)) continue;
      b.place_hand.try_emplace(name.symbol, hand);
      b.build.places.push_back({name.symbol, hand});
    }
  }
}

void add_parts(BuildContext& b) {
  Context& context = b.context;
  for (const auto& decl : b.decl.parts) {
    auto kind = context.kinds.find(decl.kind.symbol);
    if (kind == context.kinds.end()) {
      context.unknown_in("kind", decl.kind, context.kinds);
      b.parts_in_error.insert(decl.name.symbol);
      continue;
    }
    if (b.part_index.find(decl.name.symbol) != nullptr) {
      context.messages.add(Code::duplicate_name, decl.name.span, {"part", context.text(decl.name)});
      continue;
    }
    add_part(b, decl.name.symbol, decl, kind->second, no_reg);
  }
  if (b.decl.is_trial) return;
  // Parts declared beside the build ought to be in it; those of shared catalogues need not.
  const std::string_view here = folder_of(context.sources[b.decl.span.file].path);
  for (std::uint32_t p = 0; p < context.model.parts.size(); ++p) {
    const PartDef& part = context.model.parts[p];
    if (!part.kind || folder_of(context.sources[part.decl->span.file].path) != here) continue;
    const std::uint32_t index = add_part(b, part.decl->name.symbol, *part.decl, part.kind, p);
    b.build.parts[index].own_file = true;
  }
}

void add_fits(BuildContext& b) {
  std::size_t instances = 0;
  for (const auto& decl : b.decl.fits) instances += std::max<std::size_t>(1, decl.places.size());
  b.build.instances.reserve(std::min(instances, max_instances));
  b.build.fits.reserve(b.decl.fits.size());
  b.fit_decls.reserve(b.decl.fits.size());
  for (const auto& decl : b.decl.fits) fit_one(b, decl);
  std::vector<bool> fitted(b.build.parts.size(), false);
  for (const auto& fit : b.build.fits)
    for (const auto candidate : fit.candidates) fitted[candidate] = true;
  if (b.decl.is_trial) {
    // A trial's own parts stand under their own names unless it says otherwise.
    for (const auto& decl : b.decl.parts) {
      const std::uint32_t* part = b.part_index.find(decl.name.symbol);
      if (part == nullptr) b.fits_in_error.insert(decl.name.symbol);
      if (part == nullptr || fitted[*part]) continue;
      fitted[*part] = true;
      FitDecl own;
      own.name = decl.name;
      own.parts = {decl.name};
      own.span = decl.span;
      b.own_fits.push_back(std::move(own));
      fit_one(b, b.own_fits.back());
    }
  }
  for (std::uint32_t p = 0; p < b.build.parts.size(); ++p)
    if (!fitted[p] && b.build.parts[p].own_file) b.build.left_over.push_back(p);
}

}  // namespace mm
