// The one place where the grammar meets the builder.
#include "syntax/parse.hpp"

#include <algorithm>

#include "syntax/actions_builds.hpp"
#include "syntax/scan.hpp"

namespace mm {

namespace {

/// What goes on behind the '}' that closed a build too early.
template <typename Word, typename Statement>
struct rest_of : pegtl::seq<pegtl::star<pegtl::sor<g::separator, pegtl::seq<pegtl::at<Word>, Statement>>>> {};

struct build_word : pegtl::sor<g::introducer<"place">, g::introducer<"fit">, g::introducer<"join">,
                               g::introducer<"rework">, g::introducer<"waive">, g::introducer<"stage">> {};
struct trial_word : pegtl::sor<build_word, g::introducer<"expect">> {};

/// The build whose statement the word at `at` begins, where nothing but its '}' stands before it.
BuildDecl* closed_build(Builder& b, std::uint32_t at) {
  if (b.out.declarations.empty()) return nullptr;
  auto* build = std::get_if<Boxed<BuildDecl>>(&b.out.declarations.back());
  const std::string_view word = word_at(b.bytes, at);
  constexpr std::string_view words[] = {"place", "fit", "join", "rework", "waive", "stage"};
  if (build == nullptr || !(holds(words, word) || ((*build)->is_trial && word == "expect"))) return nullptr;
  return &**build;
}

/// Says so once, and reads on as if the build were still open.
template <template <typename...> class Action, template <typename...> class Control, typename Input>
void read_rest(Input& in, Builder& b, BuildDecl& build) {
  if (!std::exchange(b.closed_early, true)) {
    Failure failure = failure_of<g::a_declaration>(b, b.offset(in.current()));
    failure.labels.push_back({{b.file, build.span.end - 1, build.span.end}, "the build was closed here"});
    report(b, std::move(failure));
    b.messages.hides_nothing();
  }
  BuildDecl* outer = std::exchange(std::get<BuildDecl*>(b.slots), &build);
  const std::size_t blocks = b.blocks.size();
  const FaceBlockId face_block = b.face_block;
  const unsigned nesting = b.nesting;
  b.blocks.push_back(build.span.begin);
  try {
    if (build.is_trial)
      (void)Control<rest_of<trial_word, g::trial_statement>>::template match<
          pegtl::apply_mode::action, pegtl::rewind_mode::dontcare, Action, Control>(in, b);
    else
      (void)Control<rest_of<build_word, g::build_statement>>::template match<
          pegtl::apply_mode::action, pegtl::rewind_mode::dontcare, Action, Control>(in, b);
  } catch (const BlockLost& lost) {  // a block in it lacks its brace: the next declaration begins there
    in.iterator() = b.bytes.data() + lost.line_begin;
    b.face_block = face_block;
    b.nesting = nesting;
  }
  b.blocks.resize(blocks);
  std::get<BuildDecl*>(b.slots) = outer;
}

}  // namespace

/// A declaration starts with nothing left over from a wrong one before it.
template <>
struct action<g::declaration> : pegtl::maybe_nothing {
  template <typename Rule, pegtl::apply_mode A, pegtl::rewind_mode M, template <typename...> class Action,
            template <typename...> class Control, typename Input>
  static bool match(Input& in, Builder& b) {
    b.drop_pieces();
    const std::uint32_t at = b.offset(in.current());
    if (b.bytes[at] == '}' && std::exchange(b.closed_early, false)) {  // the one that is meant
      in.iterator() = b.bytes.data() + skip_space(b, at + 1);
      return true;
    }
    if (BuildDecl* build = closed_build(b, at)) {
      read_rest<Action, Control>(in, b, *build);
      if (b.offset(in.current()) != at) return true;
    }
    const unsigned errors = b.errors;
    const std::size_t read = b.out.declarations.size();
    const bool matched = recovering::match<Rule, A, M, Action, Control>(in, b);
    if (b.out.declarations.size() > read) {
      b.home_reported = {};
      b.closed_early = false;
    }
    if (b.errors > errors) note_unreadable(b, at);
    return matched;
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
