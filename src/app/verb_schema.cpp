#include <fmt/format.h>

#include "app/output.hpp"
#include "app/verbs.hpp"
#include "messages/message.hpp"
#include "report/page.hpp"
#include "report/schemas.hpp"

namespace mm {

namespace {

std::vector<std::string_view> reports() {
  std::vector<std::string_view> names;
  for (const SchemaText& schema : schema_texts()) names.push_back(schema.report);
  return names;
}

}  // namespace

void declare_schema(Arguments& verb, Options& options) {
  verb.needed("REPORT", options.words, listed(reports(), " or ").c_str(), 1);
}

Status run_schema(const Options& options) {
  for (const SchemaText& schema : schema_texts())
    if (schema.report == options.words[0]) return write_out(schema.text) ? Status::fits : Status::wrong_use;
  complain(
      fmt::format("there is no report \"{}\"; there is {}", printable(options.words[0]), listed(reports())));
  return Status::wrong_use;
}

}  // namespace mm
