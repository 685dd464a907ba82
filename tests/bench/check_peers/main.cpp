// The same judging by several means, on the whole numbers of joints.csv:
//   check_peers structs FILE            structs written by hand for these eight requirements, bounds as
//   doubles check_peers sqlite FILE             SQLite in memory: two tables, one query a requirement
//   check_peers z3 FILE                 Z3: two questions a requirement: can it hold, can it fail?
//   check_peers columns BUILD           this project: plain verdicts by columns
//   check_peers matchmark BUILD         this project: the whole evaluator, with margins and reads
//   check_peers matchmark_plain BUILD   without these
// Prints "milliseconds of judging, of gathering, of loading, fits, conflicts, unknown", or "absent".
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "app/large_pages.hpp"
#include "peers.hpp"

namespace bench {

Rows rows_of(const std::string& file) {
  Rows rows;
  std::ifstream in(file);
  for (std::string line; std::getline(in, line);) {
    std::vector<int> row;
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) row.push_back(std::stoi(cell));
    if (row.size() != column_count) std::exit(4);
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace bench

int main(int argc, char** argv) {
  if (argc != 3) return 4;
  mm::ask_for_large_pages();  // as the program does; all ways alike
  const std::string way = argv[1], file = argv[2];
  bench::Told told;
  if (way == "structs")
    told = bench::by_structs(file);
  else if (way == "sqlite")
    told = bench::by_sqlite(file);
  else if (way == "z3")
    told = bench::by_z3(file);
  else if (way == "columns")
    told = bench::by_columns(file);
  else if (way == "matchmark" || way == "matchmark_plain")
    told = bench::by_matchmark(file, way == "matchmark");
  else
    return 4;
  if (told.absent)
    std::puts("absent");
  else
    std::printf("%.4f %.4f %.4f %ld %ld %ld\n", told.judging, told.gathering, told.loading, told.counts.fits,
                told.counts.conflict, told.counts.unknown);
  std::fflush(stdout);
  std::_Exit(0);  // taking a big build apart is not what is measured
}
