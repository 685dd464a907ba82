// Any bytes as a build: reading, binding, judging and reporting end, and harm nothing.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "app/pipeline.hpp"
#include "evaluate/evaluate.hpp"
#include "report/check_page.hpp"
#include "resolve/resolve.hpp"
#include "syntax/load.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  mm::Loaded loaded;
  const std::string text(reinterpret_cast<const char*>(data), size);
  const auto file = mm::load_text("fuzz", text, loaded.sources, loaded.names, loaded.tree, loaded.messages);
  if (!file || loaded.messages.has_errors()) return 0;
  loaded.project = mm::resolve(loaded.tree, loaded.sources, loaded.names, loaded.messages);
  for (const mm::Message& message : loaded.messages.all()) (void)mm::render(message, loaded.sources);
  if (loaded.messages.has_errors()) return 0;
  for (const mm::Build& build : loaded.project.builds) {
    const mm::Results results = mm::judge(loaded, build, {});
    const mm::Options options;
    const std::string page = mm::check_page(mm::scene_of(loaded, build, results, options), {false, true});
    for (const char c : page) {
      if (static_cast<unsigned char>(c) >= 0x20 || c == '\n') continue;
      std::fprintf(stderr, "a control character reaches the page:\n%s\n", page.c_str());
      std::abort();
    }
  }
  return 0;
}
