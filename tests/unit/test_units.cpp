#include <doctest/doctest.h>
#include <mpfr.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "base/unit_names.hpp"
#include "units/builtin_units.hpp"
#include "units/unit_table.hpp"

using mm::Dimension;
using mm::Rational;
using mm::Unit;
using mm::UnitFactor;
using mm::UnitTable;

namespace {

/// "lbf*ft", "m/s^2", "1/K" in this test's own small reader.
std::optional<Unit> unit_of(const UnitTable& table, const std::string& text) {
  std::vector<UnitFactor> factors;
  int sign = 1;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find_first_of("*/", at), text.size());
    const std::string_view word = std::string_view(text).substr(at, end - at);
    const std::size_t hat = word.find('^');
    const int power = hat == std::string_view::npos ? 1 : std::stoi(std::string(word.substr(hat + 1)));
    if (word != "1") factors.push_back({word.substr(0, hat), sign * power});
    if (end < text.size()) sign = text[end] == '/' ? -1 : 1;
    at = end + 1;
  }
  return table.product(factors, nullptr);
}

/// The csv's spelling of a product, in ours: "lbf.ft" is lbf*ft, "cm2" is cm^2.
std::string our_spelling(const std::string& name) {
  static const std::map<std::string, std::string> irregular = {{"g0", "g0"},
                                                               {"lbf.ft(energy)", "lbf*ft"},
                                                               {"inH2O", "inH2O"},
                                                               {"mmH2O", "mmH2O"},
                                                               {"1e-6/K", "ppm/K"}};
  if (const auto found = irregular.find(name); found != irregular.end()) return found->second;
  std::string result;
  for (std::size_t i = 0; i < name.size(); ++i) {
    const char c = name[i];
    const bool ends = i + 1 == name.size() || name[i + 1] == '/' || name[i + 1] == '.';
    if (c == '.') {
      result += '*';
    } else if ((c == '2' || c == '3' || c == '4') && i > 0 && ends) {
      result += '^';
      result += c;
    } else {
      result += c;
    }
  }
  return result;
}

double times_pi_power(const Rational& factor, int pi_power) {
  mpfr_t value;
  mpfr_t pi;
  mpfr_inits2(200, value, pi, nullptr);
  mpfr_const_pi(pi, MPFR_RNDN);
  mpfr_pow_si(value, pi, pi_power, MPFR_RNDN);
  mpfr_mul_q(value, value, factor.gmp().get_mpq_t(), MPFR_RNDN);
  const double result = mpfr_get_d(value, MPFR_RNDN);
  mpfr_clears(value, pi, nullptr);
  return result;
}

std::vector<std::string> cells(const std::string& line) {
  std::vector<std::string> result;
  std::istringstream in(line);
  for (std::string cell; std::getline(in, cell, ',');) result.push_back(cell);
  return result;
}

}  // namespace

// Source: NIST SP 811 (2008) appendix B, definitions; the rows were recomputed from them.
TEST_CASE("units convert as in the published table") {
  const UnitTable table;
  std::ifstream file(std::string(MATCHMARK_SOURCE_DIR) + "/tests/outside/units.csv");
  REQUIRE(file);
  std::string line;
  std::getline(file, line);
  int rows = 0;
  while (std::getline(file, line)) {
    CAPTURE(line);
    const std::vector<std::string> row = cells(line);
    REQUIRE(row.size() == 7);
    auto from = unit_of(table, our_spelling(row[1]));
    auto to = unit_of(table, our_spelling(row[2]));
    REQUIRE(from);
    REQUIRE(to);
    if (row[0] == "energy") {  // lbf*ft alone means a torque here
      from->dimension.tag = to->dimension.tag = mm::QuantityTag::energy;
    }
    CHECK(compatible(from->dimension, to->dimension));
    if (!row[3].empty()) {
      const Rational factor = *mm::read_number(row[3]), offset = *mm::read_number(row[5]);
      CHECK(from->pi_power == to->pi_power);
      CHECK(from->factor / to->factor == factor);
      CHECK((from->offset - to->offset) / to->factor == offset);
    } else {
      const double got = times_pi_power(from->factor / to->factor, from->pi_power - to->pi_power);
      CHECK(got == doctest::Approx(std::stod(row[4])).epsilon(1e-15));
    }
    ++rows;
  }
  CHECK(rows == 107);
}

TEST_CASE("the trade's words name the dimension of the table's families") {
  const UnitTable table;
  const std::map<std::string, std::string> families = {{"mm", "length"},
                                                       {"cm^2", "area"},
                                                       {"US_gal", "volume"},
                                                       {"oz", "mass"},
                                                       {"lbf", "force"},
                                                       {"kgf*m", "torque"},
                                                       {"kgf/cm^2", "pressure"},
                                                       {"km/h", "speed"},
                                                       {"m/s^2", "acceleration"},
                                                       {"PS", "power"},
                                                       {"kWh", "energy"},
                                                       {"lbf/in", "spring_rate"},
                                                       {"deg", "angle"},
                                                       {"rpm", "rotation"},
                                                       {"rad/s", "rotation"},
                                                       {"Hz", "frequency"},
                                                       {"degC", "temperature"},
                                                       {"mm^2/s", "kinematic_viscosity"},
                                                       {"1/K", "thermal_expansion"},
                                                       {"rev/km", "revs_per_length"},
                                                       {"kg/m^3", "density"},
                                                       {"percent", "ratio"},
                                                       {"tpi", "per_length"},
                                                       {"A", "current"},
                                                       {"V", "voltage"}};
  const mm::Names names;
  for (const auto& [name, word] : families) {
    const auto& text = name;
    CAPTURE(text);
    const auto unit = unit_of(table, text);
    REQUIRE(unit);
    CHECK(mm::dimension_name(unit->dimension, names) == word);
    CHECK(*UnitTable::dimension_word(word) == unit->dimension);
  }
  CHECK_FALSE(UnitTable::dimension_word("lenght"));
  for (const auto word : UnitTable::dimension_words()) CHECK(UnitTable::dimension_word(word));
}

