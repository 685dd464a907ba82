// What people write by habit and this language writes otherwise: 1,5 mm, 5", 500 to 570 kg, +/-, a
// typographic minus. Looked for only on lines that have an error, so it costs nothing where the text is
// right.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "messages/message.hpp"

namespace mm {

/// Bytes [begin, end) of a line, and what would be right.
struct Slip {
  std::size_t begin = 0, end = 0;
  std::string hint;
  bool sure = true;                   // wrong wherever it stands, not only where an error was found
  std::optional<std::size_t> trip{};  // right elsewhere: a message must begin exactly here
  std::string seen{};                 // in words, where what stands there cannot be shown
  std::string attribute{};            // right elsewhere: a file must declare an attribute of this name
  bool alone = false;                 // what a message of its own tells is left to that
  bool hides_one = false;             // behind it no more than the next message is for it
  std::string no_attribute{};         // right elsewhere: no file may declare an attribute of this name
  /// What is right where a number of this dimension is wanted, before `hint`.
  std::vector<std::pair<std::string_view, std::string>> by_dimension{};
};

/// The slips of one line, from left to right; texts and comments are passed over.
std::vector<Slip> slips_of(std::string_view line);

/// A text of digits and letters with its typographic dashes, crosses, blanks and decimal commas as they are
/// typed on a keyboard.
std::string plain_signs(std::string_view text);

/// One message for one slip: it takes the place of those that the slip caused.
void explain_slips(const Sources& sources, Messages& messages);

}  // namespace mm
