// One wrong name in many places is one mistake: told in full once, with the other places in a list.
#include <algorithm>
#include <array>
#include <map>
#include <tuple>

#include "messages/message.hpp"

namespace mm {

namespace {

constexpr std::size_t most_in_full = 5;

constexpr std::array name_codes{Code::unknown_name,   Code::unknown_type,      Code::unknown_unit,
                                Code::unknown_choice, Code::word_unknown,      Code::field_unknown,
                                Code::column_unknown, Code::attribute_unknown, Code::not_fitted};

}  // namespace

void Messages::gather_same_names() {
  using Wording = std::tuple<Code, std::vector<std::string>, std::string>;
  std::map<Wording, std::vector<std::size_t>> same;
  for (std::size_t i = 0; i < list_.size(); ++i) {
    const Message& one = list_[i];
    if (std::find(name_codes.begin(), name_codes.end(), one.code) != name_codes.end() && one.labels.empty())
      same[{one.code, one.arguments, one.hint}].push_back(i);
  }
  std::vector<bool> gone(list_.size());
  for (auto& [wording, indexes] : same) {
    const auto place = [&](std::size_t i) {
      return std::tie(list_[i].span.file, list_[i].span.begin, list_[i].span.end);
    };
    std::sort(indexes.begin(), indexes.end(), [&](auto a, auto b) { return place(a) < place(b); });
    indexes.erase(
        std::unique(indexes.begin(), indexes.end(), [&](auto a, auto b) { return place(a) == place(b); }),
        indexes.end());
    if (indexes.size() <= most_in_full) continue;
    Message& first = list_[indexes.front()];
    for (const std::size_t i : indexes) {
      if (i == indexes.front()) continue;
      first.same_at.push_back(list_[i].span);
      gone[i] = true;
    }
  }
  drop([&](std::size_t i) { return gone[i]; });
}

}  // namespace mm
