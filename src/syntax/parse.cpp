// The one place where the grammar meets the builder.
#include "syntax/parse.hpp"

#include <algorithm>

#include "syntax/actions_builds.hpp"

namespace mm {

/// A declaration starts with nothing left over from a wrong one before it.
template <>
struct action<g::declaration> : pegtl::maybe_nothing {
  template <typename Rule, pegtl::apply_mode A, pegtl::rewind_mode M, template <typename...> class Action,
            template <typename...> class Control, typename Input>
  static bool match(Input& in, Builder& b) {
    b.drop_pieces();
    return recovering::match<Rule, A, M, Action, Control>(in, b);
  }
};

void parse(FileId file, const Sources& sources, Names& names, Tree& tree, Messages& messages,
           std::size_t max_nesting) {
  Builder builder(file, sources, names, tree, messages);
  builder.max_nesting = std::min(max_nesting, most_nesting);
  pegtl::memory_input<pegtl::tracking_mode::lazy, pegtl::eol::lf_crlf, const char*> input(
      builder.bytes.data(), builder.bytes.size(), "");
  try {
    (void)pegtl::parse<g::file, action, control>(input, builder);
  } catch (const GaveUp&) {
    // already reported
  }
  tree.files.push_back(std::move(builder.out));
}

}  // namespace mm
