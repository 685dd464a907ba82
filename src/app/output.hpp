// Writing to standard output and standard error, and what can go wrong there.
#pragma once
#include <deque>
#include <string>
#include <string_view>

#include "app/options.hpp"
#include "messages/message.hpp"

namespace mm {

/// Writes all of it and flushes. False, with a plain message on standard error, when the pipe is closed or
/// the disk is full.
bool write_out(std::string_view text);
bool write_out(const std::deque<std::string>& pieces);

/// "matchmark: text" on standard error.
void complain(std::string_view text);
/// All of the text to an open file, whatever interrupts; false with errno.
bool write_all(int file, std::string_view text);
/// As it stands on standard error.
void write_error(std::string_view text);
/// The first of them in the order of the text, at most `limit`, and how many more there are.
void write_messages(const Messages& messages, const Sources& sources, std::size_t limit);

/// Whether standard output is read by a person at once, so that it must not hold control characters.
bool writes_to_terminal();

/// --color and NO_COLOR against whether standard output is a terminal.
bool wants_colour(const std::string& choice);

/// Ends the process with everything written and nothing taken apart, which the system does faster. In builds
/// with assertions it returns, so that leaks and counts of lines are still told.
void end_quickly(Status status);

}  // namespace mm
