// The page of `why`: one verdict with everything that led to it.
#pragma once
#include <string>
#include <vector>

#include "report/summary.hpp"

namespace mm {

struct WhyQuery {
  std::string requirement;  // "lug_circle", or "lug.lug_circle" with its interface or rule
  /// "wheel.front_left", "front_left", a joint's name, a candidate: all of them are meant; none: any.
  std::vector<std::string> subjects;
};

/// Of "hose.inlet + pipe", as a report names what is judged together.
std::vector<std::string> names_in(const std::string& text);
/// What to say where no finding answers the query: what else its words mean, or the nearest name.
std::string why_nothing_text(const std::vector<Scene>& scenes, const WhyQuery& query);

/// Indices of the findings that the query names, in order.
std::vector<std::size_t> matching_findings(const Scene& scene, const WhyQuery& query);

/// Requirement names and subjects that the build knows, sorted, for suggestions.
std::vector<std::string> known_requirements(const Scene& scene);
std::vector<std::string> known_subjects(const Scene& scene, const std::string& requirement);

/// Why nothing of this name was judged: whose requirement it is, and what of that is not in these builds;
/// "" where no rule or interface has such a requirement.
std::string not_judged_text(const Scene& scene, const std::string& requirement);
/// "no part is short of a hand": where `requirement` is a word for what no rule states; else "".
std::string_view nothing_of_that_sort(std::string_view requirement);

/// Of the findings that no rule states ("quantity", "hand", "open"): indices into Results::graph.
std::vector<std::size_t> matching_graph(const Scene& scene, const WhyQuery& query);
/// Why such a thing is looked for at all; "" for what is only listed.
std::string_view graph_meaning(GraphFinding::What what);
/// The fits that take a part, each with its places; none for no_reg.
struct PartFit {
  const Fit* fit = nullptr;
  std::vector<Symbol> places;
};
std::vector<PartFit> fits_of_part(const Scene& scene, std::uint32_t part);
/// Their page, of one at least: what was counted, against what, and where it is fitted.
std::string why_graph_page(const Scene& scene, const std::vector<std::size_t>& graph, bool colour);

struct WhyOptions {
  bool colour = false;
  std::string command;           // "matchmark why FILE --rules DIR", for "what to type next"
  std::size_t most = 3;          // told in full
  std::size_t most_listed = 20;  // told in a line
};

std::string why_page(const Scene& scene, const WhyQuery& query, const WhyOptions& options);

}  // namespace mm
