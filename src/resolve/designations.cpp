// A size as the trade writes it is matched against each form's patterns in order; the first that takes the
// whole text wins. A number takes as many characters as it can and gives back where the rest then fails;
// patterns are short, and the steps are counted, so that no text makes this slow.
#include "resolve/designations.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <unordered_set>

#include "resolve/quantities.hpp"

namespace mm {

namespace {

constexpr int max_match_steps = 20'000;
constexpr std::size_t max_size_length = 400;   // bytes of a text that is taken apart
constexpr std::size_t max_forms_shown = 1000;  // bytes of the patterns that a message tells
constexpr std::size_t most_with_samples = 64, most_forms_with_samples = 16;

std::uint32_t field_index(const DesignationDef& def, Symbol name) {
  for (std::uint32_t i = 0; i < def.fields.size(); ++i)
    if (def.fields[i].name == name) return i;
  return no_reg;
}

bool same_type(const Type& a, const Type& b) {
  return a.kind == b.kind && compatible(a.dimension, b.dimension) && a.choices == b.choices &&
         a.designation == b.designation;
}

/// One pattern against one text. What a piece took last is given back first; the pieces taken stand on a
/// stack.
class Matcher {
 public:
  Matcher(Context& context, const DesignationDef& def, const std::vector<PatternPiece>& pieces,
          const std::vector<ReadType>& types, std::string_view text)
      : context_(context),
        def_(def),
        pieces_(pieces),
        types_(types),
        text_(text),
        fields_(def.fields.size()) {}

