#include "report/regions.hpp"

#include <algorithm>

#include "report/numbers.hpp"

namespace mm {

namespace {

constexpr long first_day = -719'162, last_day = 2'932'896;  // 0001-01-01 and 9999-12-31
constexpr int exact_digits = 7, most_digits = 16;

/// A number on the inner side of a limit, or the limit itself.
struct Told {
  std::string text;
  Rational value;  // as it is read
  bool exact = false;
};

/// How the ends are written.
struct Ends {
  const Unit& unit;
  std::optional<Rational> gap = std::nullopt;  // between what fits and what does not, within what is known
  TypeKind kind = TypeKind::quantity;
  int least_digits = 2;
  std::optional<Rational> known = std::nullopt;  // how wide it is

  bool date() const { return kind == TypeKind::date; }
  bool whole() const { return date() || kind == TypeKind::count; }

  Told told(const Limit& limit, Rounding rounding) const {
    if (date()) {
      const Rational day = rounding == Rounding::up ? ceil(limit.at) : floor(limit.at);
      return {date_text(*whole_word(std::clamp<Rational>(day, first_day, last_day))), day, true};
    }
    const Rational value = in_unit(limit.at, unit);
    const std::string suffix = unit_suffix(unit);
    if (const auto near_zero = told_near_zero(value, rounding))
      return {near_zero->first + suffix, near_zero->second};
    const std::string nearest = significant(value, exact_digits);
    const auto shown = read_back(nearest);
    // pi is not exact in any unit
    const Rational off = unit.pi_power == 0 ? Rational(0) : times_power_of_two(abs(value), -80);
    if (shown && abs(*shown - value) <= off) return {nearest + suffix, *shown, true};
    for (int digits = least_digits; gap && *gap != 0 && digits < 8; ++digits) {
      const std::string shorter = significant(value, digits, rounding);
      const auto read = read_back(shorter);
      if (!read) break;
      if (abs(*read - value) * 20 <= abs(in_steps(*gap, unit))) return {shorter + suffix, *read, false};
    }
    const std::string usual = significant(value, std::max(usual_digits, least_digits), rounding);
    return {usual + suffix, read_back(usual).value_or(value), false};
  }
  /// Next to nothing beside what is known: nothing, or a thousandth of that, whichever is on the inner side.
  std::optional<std::pair<std::string, Rational>> told_near_zero(const Rational& value,
                                                                 Rounding rounding) const {
    if (!known || value == 0) return std::nullopt;
    const Rational width = in_steps(*known, unit);
    if (abs(value) * 1'000'000 >= width) return std::nullopt;
    const bool outwards = rounding == (value > 0 ? Rounding::up : Rounding::down);
    const std::string text =
        outwards ? (value < 0 ? "-" : "") + significant(width / 1000, 1, Rounding::down) : "0";
    return std::pair{text, read_back(text).value_or(value)};
  }
  std::string up(const Limit& limit) const {
    const Told end = told(limit, Rounding::up);
    if (limit.open && end.exact) return (date() ? "after " : "more than ") + end.text;
    return end.text + (date() ? " or later" : " or more");
  }
  std::string down(const Limit& limit) const {
    const Told end = told(limit, Rounding::down);
    if (limit.open && end.exact) return (date() ? "before " : "less than ") + end.text;
    return end.text + (date() ? " or earlier" : " or less");
  }
  bool apart(const Limit& from, const Limit& to) const {
    return told(from, Rounding::up).value < told(to, Rounding::down).value;
  }
  /// As many digits as keep the ends of a narrow window in order.
  void tell_apart(const std::optional<Limit>& from, const std::optional<Limit>& to) {
    if (!from || !to || from->at >= to->at || whole() || apart(*from, *to)) return;
    for (least_digits = usual_digits + 1; least_digits < most_digits && !apart(*from, *to);) ++least_digits;
  }
  /// Nothing lies between what fits and what does not, and it is told exactly.
  bool meet(const std::optional<Limit>& fits, const std::optional<Limit>& fails) const {
    if (!fits || !fails) return fits.has_value() == fails.has_value();
    if (whole()) return abs(fits->at - fails->at) == 1;
    return fits->at == fails->at && fits->open != fails->open && told(*fits, Rounding::nearest).exact;
  }
};

/// The values from `from` up and up to `to`: between them, or outside where they are the wrong way round.
std::string region_text(const std::optional<Limit>& from, const std::optional<Limit>& to, const Ends& ends) {
  if (!from || !to) return from ? ends.up(*from) : ends.down(*to);
  if (nothing_between(*from, *to)) return ends.down(*to) + ", or " + ends.up(*from) + ",";
  const Told lo = ends.told(*from, Rounding::up), hi = ends.told(*to, Rounding::down);
  if (lo.text == hi.text) return lo.text;
  if (lo.value > hi.value) return "one value very near " + ends.told(*from, Rounding::nearest).text;
  const std::string more = ends.date() ? "after " : "more than ",
                    less = ends.date() ? "before " : "less than ";
  return (from->open && lo.exact ? more : "") + lo.text + " to " + (to->open && hi.exact ? less : "") +
         hi.text;
}

}  // namespace

std::string answers_text(const Blame& blame, const Unit& unit, const std::optional<Rational>& width,
                         TypeKind kind) {
  Ends ends{unit, width, kind, 2, width};
  const auto widen = [&](const std::optional<Limit>& fits, const std::optional<Limit>& fails) {
    if (!fits || !fails) return;
    const Rational between = abs(fits->at - fails->at);
    if (!ends.gap || between < *ends.gap) ends.gap = between;
  };
  widen(blame.fits_from, blame.fails_to);
  widen(blame.fits_to, blame.fails_from);
  ends.tell_apart(blame.fits_from, blame.fits_to);
  ends.tell_apart(blame.fails_from, blame.fails_to);
  std::string out;
  if (blame.fits_from || blame.fits_to) out = region_text(blame.fits_from, blame.fits_to, ends) + " fits";
  if (!blame.fails_from && !blame.fails_to) return out;
  if (!out.empty() && ends.meet(blame.fits_from, blame.fails_to) &&
      ends.meet(blame.fits_to, blame.fails_from)) {
    if (blame.fits_from && blame.fits_to)
      return out + (blame.fits_from->at == blame.fits_to->at ? ", nothing else does"
                                                             : ", outside that it does not");
    const std::string less = ends.date() ? "earlier" : "less", more = ends.date() ? "later" : "more";
    if (blame.fits_from)
      return out + ", " + (blame.fits_from->open ? ends.down(*blame.fails_to) : less) + " does not";
    return out + ", " + (blame.fits_to->open ? ends.up(*blame.fails_from) : more) + " does not";
  }
  return out + (out.empty() ? "" : ", ") + region_text(blame.fails_from, blame.fails_to, ends) + " does not";
}

std::string window_text(const SettingWindow& window, const Unit& unit) {
  Ends ends{unit};
  ends.tell_apart(window.from, window.to);
  return region_text(window.from, window.to, ends);
}

}  // namespace mm
