#include "report/json_builds.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace mm {

namespace {

constexpr std::size_t piece_size = std::size_t{1} << 20U;
constexpr std::size_t of_build = 4, of_member = 6, of_item = 8;  // blanks before a line

}  // namespace

std::string& JsonBuilds::end() {
  if (pieces_.empty() || pieces_.back().size() > piece_size) pieces_.emplace_back();
  return pieces_.back();
}

void JsonBuilds::put(const Json& value, std::size_t indent) {
  const std::string text = value.dump(2, ' ', true);
  std::string& to = end();
  std::size_t from = 0;
  // a line end within a text is written "\\n": each of these ends a line of the report
  for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', from)) {
    to.append(text, from, at + 1 - from).append(indent, ' ');
    from = at + 1;
  }
  to.append(text, from);
}

void JsonBuilds::add(const Json& build, std::span<const Members> long_ones) {
  const std::string_view before = empty() ? "\n" : ",\n";
  end().append(before).append(of_build, ' ') += '{';
  bool first = true;
  for (const auto& [name, value] : build.items()) {
    end().append(first ? "\n" : ",\n").append(of_member, ' ') += Json(name).dump(-1, ' ', true) + ": ";
    first = false;
    const auto its = [&, &key = name](const Members& one) { return one.key == key; };
    const auto members = std::find_if(long_ones.begin(), long_ones.end(), its);
    if (members == long_ones.end() || members->items == 0) {
      put(value, of_member);
      continue;
    }
    for (std::size_t i = 0; i < members->items; ++i) {
      end().append(i == 0 ? "[\n" : ",\n").append(of_item, ' ');
      put(members->item(i), of_item);
    }
    end().append("\n").append(of_member, ' ') += ']';
  }
  end().append("\n").append(of_build, ' ') += '}';
}

std::deque<std::string> JsonBuilds::text(std::string_view report, int exit_status) {
  Json head = report_head(report);
  head["exit_status"] = exit_status;
  head["builds"] = Json::array();
  std::string before = head.dump(2, ' ', true);
  before.erase(before.size() - 3);  // "]", a line end and "}"
  std::string after = empty() ? "]\n}\n" : "\n  ]\n}\n";
  std::deque<std::string> out = std::move(pieces_);
  pieces_.clear();
  out.push_front(std::move(before));
  out.push_back(std::move(after));
  return out;
}

}  // namespace mm
