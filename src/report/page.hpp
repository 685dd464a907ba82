// A page of plain text: wrapped by display width, coloured only where asked.
#pragma once
#include <string>
#include <string_view>

namespace mm {

/// Words of `text` in lines of at most `width` columns. The first line starts with `first` blanks, the others
/// with `rest`. A number stays beside its unit. A word longer than a line is broken. Ends in a newline.
std::string wrap(std::string_view text, std::size_t first, std::size_t rest, std::size_t width = 80);

enum class Tone : unsigned char { plain, bold, bad, doubtful, good, faint };

class Page {
 public:
  explicit Page(bool colour, std::size_t width = 80) : colour_(colour), width_(width) {}

  /// A heading after a blank line, in capitals as given.
  void heading(std::string_view text, Tone tone = Tone::bold);
  /// A paragraph; what stands before `head_end` bytes of the text gets the tone.
  void text(std::string_view words, std::size_t first = 0, std::size_t rest = 0, Tone tone = Tone::plain,
            std::size_t head_end = std::string::npos);
  /// One line as it stands (it is cut nowhere).
  void raw(std::string_view line);
  void blank();
  /// What stands on another page, which begins with a heading, behind what stands here.
  void add(const Page& other);
  const std::string& str() const { return out_; }

 private:
  std::string out_;
  bool colour_;
  std::size_t width_;
};

/// Joined with commas and a last "and".
template <class Range>
std::string listed(const Range& items, std::string_view last = " and ") {
  std::string out;
  std::size_t i = 0;
  for (const auto& item : items) {
    if (i != 0) out += i + 1 == items.size() ? std::string(last) : std::string(", ");
    out += item;
    ++i;
  }
  return out;
}

/// "1 part", "3 parts"; `many` where adding an s is not the plural.
std::string counted(std::size_t n, std::string_view one, std::string_view many = {});

}  // namespace mm
