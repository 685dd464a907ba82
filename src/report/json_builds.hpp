// The builds of a JSON report, put in words one after another: what is held is their text, in pieces, and
// never a tree of all of it.
#pragma once
#include <deque>
#include <functional>
#include <span>
#include <string>

#include "report/json_parts.hpp"

namespace mm {

class JsonBuilds {
 public:
  /// A list of a build, empty in it, that has so many items; each is asked for once, in order.
  struct Members {
    std::string_view key;
    std::size_t items = 0;
    std::function<Json(std::size_t)> item;
  };
  void add(const Json& build, std::span<const Members> long_ones = {});
  bool empty() const { return pieces_.empty(); }
  /// The whole report of that name, which `dump` would give; nothing is left here.
  std::deque<std::string> text(std::string_view report, int exit_status);

 private:
  /// Room for some more text.
  std::string& end();
  void put(const Json& value, std::size_t indent);

  std::deque<std::string> pieces_;
};

}  // namespace mm
