#include "syntax/begins.hpp"

#include "base/grade_words.hpp"
#include "base/unit_names.hpp"
#include "syntax/scan.hpp"

namespace mm {

namespace {

/// Reads tokens of one line from left to right.
class Ahead {
 public:
  Ahead(std::string_view bytes, std::size_t at) : bytes_(bytes), at_(at) {}

  /// The word here; the blanks behind it are passed over.
  std::string_view word() {
    const std::string_view found = at_ < bytes_.size() && is_letter(bytes_[at_]) ? word_at(bytes_, at_) : "";
    at_ += found.size();
    spaced_ = is_gap(here());
    while (is_gap(here())) ++at_;
    return found;
  }
  bool name() {
    const std::string_view found = word();
    return !found.empty() && !holds(reserved_words, found);
  }
  bool is(char c) const { return here() == c; }
  bool take(char c) {
    if (!is(c)) return false;
    ++at_;
    while (is_gap(here())) ++at_;
    return true;
  }
  bool path() {
    bool good = name();
    while (good && !spaced_ && is('.')) {
      ++at_;
      good = name();
    }
    return good;
  }
  bool ends() const { return is('\n') || is('\r') || is(';') || is('}') || is('#'); }
  bool text() {
    if (at_ >= bytes_.size() || !opens_text(bytes_, at_)) return false;
    at_ = text_end(bytes_, at_);
    while (is_gap(here())) ++at_;
    return true;
  }
  bool word_follows() const { return is_letter(here()); }
  bool value_follows() const {
    const char c = here(), next = at_ + 1 < bytes_.size() ? bytes_[at_ + 1] : '\n';
    if (is_digit(c) || c == '"' || c == '?') return true;
    if (c == '-' || c == '.') return is_digit(next);
    if (c == '<' || c == '>') return next == '=';
    const std::string_view word = is_letter(c) ? word_at(bytes_, at_) : std::string_view();
    return word == "yes" || word == "no" || word == "adjustable";
  }
  bool spaced() const { return spaced_; }

 private:
  char here() const { return at_ < bytes_.size() ? bytes_[at_] : '\n'; }

  std::string_view bytes_;
  std::size_t at_;
  bool spaced_ = false;
};

bool begins_assignment(std::string_view bytes, std::size_t at) {
  const std::string_view first = word_at(bytes, at);
  Ahead ahead(bytes, at);
  if (is_builtin_unit_name(first) || is_grade(first) || !ahead.path()) return false;
  if (ahead.is('{')) return true;
  if (ahead.take(':') || ahead.take('=')) return ahead.value_follows() || ahead.word_follows();
  return ahead.spaced() && ahead.value_follows();
}

bool begins_attribute(std::string_view bytes, std::size_t at) {
  Ahead ahead(bytes, at);
  const std::string_view first = ahead.word();
  if (holds(reserved_words, first)) return false;
  if (ahead.take(':')) return ahead.word_follows();
  return (first == "face" && ahead.name() && (ahead.is(':') || ahead.is(','))) ||
         (first == "let" && ahead.name() && ahead.is('='));
}

bool begins_requirement(std::string_view bytes, std::size_t at) {
  Ahead ahead(bytes, at);
  const std::string_view first = ahead.word();
  if (holds(weight_words, first)) return ahead.name() && ahead.is(':');
  return (first == "let" && ahead.name() && ahead.is('=')) ||
         (first == "side" && ahead.name() && ahead.is('{'));
}

bool begins_detail(std::string_view bytes, std::size_t at) {
  Ahead ahead(bytes, at);
  const std::string_view first = ahead.word();
  if (first == "because" || first == "source" || first == "remedy") return ahead.is('"');
  return (first == "settles" && ahead.word() == "at") ||
         (first == "hazard" && ahead.spaced() && ahead.name());
}

bool begins_part(Ahead ahead) {
  if (!ahead.name()) return false;
  ahead.text();
  return ahead.word() == "is";
}

bool is_build_word(std::string_view word) {
  constexpr std::string_view words[] = {"fit",   "join", "rework", "stage", "part",
                                        "place", "use",  "waive",  "expect"};
  return holds(words, word);
}

bool begins_build_statement(std::string_view bytes, std::size_t at) {
  Ahead ahead(bytes, at);
  const std::string_view first = ahead.word();
  if (first == "fit") return ahead.name() && ahead.is(':');
  if (first == "join") return ahead.path() && (ahead.is('+') || ahead.is(':') || ahead.is('{'));
  if (first == "rework") return ahead.name() && (ahead.is('"') || ahead.word() == "on");
  if (first == "stage") return ahead.name() && (ahead.is('"') || ahead.word() == "uses");
  if (first == "part") return begins_part(ahead);
  if (first == "use") return ahead.is('"');
  if (first == "place") {
    do {
      if (!ahead.name()) return false;
    } while (ahead.take(','));
    if (ahead.ends()) return true;
    const std::string_view next = ahead.word();
    return next == "hand" || is_build_word(next);
  }
  if (first == "expect") {
    const std::string_view next = ahead.word();
    return next == "that" || (!next.empty() && !holds(reserved_words, next) && ahead.name());
  }
  constexpr std::string_view clauses[] = {"on", "because", "by", "until"};
  return first == "waive" && ahead.name() && (ahead.ends() || holds(clauses, ahead.word()));
}

bool begins_declaration(std::string_view bytes, std::size_t at) {
  Ahead ahead(bytes, at);
  const std::string_view first = ahead.word();
  if (first == "use") return ahead.is('"');
  if (first == "trial") return ahead.text() && ahead.is('{');
  if (first == "part") return begins_part(ahead);
  constexpr std::string_view blocks[] = {"kind", "group", "interface", "rule", "table", "build"};
  const bool opens = holds(blocks, first);
  if (!opens && first != "choice" && first != "unit" && first != "formula" && first != "designation" &&
      first != "currency")
    return false;
  if (!ahead.name()) return false;
  if (first == "choice" || first == "unit") return ahead.is('=');
  if (first == "formula") return ahead.is('(');
  if (first == "currency") return ahead.ends();
  if (first == "designation") return ahead.is('"') || ahead.is('{');
  ahead.text();
  return ahead.is('{');
}

}  // namespace

bool begins_here(std::string_view bytes, std::size_t at, Begins begins) {
  switch (begins) {
    case Begins::nothing:
      return false;
    case Begins::assignment:
      return begins_assignment(bytes, at);
    case Begins::attribute:
      return begins_attribute(bytes, at);
    case Begins::requirement:
      return begins_requirement(bytes, at);
    case Begins::detail:
      return begins_detail(bytes, at);
    case Begins::build_statement:
      return begins_build_statement(bytes, at);
    case Begins::declaration:
      return begins_declaration(bytes, at);
  }
  return false;
}

}  // namespace mm
