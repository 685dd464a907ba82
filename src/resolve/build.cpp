// A build or trial: parts fitted at places, faces joined, reworks, waivers, stages, expectations.
#include <fmt/format.h>

#include <algorithm>

#include "resolve/build_context.hpp"
#include "resolve/declarations.hpp"

namespace mm {

void unknown_place(BuildContext& b, const Name& place, std::span<const Name> listed) {
  Message& message = b.context.unknown_in("place", place, b.place_hand, listed);
  if (message.hint.starts_with("did you mean")) return;
  message.hint +=
      (message.hint.empty() ? "" : "; else ") + ("write place " + b.context.text(place)) + " in the build";
}

namespace {

constexpr std::size_t most_begun = 16;  // at once, and what they are made with

/// All that names no requirement.
BuildContext begin_build(Context& context, const BuildDecl& decl) {
  BuildContext b{context, decl, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}, {}};
  b.build.decl = &decl;
  b.build.is_trial = decl.is_trial;
  if (decl.name) b.build.name = decl.name->symbol;
  if (decl.title)
    b.build.title = decl.is_trial ? std::string(decl.title->text) : in_one_line(decl.title->text);
  add_places(b);
  add_parts(b);
  add_fits(b);
  add_reworks(b);
  make_cells(b);
  add_joins(b);
  add_stages(b);
  return b;
}

Build end_build(BuildContext& b) {
  add_waivers(b);
  add_expectations(b);
  return std::move(b.build);
}

/// In their order, as long as `may_go_on` says so of one.
template <class MayGoOn>
void each_build(const Context& context, FileId trials_of, const MayGoOn& may_go_on) {
  for (const auto& file : context.tree.files) {
    for (const auto& declaration : file.declarations) {
      const auto* decl = declared_as<BuildDecl>(declaration);
      if (decl == nullptr || (decl->is_trial && trials_of && trials_of != file.file)) continue;
      if (!may_go_on(*decl)) return;
    }
  }
}

}  // namespace

std::deque<BuildContext> begin_builds(Context& context, FileId trials_of) {
  std::deque<BuildContext> begun;
  each_build(context, trials_of, [&](const BuildDecl& decl) {
    if (decl.is_trial || begun.size() == most_begun) return false;
    begun.push_back(begin_build(context, decl));
    return true;
  });
  return begun;
}

void resolve_builds(Context& context, FileId trials_of, std::deque<BuildContext> begun) {
  each_build(context, trials_of, [&](const BuildDecl& decl) {
    if (begun.empty()) begun.push_back(begin_build(context, decl));
    context.project.builds.push_back(end_build(begun.front()));
    begun.pop_front();
    return true;
  });
}

std::span<const std::uint32_t> find_instances(BuildContext& b, const Path& path, std::vector<Name>* rest) {
  Context& context = b.context;
  const std::vector<std::uint32_t>* found = b.fitted.find(path.names[0].symbol);
  if (found == nullptr) {
    if (b.fits_in_error.contains(path.names[0].symbol)) return {};
    std::vector<std::string_view> known;
    context.add_known(b.fitted, known);
    std::string hint = context.suggest(context.names.text(path.names[0].symbol), known);
    if (const std::uint32_t* part = b.part_index.find(path.names[0].symbol);
        part != nullptr && b.build.fits.size() <= context.names_for_hints) {
      context.names_for_hints -= b.build.fits.size();
      for (const Fit& fit : b.build.fits)
        if (std::find(fit.candidates.begin(), fit.candidates.end(), *part) != fit.candidates.end())
          hint = fmt::format("that part is fitted as \"{}\"", context.names.text(fit.name));
    }
    context.messages.add(Code::not_fitted, path.names[0].span, {context.text(path.names[0]), ""}, hint);
    return {};
  }
  std::span<const std::uint32_t> instances = *found;
  std::size_t used = 1;
  if (path.names.size() > 1) {
    const auto at = b.fitted_at.find(BuildContext::key_at(path.names[0].symbol, path.names[1].symbol));
    if (at != b.fitted_at.end()) {
      instances = {&at->second, 1};
      used = 2;
    }
  }
  if (rest != nullptr) {
    rest->assign(path.names.begin() + static_cast<std::ptrdiff_t>(used), path.names.end());
  } else if (used < path.names.size()) {
    if (b.fits_in_error.contains(path.names[0].symbol)) return {};
    context.messages.add(Code::not_fitted, path.names[used].span,
                         {context.text(path.names[0]), " at " + context.text(path.names[used])});
    return {};
  }
  return instances;
}

}  // namespace mm
