// Getting on after an error: where to resume, and which message a failure makes. No PEGTL.
#pragma once
#include <string_view>

#include "syntax/builder.hpp"

namespace mm {

/// Adds the message; false where it was there before. Throws GaveUp after max_errors_in_file.
bool report(Builder& builder, Failure failure);

/// What was reported last leaves the text from `begin` to `end` unread. Where it may be a `use`, that hides
/// more than its own words. `read_on`: what is read next begins on its line.
void leave_unread(Builder& builder, std::uint32_t begin, std::uint32_t end, bool read_on);

/// The statement at `at`, outside of any block, could not be read. Where all of a file's first statements
/// begin with no word of the language one message takes the place of theirs; then throws GaveUp.
void note_unreadable(Builder& builder, std::uint32_t at);

/// First byte at or after `at` that is neither white space nor comment.
std::uint32_t skip_space(const Builder& builder, std::uint32_t at);

/// Where parsing goes on after the statement that began at `begin` went wrong at `failed`: the next line that
/// does not belong to it, what follows a ';', or the '}' of the block round it (passed over when `in_block`
/// is false). Braces and texts on the way are passed over whole.
std::uint32_t resume_after(const Builder& builder, std::uint32_t begin, std::uint32_t failed, bool in_block);

/// How far the line that `at` is on is indented.
std::uint32_t indent_at(const Builder& builder, std::uint32_t at);

/// The text at `at` looks like the inside of a block that lacks its '{': a statement, and further on a '}'
/// that closes nothing else.
bool looks_opened(const Builder& builder, std::uint32_t at);

/// Says so where a `when` that begins its line is followed there by another requirement, which it seems to be
/// meant for: it would limit the one above.
void check_when(Builder& builder, Span when);

/// The '{' on the rest of the line that `failed` is on, or nullopt.
std::optional<std::uint32_t> brace_on_line(const Builder& builder, std::uint32_t failed);

/// A failure inside a block on a line that begins with a declaration's word, no further in than the line that
/// opened the block: the block was not closed. Reports it.
std::optional<BlockLost> lost_block(Builder& builder, std::uint32_t failed);

struct Wanted {
  std::string_view what;  // "the kind's name"
  std::string_view hint;
};

/// "expected WHAT after 'before', found 'x'", or a more telling message where one is known.
Failure expected_failure(const Builder& builder, std::uint32_t at, Wanted expected);
/// The end of the file inside a block, or something that no statement begins with.
Failure close_failure(Builder& builder, std::uint32_t at);
/// The text round `at` is the path behind `use`.
bool begins_path(std::string_view bytes, std::size_t at);
/// A statement that begins with none of `words` (separated by blanks).
Failure unknown_statement(const Builder& builder, std::uint32_t at, std::string_view words);

}  // namespace mm
