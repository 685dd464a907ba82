#include <fmt/format.h>

#include <algorithm>

#include "app/output.hpp"
#include "app/pipeline.hpp"
#include "app/verbs.hpp"
#include "base/near_miss.hpp"
#include "report/list_page.hpp"

namespace mm {

void declare_list(Arguments& verb, Options& options) {
  verb.needed("FILE", options.file, "a rule file, or a build with what it uses");
  verb.words("NAME", options.words, "kinds, interfaces, tables, rules and so on to tell in full");
  declare_reading(verb, options);
  declare_form(verb, options);
}

Status run_list(const Options& options) {
  Loaded loaded;
  if (!load_project(options.file, options, loaded)) return Status::text_wrong;
  const Offer offer{loaded.project.model, loaded.sources, loaded.names, loaded.tree};
  auto known = offered_names(offer);
  for (std::string& name : checked_names(offer)) known.push_back(std::move(name));
  bool all_known = true;
  for (const std::string& name : options.words) {
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    const std::string near = nearest_name(name, std::vector<std::string_view>(known.begin(), known.end()));
    complain(fmt::format(
        "no kind, interface, size, choice, table, formula, rule or requirement is called \"{}\"{}",
        printable(name), near.empty() ? "" : fmt::format("; did you mean \"{}\"?", printable(near))));
    all_known = false;
  }
  if (!all_known) return Status::wrong_use;
  std::string page;
  if (options.json) {
    page = list_json(offer, options.words);
  } else {
    page = list_page(offer, options.words, wants_colour(options.colour));
    const std::string checks = options.words.empty()
                                   ? std::string()
                                   : list_checks(offer, options.words, wants_colour(options.colour));
    page += (page.empty() || checks.empty() ? "" : "\n") + checks;
  }
  return write_out(page) ? Status::fits : Status::wrong_use;
}

}  // namespace mm
