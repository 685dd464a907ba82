#include "resolve/designation_hints.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/near_miss.hpp"
#include "messages/slips.hpp"
#include "resolve/designation_match.hpp"

namespace mm {

namespace {

constexpr std::size_t longest_shown = 60;      // bytes of an example or form
constexpr std::size_t most_looked_at = 1'000;  // sizes, for examples
constexpr std::size_t most_shown = 2;
constexpr std::size_t price_of_hint = 500;  // in names

/// Without blanks at its ends, and `inside` without any.
std::string trimmed(std::string_view text, bool inside) {
  const std::size_t begin = std::min(text.find_first_not_of(' '), text.size());
  std::string out(text.substr(begin, text.find_last_not_of(' ') + 1 - begin));
  if (inside) std::erase(out, ' ');
  return out;
}

/// The pattern's spelling of what is readable but for large and small letters; "" where it is not.
std::string readable(Context& context, DesignationId id, const std::string& text) {
  if (text.empty()) return {};
  const DesignationDef& def = context.model.designations[id];
  for (const FormDecl& form : context.designation_decls[id.index]->forms)
    for (const auto& pattern : form.patterns) {
      Matcher matcher(context, def, pattern, text, Matcher::Letters::large_or_small);
      if (matcher.run()) return matcher.corrected();
    }
  return {};
}

/// Some that are readable, the nearest first and then others of other forms.
std::vector<std::string_view> examples(Context& context, DesignationId id, std::string_view text) {
  const auto& all = context.model.designation_consts;
  std::vector<std::string_view> sizes, out;
  std::vector<std::uint32_t> forms, forms_shown;
  const std::size_t looked_at = std::min(all.size(), most_looked_at);
  if (looked_at > context.names_for_hints) return out;
  context.names_for_hints -= looked_at;
  for (std::size_t i = 0; i < looked_at; ++i) {
    const DesignationConst& size = all[DesignationConstId{i}];
    if (size.designation != id || size.text.size() > longest_shown) continue;
    sizes.emplace_back(size.text);
    forms.push_back(size.form);
  }
  const std::string near = nearest_name(text, sizes);
  for (const bool nearest : {true, false})
    for (std::size_t i = 0; i < sizes.size() && out.size() < most_shown; ++i) {
      if (nearest && sizes[i] != near) continue;
      if (std::find(forms_shown.begin(), forms_shown.end(), forms[i]) != forms_shown.end()) continue;
      out.push_back(sizes[i]);
      forms_shown.push_back(forms[i]);
    }
  return out;
}

}  // namespace

std::string hint_for_size(Context& context, DesignationId id, std::string_view text) {
  if (text.size() > max_size_length) return fmt::format("a size has at most {} bytes", max_size_length);
  if (context.names_for_hints < price_of_hint) return {};
  context.names_for_hints -= price_of_hint;
  const std::string plain = plain_signs(text);
  for (const std::string& written : {trimmed(text, false), trimmed(plain, false), trimmed(plain, true)})
    if (const std::string right = readable(context, id, written); !right.empty())
      return fmt::format("write \"{}\"", right);
  std::string out;
  for (const std::string_view size : examples(context, id, text))
    out += fmt::format("{}\"{}\"", out.empty() ? "as " : " or ", size);
  if (!out.empty()) return out;
  std::size_t shown = 0;
  for (const FormDecl& form : context.designation_decls[id.index]->forms) {
    if (form.pattern_texts.empty() || shown == most_shown) continue;
    const std::string_view pattern = form.pattern_texts[0].text;
    if (pattern.size() > longest_shown) continue;
    out += fmt::format("{}{}", ++shown == 1 ? "it is written " : " or ", pattern);
  }
  const auto& doc = context.designation_decls[id.index]->doc;
  return out.empty() && doc ? in_one_line(doc->text) : out;
}

}  // namespace mm
