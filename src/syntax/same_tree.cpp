// Two trees that say the same, whatever their layout.
#include "syntax/same_tree.hpp"

#include <algorithm>

#include "syntax/node_parts.hpp"

namespace mm {

namespace {

using node_parts::parts;

class Comparer {
 public:
  Comparer(const Tree& a, const Tree& b, const Sources& sources) : a_(a), b_(b), sources_(sources) {}

  template <typename T>
  requires std::is_arithmetic_v<T> || std::is_enum_v<T>
  bool same(const T& a, const T& b) const { return a == b; }
  bool same(const std::string& a, const std::string& b) const { return a == b; }
  bool same(std::string_view a, std::string_view b) const { return a == b; }
  bool same(Symbol a, Symbol b) const { return a == b; }
  bool same(const UnknownValue&, const UnknownValue&) const { return true; }
  bool same(const Span&, const Span&) const { return true; }  // where it stands is layout
  bool same(const Assignment& a, const Assignment& b) const {
    return same(a.path, b.path) && same(a.value, b.value);
  }
  bool same(const Expr& a, const Expr& b) const { return same(a.form, b.form); }
  bool same(const QuantitySyntax& a, const QuantitySyntax& b) const {
    return a.negative() == b.negative() && sources_.text(a.number().span) == sources_.text(b.number().span) &&
           same(a.unit, b.unit);
  }
  bool same(const QuantityValue& a, const QuantityValue& b) const {
    return a.spread == b.spread && same(a.quantity, b.quantity) && same(a.plus(), b.plus()) &&
           same(a.minus(), b.minus());
  }
  bool same(ExprId a, ExprId b) const { return same_items(a_.exprs, a, b_.exprs, b); }
  bool same(ValueId a, ValueId b) const { return same_items(a_.values, a, b_.values, b); }
  bool same(BinderId a, BinderId b) const { return same_items(a_.binders, a, b_.binders, b); }
  bool same(QuantityId a, QuantityId b) const { return same_items(a_.quantities, a, b_.quantities, b); }
  bool same(WordId a, WordId b) const { return same_items(a_.words, a, b_.words, b); }
  bool same(TextId a, TextId b) const { return same_items(a_.texts, a, b_.texts, b); }
  bool same(EvidenceId a, EvidenceId b) const { return same_items(a_.evidence, a, b_.evidence, b); }
  bool same(UnitId a, UnitId b) const { return same_items(a_.units, a, b_.units, b); }
  bool same(AssignmentId a, AssignmentId b) const { return same_items(a_.assignments, a, b_.assignments, b); }
  bool same(PathId a, PathId b) const {
    for (; a && b; a = a_.paths.outer(a), b = b_.paths.outer(b))
      if (a_.paths.last(a) != b_.paths.last(b)) return false;
    return a.is_none() && b.is_none();
  }
  template <typename T>
  bool same(const IdRange<T>& a, const IdRange<T>& b) const {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
      if (!same(a[i], b[i])) return false;
    return true;
  }
  template <typename T>
  bool same(const std::optional<T>& a, const std::optional<T>& b) const {
    return a.has_value() == b.has_value() && (!a || same(*a, *b));
  }
  template <typename T>
  bool same(const Boxed<T>& a, const Boxed<T>& b) const {
    return a.has_value() == b.has_value() && (!a || same(*a, *b));
  }
  template <typename T>
  bool same(const Run<T>& a, const Run<T>& b) const {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [&](const T& x, const T& y) { return same(x, y); });
  }
  template <typename T>
  bool same(const std::deque<T>& a, const std::deque<T>& b) const {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [&](const T& x, const T& y) { return same(x, y); });
  }
  template <typename T>
  bool same(const std::vector<T>& a, const std::vector<T>& b) const {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [&](const T& x, const T& y) { return same(x, y); });
  }
  template <typename... T>
  bool same(const std::variant<T...>& a, const std::variant<T...>& b) const {
    if (a.index() != b.index()) return false;
    return std::visit([&](const auto& x) { return same(x, std::get<std::decay_t<decltype(x)>>(b)); }, a);
  }
  template <typename T>
  requires requires(const T& node) { parts(node); }
  bool same(const T& a, const T& b) const {
    return same_parts(parts(a), parts(b), std::make_index_sequence<std::tuple_size_v<decltype(parts(a))>>());
  }

 private:
  template <typename Items, typename IdT>
  bool same_items(const Items& in_a, IdT a, const Items& in_b, IdT b) const {
    return a.is_none() == b.is_none() && (a.is_none() || same(in_a[a], in_b[b]));
  }

  template <typename Parts, std::size_t... I>
  bool same_parts(const Parts& a, const Parts& b, std::index_sequence<I...>) const {
    return (same(std::get<I>(a), std::get<I>(b)) && ...);
  }

  const Tree& a_;
  const Tree& b_;
  const Sources& sources_;
};

std::vector<std::string_view> comments_of(const FileTree& file, const Sources& sources) {
  std::vector<std::string_view> result;
  for (const Span comment : file.comments) result.push_back(sources.text(comment));
  std::sort(result.begin(), result.end());
  return result;
}

}  // namespace

bool same_tree(const FileTree& a, const Tree& tree_a, const FileTree& b, const Tree& tree_b,
               const Sources& sources) {
  return Comparer(tree_a, tree_b, sources).same(a.declarations, b.declarations) &&
         comments_of(a, sources) == comments_of(b, sources);
}

}  // namespace mm
