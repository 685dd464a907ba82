// A tree with everything in it as text: every store, id, symbol and place. Equal texts, equal trees.
#pragma once
#include <string>

#include "syntax/node_parts.hpp"

namespace mm_test {

class TreeText {
 public:
  TreeText(const mm::Tree& tree, const mm::Names& names) {
    for (std::size_t i = 0; i < names.size(); ++i) put(names.text(mm::Symbol{i}));
    put_all("exprs", tree.exprs);
    put_all("binders", tree.binders);
    put_all("assignments", tree.assignments);
    put_all("face blocks", tree.face_blocks);
    put_all("values", tree.values);
    put_all("quantities", tree.quantities);
    put_all("words", tree.words);
    put_all("texts", tree.texts);
    put_all("evidence", tree.evidence);
    put_all("units", tree.units);
    for (std::size_t i = 0; i < tree.units.size(); ++i) put(tree.text(mm::UnitId{i}));
    for (std::size_t i = 0; i < tree.paths.size(); ++i) {
      put(tree.paths.outer(mm::PathId{i}));
      put(tree.paths.last(mm::PathId{i}));
    }
    for (const mm::FileTree& file : tree.files) {
      put(file.file);
      put(file.declarations);
      put(file.comments);
    }
  }

  std::string text;

 private:
  template <typename Items>
  void put_all(const char* what, const Items& items) {
    text += '\n';
    text += what;
    for (const auto& item : items) put(item);
  }
  template <typename T>
  requires std::is_arithmetic_v<T> || std::is_enum_v<T>
  void put(const T& value) { text += ' ' + std::to_string(static_cast<long long>(value)); }
  void put(std::string_view value) {
    text += " \"";
    text += value;
    text += '"';
  }
  void put(const mm::UnknownValue&) { text += " ?"; }
  template <typename Tag>
  void put(mm::Id<Tag> id) {
    text += id ? " @" + std::to_string(id.index) : std::string(" none");
  }
  template <typename T>
  void put(const mm::IdRange<T>& range) {
    put(range.first);
    put(range.count);
  }
  template <typename T>
  void put_list(const T& list) {
    text += " [";
    for (const auto& item : list) put(item);
    text += ']';
  }
  template <typename T>
  void put(const std::vector<T>& list) {
    put_list(list);
  }
  template <typename T>
  void put(const mm::Run<T>& list) {
    put_list(list);
  }
  template <typename T>
  void put(const std::optional<T>& value) {
    text += value ? " +" : " -";
    if (value) put(*value);
  }
  template <typename T>
  void put(const mm::Boxed<T>& value) {
    text += value ? " +" : " -";
    if (value) put(*value);
  }
  template <typename... T>
  void put(const std::variant<T...>& value) {
    text += " <" + std::to_string(value.index());
    std::visit([&](const auto& one) { put(one); }, value);
    text += '>';
  }
  template <typename T>
  requires requires(const T& node) { mm::node_parts::parts(node); }
  void put(const T& node) {
    mm::for_each_part(node, [&](const auto& part) { put(part); });
  }
};

inline std::string tree_text(const mm::Tree& tree, const mm::Names& names) {
  return TreeText(tree, names).text;
}

}  // namespace mm_test
