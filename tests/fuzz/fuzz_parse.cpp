// Any bytes: parsing ends, harms nothing, points inside the text, and its messages steer no terminal.
#include <cstdint>

#include "fuzz_help.hpp"
#include "syntax/load.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  mm::Sources sources;
  mm::Names names;
  mm::Tree tree;
  mm::Messages messages;
  const std::string text(reinterpret_cast<const char*>(data), size);
  const auto file = mm::load_text("fuzz", text, sources, names, tree, messages);
  for (const mm::Message& message : messages.all()) {
    const std::size_t end = file ? sources[*file].bytes.size() : size;
    if (message.span.begin > message.span.end || message.span.end > end)
      fuzz::fail("a message points outside the text", text);
    const std::string shown = mm::render(message, sources);
    if (shown.empty()) fuzz::fail("an empty message", text);
    fuzz::must_be_harmless(shown, text);
  }
  return 0;
}
