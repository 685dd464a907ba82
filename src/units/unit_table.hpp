// The unit table: built-in units with exact factors (NIST SP 811), and those a file declares.
#pragma once
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "base/names.hpp"
#include "units/dimension.hpp"

namespace mm {

/// A unit or a product of units. Value in base units = value * factor * pi^pi_power + offset.
/// Base units: m, kg, s, K, turn, A, mol, cd, and each currency itself. Factors are exact, never 0.
/// pi_power is -1 for rad (1 rad = 1/(2 pi) turn), else mostly 0. offset only for degC and degF.
struct Unit {
  Dimension dimension;
  Rational factor = 1;
  Rational offset = 0;
  int pi_power = 0;
  std::string text;              // as written: "N*m"
  bool for_differences = false;  // delta_degC and delta_degF: no reading is told in them

  /// Can say how much there is of something of this dimension; `is_difference`: of temperatures.
  bool tells(const Dimension& its, bool is_difference) const {
    return compatible(dimension, its) && (is_difference || !for_differences);
  }
};

/// One factor of a written unit: name and integer power, already signed ("m/s^2" = m:1, s:-2).
struct UnitFactor {
  std::string_view name;
  int power = 1;
};

/// True for the name of a built-in unit ("mm", "lbf", "degC", "rev", "percent"); constant time.
/// Needs no table: the grammar uses it to tell a unit from the next word.
bool is_builtin_unit(std::string_view name);

class UnitTable {
 public:
  /// False when the name is taken.
  bool declare(std::string_view name, const Unit& definition);
  bool declare_currency(Symbol name, std::string_view text);
  const Unit* find(std::string_view name) const;
  /// Product of factors. `bad_name` receives the first unknown name; degC/degF inside a product are refused
  /// (nullopt with empty bad_name), as are powers beyond 24 and
  /// factors beyond 4096 bits. N*m, lbf*ft, ... get the torque tag; J, kWh energy.
  std::optional<Unit> product(std::span<const UnitFactor> factors, std::string* bad_name) const;
  /// Every name, sorted, for suggestions.
  std::vector<std::string_view> all_names() const;
  /// The dimension that the trade calls by this word: "length", "pressure", "torque", "ratio",
  /// "temperature", "speed", "rotation" (angle per time) ...; nullopt when it is no dimension word.
  static std::optional<Dimension> dimension_word(std::string_view word);
  static std::vector<std::string_view> dimension_words();

 private:
  struct TextHash {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const noexcept {
      return std::hash<std::string_view>{}(text);
    }
  };
  // several threads may ask; none may declare meanwhile
  std::unique_ptr<std::mutex> mutex_ = std::make_unique<std::mutex>();
  /// The declared ones, and built-in ones once they were asked for.
  mutable std::unordered_map<std::string, Unit, TextHash, std::equal_to<>> units_;
};

/// Value in base units of `amount` in `unit`; only for pi_power == 0.
Rational to_base(const Rational& amount, const Unit& unit);
/// The reverse; only for pi_power == 0.
Rational from_base(const Rational& base_value, const Unit& unit);

}  // namespace mm
