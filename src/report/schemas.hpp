// The published JSON Schemas (draft 2020-12), built in from schema/*.schema.json.
#pragma once
#include <string_view>
#include <vector>

namespace mm {

struct SchemaText {
  std::string_view report, text;
};

const std::vector<SchemaText>& schema_texts();

}  // namespace mm
