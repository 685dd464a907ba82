// Findings about the graph itself: counted parts, hands, open faces, parts that take no part.
#pragma once
#include "evaluate/build_index.hpp"
#include "evaluate/results.hpp"

namespace mm {

std::vector<GraphFinding> find_graph_findings(const BuildIndex& index);

}  // namespace mm
