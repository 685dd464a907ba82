// Every row of tests/outside/trade.csv is proved by a trial in rules/standards that names its id and holds
// its expected numbers, or stands in trade_not_expressed.csv with a reason and the case that shows it.
// Running the trials and cases is the checker's work.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

const fs::path root = MATCHMARK_SOURCE_DIR;

std::string text_of(const fs::path& path) {
  std::ifstream in(path);
  REQUIRE_MESSAGE(in.good(), path.string());
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

// One record a line; fields may be quoted and hold commas.
std::vector<std::string> csv_fields(const std::string& line) {
  std::vector<std::string> fields(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      fields.emplace_back();
    } else if (c != '\r') {
      fields.back() += c;
    }
  }
  return fields;
}

std::map<std::string, std::vector<std::string>> csv_rows(const fs::path& path) {
  std::map<std::string, std::vector<std::string>> rows;
  std::istringstream in(text_of(path));
  std::string line;
  std::getline(in, line);  // header
  while (std::getline(in, line)) {
    auto fields = csv_fields(line);
    const std::string id = fields[0];
    CHECK_MESSAGE(rows.emplace(id, std::move(fields)).second, id << " stands twice");
  }
  return rows;
}

// id -> text of every trial whose title begins with ids
std::map<std::string, std::string> trials_by_id() {
  std::map<std::string, std::string> found;
  const std::regex id("[A-Z]{3}-[0-9]{3}");
  for (const auto& file : fs::directory_iterator(root / "rules/standards")) {
    if (file.path().extension() != ".rules") continue;
    const std::string text = text_of(file.path());
    for (std::size_t at = text.find("\ntrial \""); at != std::string::npos;
         at = text.find("\ntrial \"", at + 1)) {
      const std::size_t end = text.find("\n}", at);
      REQUIRE(end != std::string::npos);
      const std::string title = text.substr(at, text.find('\n', at + 1) - at);
      const std::string body = text.substr(at + title.size(), end - at - title.size());
      for (auto it = std::sregex_iterator(title.begin(), title.end(), id); it != std::sregex_iterator(); ++it)
        found[it->str()] += body;
    }
  }
  return found;
}

bool holds_number(const std::string& body, const std::string& number) {
  const std::string escaped = std::regex_replace(number, std::regex(R"(\.)"), R"(\.)");
  return std::regex_search(body, std::regex("(^|[^0-9.])" + escaped + "($|[^0-9])"));
}

}  // namespace

TEST_CASE("every published trade value has a trial") {
  const auto rows = csv_rows(root / "tests/outside/trade.csv");
  const auto left_out = csv_rows(root / "tests/outside/trade_not_expressed.csv");
  const auto trials = trials_by_id();
  CHECK(rows.size() == 320);
  CHECK(left_out.size() < 10);
  const std::regex number(R"(-?[0-9]+(\.[0-9]+)?)");
  const std::regex separator(R"(\||\.\.)");
  int numbers = 0;
  for (const auto& entry : rows) {
    const std::string& id = entry.first;
    const auto& row = entry.second;
    const auto trial = trials.find(id);
    if (left_out.contains(id)) {
      CHECK_MESSAGE(trial == trials.end(), id << " has a trial and is said to be left out");
      CHECK_MESSAGE(!left_out.at(id)[1].empty(), id << " gives no reason");
      REQUIRE_MESSAGE(left_out.at(id).size() == 3, id << " names no case");
      CHECK_MESSAGE(fs::is_regular_file(root / left_out.at(id)[2]), left_out.at(id)[2]);
      continue;
    }
    REQUIRE_MESSAGE(trial != trials.end(), id << " has no trial: " << row[2]);
    CHECK_MESSAGE(trial->second.find("expect ") != std::string::npos, id);
    const std::string& expected = row[4];
    for (std::sregex_token_iterator part(expected.begin(), expected.end(), separator, -1), end; part != end;
         ++part) {
      const std::string value = part->str();
      if (id == "STK-030" || !std::regex_match(value, number)) continue;  // STK-030 brackets its two ends
      CHECK_MESSAGE(holds_number(trial->second, value), id << ": no trial holds " << value);
      ++numbers;
    }
  }
  CHECK(numbers > 250);
  for (const auto& entry : left_out)
    CHECK_MESSAGE(rows.contains(entry.first), entry.first << " is no row of trade.csv");
}