TEST_CASE("torque and energy do not mix; neither is tagged by accident") {
  const UnitTable table;
  for (const char* text : {"N*m", "lbf*ft", "lbf*in", "kgf*m", "ozf*in", "ft*lbf", "kN*mm"}) {
    CAPTURE(text);
    CHECK(unit_of(table, text)->dimension.tag == mm::QuantityTag::torque);
    CHECK_FALSE(compatible(unit_of(table, text)->dimension, table.find("J")->dimension));
  }
  for (const char* text : {"J", "kJ", "Wh", "kWh", "cal", "kcal", "BTU"}) {
    CHECK(table.find(text)->dimension.tag == mm::QuantityTag::energy);
  }
  for (const char* text : {"W*s", "Pa*m^3", "kg*m^2/s^2"}) {
    CAPTURE(text);
    CHECK(unit_of(table, text)->dimension.tag == mm::QuantityTag::none);
    CHECK(compatible(unit_of(table, text)->dimension, table.find("J")->dimension));
    CHECK(compatible(unit_of(table, text)->dimension, unit_of(table, "N*m")->dimension));
  }
  CHECK(unit_of(table, "N*m/deg")->dimension.tag == mm::QuantityTag::none);
}

TEST_CASE("temperatures keep their offset and stay out of products") {
  const UnitTable table;
  CHECK(mm::to_base(20, *table.find("degC")) == *mm::read_number("293.15"));
  CHECK(mm::to_base(-40, *table.find("degF")) == mm::to_base(-40, *table.find("degC")));
  CHECK(mm::from_base(*mm::read_number("373.15"), *table.find("degF")) == 212);
  std::string bad = "x";
  const UnitFactor factors[] = {{"W", 1}, {"degC", -1}};
  CHECK_FALSE(table.product(factors, &bad));
  CHECK(bad.empty());
  CHECK(unit_of(table, "W/delta_degC"));
  CHECK(unit_of(table, "degC")->offset == Rational(5463, 20));
}

TEST_CASE("unknown names and absurd powers are refused") {
  UnitTable table;
  std::string bad;
  const UnitFactor unknown[] = {{"N", 1}, {"furlong", 1}};
  CHECK_FALSE(table.product(unknown, &bad));
  CHECK(bad == "furlong");
  const UnitFactor absurd[] = {{"km", 1000000}};
  CHECK_FALSE(table.product(absurd, &bad));
  CHECK(bad.empty());
  std::vector<UnitFactor> many(100000, UnitFactor{"slug", 20});
  CHECK_FALSE(table.product(many, &bad));
}

TEST_CASE("declared units, currencies") {
  UnitTable table;
  mm::Names names;
  Unit stone = *table.find("kg");
  stone.factor = *mm::read_number("6.35029318");
  CHECK(table.declare("stone", stone));
  CHECK_FALSE(table.declare("stone", stone));
  CHECK_FALSE(table.declare("mm", stone));
  CHECK(table.find("stone")->factor == table.find("st")->factor);
  CHECK(table.declare_currency(names.intern("GBP"), "GBP"));
  CHECK(table.declare_currency(names.intern("EUR"), "EUR"));
  const Dimension pounds = table.find("GBP")->dimension, euros = table.find("EUR")->dimension;
  CHECK_FALSE(compatible(pounds, euros));
  CHECK_FALSE(mm::quotient(pounds, euros));
  CHECK(mm::quotient(pounds, pounds)->is_ratio());
  CHECK(*mm::quotient(pounds, pounds) == Dimension{});
  CHECK(mm::dimension_name(pounds, names) == "GBP");
  CHECK(mm::dimension_name(unit_of(table, "GBP/km^5")->dimension, names) == "GBP*length^-5");
}

TEST_CASE("powers of dimensions") {
  const UnitTable table;
  const Dimension area = *UnitTable::dimension_word("area");
  CHECK(*mm::power(area, Rational(1, 2)) == *UnitTable::dimension_word("length"));
  CHECK_FALSE(mm::power(area, Rational(1, 7)));
  CHECK_FALSE(mm::power(area, *mm::read_number("100000000000000000000")));
  CHECK(mm::power(Dimension{}, Rational(1, 7))->is_ratio());
  const mm::Names names;
  CHECK(mm::dimension_name(*mm::power(*UnitTable::dimension_word("length"), Rational(1, 3)), names) ==
        "length^(1/3)");
  CHECK(mm::dimension_name(*mm::power(area, Rational(5, 2)), names) == "length^5");
}

TEST_CASE("is_builtin_unit") {
  for (const char* name : {"mm", "lbf", "degC", "rev", "percent", "in", "l", "L", "cc", "metric_hp"}) {
    CHECK(mm::is_builtin_unit(name));
  }
  for (const char* name : {"", "wheel", "MM", "stone", "GBP", "need"}) CHECK_FALSE(mm::is_builtin_unit(name));
  const UnitTable table;
  for (const auto name : table.all_names()) CHECK(mm::is_builtin_unit(name));
}

TEST_CASE("the grammar knows exactly the built-in units") {
  std::vector<std::string_view> names;
  for (const mm::BuiltinUnit& unit : mm::builtin_units()) names.push_back(unit.name);
  std::sort(names.begin(), names.end());
  const std::vector<std::string_view> known(mm::builtin_unit_names.begin(), mm::builtin_unit_names.end());
  CHECK(known == names);
  CHECK(std::is_sorted(known.begin(), known.end()));
}
