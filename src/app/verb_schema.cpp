#include <fmt/format.h>

#include "app/output.hpp"
#include "app/verbs.hpp"
#include "messages/message.hpp"
#include "report/page.hpp"
#include "report/schemas.hpp"

namespace mm {

void declare_schema(Arguments& verb, Options& options) {
  verb.needed("REPORT", options.words, "check, why, trial or list", 1);
}

Status run_schema(const Options& options) {
  std::vector<std::string_view> names;
  for (const SchemaText& schema : schema_texts()) {
    if (schema.report == options.words[0]) return write_out(schema.text) ? Status::fits : Status::wrong_use;
    names.push_back(schema.report);
  }
  complain(fmt::format("there is no report \"{}\"; there is {}", printable(options.words[0]), listed(names)));
  return Status::wrong_use;
}

}  // namespace mm
