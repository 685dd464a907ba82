// Any right text: it comes back from tidying with the same meaning, and tidying what is tidy changes nothing.
#include <cstdint>

#include "fuzz_help.hpp"
#include "syntax/load.hpp"
#include "syntax/print.hpp"
#include "syntax/same_tree.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  mm::Sources sources;
  mm::Names names;
  mm::Tree tree;
  mm::Messages messages;
  const std::string text(reinterpret_cast<const char*>(data), size);
  const auto file = mm::load_text("fuzz", text, sources, names, tree, messages);
  if (!file || !messages.all().empty()) return 0;
  const std::string once = mm::print(tree.files[0], tree, sources, names);
  mm::load_text("tidied", once, sources, names, tree, messages);
  if (!messages.all().empty()) fuzz::fail("tidying made errors", once);
  if (!mm::same_tree(tree.files[0], tree, tree.files[1], tree, sources))
    fuzz::fail("tidying changed the tree", once);
  if (mm::print(tree.files[1], tree, sources, names) != once) fuzz::fail("tidying twice differs", once);
  return 0;
}
