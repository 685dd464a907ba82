#include "report/schemas.hpp"

namespace mm {

const std::vector<SchemaText>& schema_texts() {
  static const std::vector<SchemaText> texts = {
#include "report/schemas.inc"
  };
  return texts;
}

}  // namespace mm
