// A size as the trade writes it is matched against each form's patterns in order; the first that takes the
// whole text wins. A number takes as many characters as it can and gives back where the rest then fails;
// patterns are short, and the steps are counted, so that no text makes this slow.
#include "resolve/designation_match.hpp"

#include <algorithm>
#include <cctype>

#include "resolve/quantities.hpp"

namespace mm {

namespace {

constexpr int max_match_steps = 20'000;

std::optional<Rational> amount(const ReadType& type, std::string_view text) {
  bool negative = false;
  if (!text.empty() && (text[0] == '-' || text[0] == '+')) {
    negative = text[0] == '-';
    text.remove_prefix(1);
  }
  auto amount = read_number(text);
  if (!amount || (type.type.kind == TypeKind::count && !amount->is_whole())) return std::nullopt;
  if (negative) *amount = -*amount;
  return amount;
}

}  // namespace

std::uint32_t field_index(const DesignationDef& def, Symbol name) {
  for (std::uint32_t i = 0; i < def.fields.size(); ++i)
    if (def.fields[i].name == name) return i;
  return no_reg;
}

Matcher::Matcher(Context& context, const DesignationDef& def, const std::vector<PatternPiece>& pieces,
                 std::string_view text, Letters letters)
    : context_(context), def_(def), pieces_(pieces), types_(pieces.size()), text_(text), letters_(letters) {
  for (std::size_t i = 0; i < pieces.size(); ++i)
    if (pieces[i].field) types_[i] = read_type(context, pieces[i].type);
}

bool Matcher::run() {
  std::size_t at = 0, below = no_limit;
  for (int steps = 0; steps < max_match_steps; ++steps) {
    const bool complete = taken_.size() == pieces_.size();
    const std::size_t length = complete ? no_limit : next_length(taken_.size(), at, below);
    if (complete && at == text_.size()) {
      set_fields();
      return true;
    }
    if (length != no_limit) {
      taken_.push_back({at, length});
      at += length;
      below = no_limit;
      continue;
    }
    if (taken_.empty()) return false;
    at = taken_.back().at;
    below = taken_.back().length;
    taken_.pop_back();
  }
  return false;
}

std::string Matcher::corrected() const {
  std::string out;
  for (std::size_t piece = 0; piece < taken_.size(); ++piece) {
    const bool own = !pieces_[piece].field && taken_[piece].length > 0;
    out += own ? pieces_[piece].literal : text_.substr(taken_[piece].at, taken_[piece].length);
  }
  return out;
}

bool Matcher::is_literal(std::string_view text, std::string_view literal) const {
  const auto same = [](char a, char b) {
    return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
  };
  return letters_ == Letters::as_written
             ? text == literal
             : std::equal(text.begin(), text.end(), literal.begin(), literal.end(), same);
}

/// The most characters that the piece can take here, fewer than `below`; no_limit when it can take none.
std::size_t Matcher::next_length(std::size_t piece, std::size_t at, std::size_t below) const {
  const PatternPiece& p = pieces_[piece];
  if (!p.field) {
    const std::size_t whole = p.literal.size();
    if (whole < below && is_literal(text_.substr(at, whole), p.literal)) return whole;
    return p.optional_literal && below > 0 ? 0 : no_limit;
  }
  const ReadType& type = types_[piece];
  for (std::size_t length = std::min(longest(type, at), below - 1); length > 0; --length)
    if (can_be(type, text_.substr(at, length))) return length;
  return no_limit;
}

std::size_t Matcher::longest(const ReadType& type, std::size_t at) const {
  const std::string_view rest = text_.substr(at);
  const auto is = [&](std::size_t i, auto test) { return test(static_cast<unsigned char>(rest[i])) != 0; };
  std::size_t n = 0;
  if (type.letter) return !rest.empty() && is(0, [](int c) { return std::isalpha(c); }) ? 1 : 0;
  if (type.word || type.type.kind == TypeKind::choice) {
    while (n < rest.size() && is(n, [](int c) { return std::isalpha(c) != 0 || c == '_'; })) ++n;
    return n;
  }
  if (type.type.kind == TypeKind::text) return rest.size();
  if (n < rest.size() && (rest[n] == '-' || rest[n] == '+')) ++n;
  while (n < rest.size() && n < 24 &&
         (is(n, [](int c) { return std::isdigit(c); }) || rest[n] == '.' || rest[n] == '/' || rest[n] == ' '))
    ++n;
  return n;
}

bool Matcher::can_be(const ReadType& type, std::string_view text) const {
  if (type.type.kind == TypeKind::text) return true;
  if (type.type.kind != TypeKind::choice) return amount(type, text).has_value();
  const Symbol symbol = context_.names.find(text);
  const auto& members = context_.model.sets[type.type.choices].members;
  return symbol && std::find(members.begin(), members.end(), symbol.index) != members.end();
}

void Matcher::set_fields() {
  fields_.resize(def_.fields.size());
  for (std::size_t piece = 0; piece < pieces_.size(); ++piece) {
    if (!pieces_[piece].field) continue;
    const ReadType& type = types_[piece];
    const std::string_view text = text_.substr(taken_[piece].at, taken_[piece].length);
    ConstValue value;
    if (type.type.kind == TypeKind::text || type.type.kind == TypeKind::choice) {
      value.symbols = context_.set_of(context_.names.intern(text));
    } else {
      const Rational number = *amount(type, text);
      value.number = context_.number(type.unit ? scale_difference(context_, number, *type.unit)
                                               : ExactInterval::point(number));
    }
    fields_[field_index(def_, pieces_[piece].field->symbol)] = value;
  }
}

}  // namespace mm