  bool run() {
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
  std::vector<std::optional<ConstValue>>& fields() { return fields_; }

 private:
  static constexpr std::size_t no_limit = std::string_view::npos;

  struct Taken {  // by a piece
    std::size_t at, length;
  };

  /// The most characters that the piece can take here, fewer than `below`; no_limit when it can take none.
  std::size_t next_length(std::size_t piece, std::size_t at, std::size_t below) const {
    const PatternPiece& p = pieces_[piece];
    if (!p.field) {
      const std::size_t whole = p.literal.size();
      if (whole < below && text_.substr(at, whole) == p.literal) return whole;
      return p.optional_literal && below > 0 ? 0 : no_limit;
    }
    const ReadType& type = types_[piece];
    for (std::size_t length = std::min(longest(type, at), below - 1); length > 0; --length)
      if (can_be(type, text_.substr(at, length))) return length;
    return no_limit;
  }

  std::size_t longest(const ReadType& type, std::size_t at) const {
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
    while (
        n < rest.size() && n < 24 &&
        (is(n, [](int c) { return std::isdigit(c); }) || rest[n] == '.' || rest[n] == '/' || rest[n] == ' '))
      ++n;
    return n;
  }

  bool can_be(const ReadType& type, std::string_view text) const {
    if (type.type.kind == TypeKind::text) return true;
    if (type.type.kind != TypeKind::choice) return amount(type, text).has_value();
    const Symbol symbol = context_.names.find(text);
    const auto& members = context_.model.sets[type.type.choices].members;
    return symbol && std::find(members.begin(), members.end(), symbol.index) != members.end();
  }

  static std::optional<Rational> amount(const ReadType& type, std::string_view text) {
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

  void set_fields() {
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

  Context& context_;
  const DesignationDef& def_;
  const std::vector<PatternPiece>& pieces_;
  const std::vector<ReadType>& types_;
  std::string_view text_;
  std::vector<Taken> taken_;
  std::vector<std::optional<ConstValue>> fields_;
};

std::string key_of(const Context& context, DesignationId id, std::uint32_t form,
                   const std::vector<std::optional<ConstValue>>& fields) {
  std::string key = fmt::format("{}:{}", id.index, form);
  for (const auto& field : fields) {
    key += '|';
    if (!field) continue;
    key += field->number ? context.model.numbers[field->number].exact.lo_value.text()
                         : fmt::format("s{}", field->symbols.index);
  }
  return key;
}

/// The designation that a text writes; none where it is of no form.
DesignationConstId match_text(Context& context, DesignationId id, std::string_view text) {
  const DesignationDef& def = context.model.designations[id];
  const DesignationDecl& decl = *context.designation_decls[id.index];
  const std::size_t forms_tried = text.size() > max_size_length ? 0 : def.forms.size();
  for (std::uint32_t f = 0; f < forms_tried; ++f) {
    for (const auto& pattern : decl.forms[f].patterns) {
      std::vector<ReadType> types(pattern.size());
      for (std::size_t i = 0; i < pattern.size(); ++i)
        if (pattern[i].field) types[i] = read_type(context, pattern[i].type);
      Matcher matcher(context, def, pattern, types, text);
      if (!matcher.run()) continue;
      const std::string key = key_of(context, id, f, matcher.fields());
      if (auto found = context.designation_index.find(key); found != context.designation_index.end())
        return found->second;
      const auto made =
          context.model.designation_consts.add({id, f, std::move(matcher.fields()), std::string(text)});
      context.designation_index.emplace(key, made);
      return made;
    }
  }
  return {};
}

std::string sample_text(Context& context, const std::vector<PatternPiece>& pattern) {
  std::string out;
  for (const PatternPiece& piece : pattern) {
    if (!piece.field) {
      if (!piece.optional_literal) out += piece.literal;
      continue;
    }
    const ReadType type = read_type(context, piece.type);
    if (type.type.kind == TypeKind::choice) {
      const auto& members = context.model.sets[type.type.choices].members;
      out += members.empty() ? "" : context.names.text(Symbol{members[0]});
    } else {
      out += type.type.kind == TypeKind::text ? "a" : "1";
    }
  }
  return out;
}

}  // namespace

void read_designation(Context& context, DesignationId id, const DesignationDecl& decl) {
  DesignationDef& def = context.model.designations[id];
  const auto add_field = [&](const Name& name, const Type& type) {
    const std::uint32_t at = field_index(def, name.symbol);
    if (at == no_reg) {
      def.fields.push_back({name.symbol, type});
    } else if (type.kind != TypeKind::error && !same_type(def.fields[at].type, type)) {
      context.messages.add(Code::wrong_dimension, name.span,
                           {type_text(context, def.fields[at].type), type_text(context, type)},
                           "a field means the same in every form");
    }
  };
  for (const auto& form_decl : decl.forms) {
    FormDef form;
    form.name = form_decl.name ? form_decl.name->symbol : context.names.intern("standard");
    form.span = form_decl.span;
    for (const auto& other : def.forms)
      if (other.name == form.name && form_decl.name)
        context.messages.add(Code::duplicate_name, form_decl.name->span, {"form", context.text(form.name)});
    def.forms.push_back(std::move(form));
    for (const auto& pattern : form_decl.patterns) {
      std::unordered_set<Symbol> here;
      for (const auto& piece : pattern) {
        if (!piece.field) continue;
        if (!here.insert(piece.field->symbol).second)
          context.messages.add(Code::duplicate_name, piece.field->span, {"field", context.text(*piece.field)},
                               "each number of a size is a field of its own");
        ReadType read = read_type(context, piece.type);
        read.type.nominal = true;
        if (read.type.kind == TypeKind::designation || read.type.kind == TypeKind::date ||
            read.type.kind == TypeKind::boolean ||
            (read.type.kind == TypeKind::quantity && !read.unit && !read.type.dimension.is_ratio())) {
          context.messages.add(Code::type_not_here, piece.type.span,
                               {std::string(context.sources.text(piece.type.span))},
                               "a field of a designation is a unit, count, letter, word or text");
          read.type = {};
        }
        add_field(*piece.field, read.type);
      }
    }
  }
}

DesignationConstId read_designation_text(Context& context, DesignationId id, std::string_view text,
                                         Span span) {
  if (context.sizes_read.size() <= id.index) context.sizes_read.resize(context.model.designations.size());
  auto& known = context.sizes_read[id.index];
  if (const auto found = known.find(text); found != known.end()) return found->second;
  const DesignationDef& def = context.model.designations[id];
  if (const auto made = match_text(context, id, text)) return known[text] = made;
  std::string forms;
  for (const auto& form : context.designation_decls[id.index]->forms)
    for (const auto& pattern : form.pattern_texts)
      if (forms.size() < max_forms_shown) forms.append(forms.empty() ? "" : " or ").append(pattern.text);
  context.messages.add(Code::designation_unreadable, span, {std::string(text), context.text(def.name)},
                       "it is written " + forms);
  return {};
}

void add_samples(Context& context) {
  if (context.messages.has_errors()) return;
  const std::size_t count = std::min(context.designation_decls.size(), most_with_samples);
  std::vector<std::vector<bool>> is_written(count);  // by form
  for (std::size_t i = 0; i < count; ++i) is_written[i].resize(context.designation_decls[i]->forms.size());
  const auto& made = context.model.designation_consts;
  for (std::size_t c = 0; c < made.size(); ++c) {
    const DesignationConst& size = made[DesignationConstId{c}];
    if (size.designation.index < count) is_written[size.designation.index][size.form] = true;
  }
  for (std::size_t i = 0; i < count; ++i) {
    const auto& forms = context.designation_decls[i]->forms;
    if (forms.size() < 2 || forms.size() > most_forms_with_samples) continue;
    for (std::size_t f = 0; f < forms.size(); ++f)
      if (!is_written[i][f] && !forms[f].patterns.empty())
        match_text(context, DesignationId{i}, sample_text(context, forms[f].patterns[0]));
  }
}

}  // namespace mm
