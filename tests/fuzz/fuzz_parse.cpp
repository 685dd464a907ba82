// Any bytes: parsing ends, harms nothing and points inside the text; a right text comes back from tidying the
// same.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "syntax/load.hpp"
#include "syntax/print.hpp"
#include "syntax/same_tree.hpp"

namespace {

void fail(const char* what, const std::string& text) {
  std::fprintf(stderr, "%s:\n%s\n", what, text.c_str());
  std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  mm::Sources sources;
  mm::Names names;
  mm::Tree tree;
  mm::Messages messages;
  const std::string text(reinterpret_cast<const char*>(data), size);
  const auto file = mm::load_text("fuzz", text, sources, names, tree, messages);
  if (!file) return 0;
  for (const mm::Message& message : messages.all()) {
    if (message.span.begin > message.span.end || message.span.end > sources[*file].bytes.size())
      fail("a message points outside the text", text);
    if (mm::render(message, sources).empty()) fail("an empty message", text);
  }
  if (!messages.all().empty()) return 0;
  const std::string once = mm::print(tree.files[0], tree, sources, names);
  mm::load_text("tidied", once, sources, names, tree, messages);
  if (!messages.all().empty()) fail("tidying made errors", once);
  if (!mm::same_tree(tree.files[0], tree, tree.files[1], tree, sources))
    fail("tidying changed the tree", once);
  if (mm::print(tree.files[1], tree, sources, names) != once) fail("tidying twice differs", once);
  return 0;
}
