// Text to tree and back for the tests of the syntax step.
#pragma once
#include <algorithm>
#include <stdexcept>
#include <string>
#include <string_view>

#include "syntax/load.hpp"
#include "syntax/print.hpp"
#include "syntax/same_tree.hpp"

namespace mm_test {

struct Parsed {
  explicit Parsed(std::string text) { add(std::move(text)); }

  void add(std::string text) { mm::load_text("test.rules", std::move(text), sources, names, tree, messages); }
  bool clean() const { return messages.all().empty(); }
  const mm::FileTree& file() const { return tree.files.back(); }
  template <typename T>
  const T& only() const {
    return at<T>(0);
  }
  template <typename T>
  const T& at(std::size_t i) const {
    const T* declared = mm::declared_as<T>(file().declarations.at(i));
    if (declared == nullptr) throw std::runtime_error("another declaration");
    return *declared;
  }
  std::string name(mm::Symbol symbol) const { return std::string(names.text(symbol)); }
  std::string name(const mm::Name& n) const { return std::string(names.text(n.symbol)); }
  std::string text(mm::Span span) const { return std::string(sources.text(span)); }
  std::string tidy() const { return mm::print(file(), tree, sources, names); }

  /// "line:column text [code]" of every message in order, one a line.
  std::string said() const {
    std::string result;
    for (const mm::Message& message : messages.sorted(100, nullptr)) {
      const mm::Place place = sources.place(message.span);
      result += std::to_string(place.line) + ":" + std::to_string(place.column) + " " +
                mm::message_text(message) + "\n";
    }
    return result;
  }

  mm::Sources sources;
  mm::Names names;
  mm::Tree tree;
  mm::Messages messages;
};

/// Whether a text without errors comes back as the same tree, and the second time as the same bytes.
inline std::string round_trip_problem(const std::string& text) {
  Parsed parsed(text);
  if (!parsed.clean()) return "has errors: " + parsed.said();
  const std::string once = parsed.tidy();
  parsed.add(once);
  if (!parsed.clean()) return "tidied text has errors: " + parsed.said() + once;
  if (!mm::same_tree(parsed.tree.files[0], parsed.tree, parsed.tree.files[1], parsed.tree, parsed.sources))
    return "another tree: " + once;
  return parsed.tidy() == once ? "" : "not stable:\n" + once + "then:\n" + parsed.tidy();
}

}  // namespace mm_test
