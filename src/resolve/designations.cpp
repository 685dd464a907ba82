// Declarations of designations, and the sizes that texts write.
#include "resolve/designations.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_set>

#include "resolve/designation_hints.hpp"
#include "resolve/designation_match.hpp"

namespace mm {

namespace {

constexpr std::size_t most_with_samples = 64, most_forms_with_samples = 16;

bool same_type(const Type& a, const Type& b) {
  return a.kind == b.kind && compatible(a.dimension, b.dimension) && a.choices == b.choices &&
         a.designation == b.designation;
}

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
      Matcher matcher(context, def, pattern, text, Matcher::Letters::as_written);
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
  SymbolMap<std::uint32_t> field_at;
  const auto add_field = [&](const Name& name, const Type& type) {
    const auto [at, fresh] = field_at.try_emplace(name.symbol, static_cast<std::uint32_t>(def.fields.size()));
    if (fresh) {
      def.fields.push_back({name.symbol, type});
    } else if (type.kind != TypeKind::error && !same_type(def.fields[*at].type, type)) {
      context.messages.add(Code::wrong_dimension, name.span,
                           {type_text(context, def.fields[*at].type), type_text(context, type)},
                           "a field means the same in every form");
    }
  };
  FirstNames names;
  for (const auto& form_decl : decl.forms) {
    FormDef form;
    form.name = form_decl.name ? form_decl.name->symbol : context.names.intern("standard");
    form.span = form_decl.span;
    for (const TextLiteral& pattern : form_decl.pattern_texts) form.patterns.push_back(pattern.span);
    if (form_decl.name) {
      names.declare(context, "form", *form_decl.name);
    } else {
      names.take({form.name, form.span});
    }
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
        def.forms.back().written.push_back({piece.field->symbol, read.type, read.unit, read.letter});
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
  context.messages.add(Code::designation_unreadable, span, {std::string(text), context.text(def.name)},
                       hint_for_size(context, id, text));
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
