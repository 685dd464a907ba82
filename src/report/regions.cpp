#include "report/regions.hpp"

#include <algorithm>

#include "base/date_text.hpp"
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
  /// Nothing lies between the end of one region and the beginning of the next, and it is told exactly.
  bool meet(const Limit& to, const Limit& from) const {
    if (whole()) return from.at - to.at == 1;
    return to.at == from.at && to.open != from.open && told(to, Rounding::nearest).exact;
  }
};

std::string region_text(const Region& region, const Ends& ends) {
  const auto& [from, to] = region;
  if (!from || !to) return from ? ends.up(*from) : ends.down(*to);
  const Told lo = ends.told(*from, Rounding::up), hi = ends.told(*to, Rounding::down);
  if (lo.text == hi.text) return lo.text;
  if (lo.value > hi.value) return "one value very near " + ends.told(*from, Rounding::nearest).text;
  const std::string more = ends.date() ? "after " : "more than ",
                    less = ends.date() ? "before " : "less than ";
  return (from->open && lo.exact ? more : "") + lo.text + " to " + (to->open && hi.exact ? less : "") +
         hi.text;
}

/// "5 mm or less", "5 mm or less, or 9 mm or more,".
std::string set_text(const ValueSet& values, const Ends& ends) {
  std::string out;
  const std::vector<Region>& regions = values.regions();
  for (std::size_t i = 0; i < regions.size(); ++i)
    out += (i == 0 ? "" : i + 1 == regions.size() ? ", or " : ", ") + region_text(regions[i], ends);
  return out + (regions.size() > 1 ? "," : "");
}

/// All that is told of a value, in ascending order.
struct Sequence {
  struct Part {
    Region region;
    bool fits;
  };
  std::vector<Part> parts;

  Sequence(const ValueSet& fits, const ValueSet& fails) {
    for (const Region& region : fits.regions()) parts.push_back({region, true});
    for (const Region& region : fails.regions()) parts.push_back({region, false});
    std::stable_sort(parts.begin(), parts.end(),
                     [](const Part& a, const Part& b) { return begins_before(a.region, b.region); });
  }
  /// What lies next to each other is told so that it stays in order.
  void set_digits(Ends& ends) const {
    for (std::size_t i = 0; i + 1 < parts.size(); ++i) {
      const auto& to = parts[i].region.to;
      const auto& from = parts[i + 1].region.from;
      if (!to || !from || parts[i].fits == parts[i + 1].fits) continue;
      const Rational between = abs(from->at - to->at);
      if (!ends.gap || between < *ends.gap) ends.gap = between;
    }
    for (const Part& part : parts) ends.tell_apart(part.region.from, part.region.to);
  }
  /// Each value fits or does not, and it is told exactly which.
  bool is_whole(const Ends& ends) const {
    if (parts.empty() || parts.front().region.from || parts.back().region.to) return false;
    for (std::size_t i = 0; i + 1 < parts.size(); ++i)
      if (!ends.meet(*parts[i].region.to, *parts[i + 1].region.from)) return false;
    return true;
  }
};

/// Where everything else fails.
std::string rest_text(const ValueSet& fits, const ValueSet& fails, const Ends& ends) {
  const Region& one = fits.regions()[0];
  if (fits.regions().size() > 1 || (one.from && one.to && one.from->at == one.to->at))
    return ", nothing else does";
  if (one.from && one.to) return ", outside that it does not";
  const std::string less = ends.date() ? "earlier" : "less", more = ends.date() ? "later" : "more";
  const bool open = one.from ? one.from->open : one.to->open;
  return ", " + (open ? region_text(fails.regions()[0], ends) : one.from ? less : more) + " does not";
}

}  // namespace

std::string answers_text(const Blame& blame, const Unit& unit, const std::optional<Rational>& width,
                         TypeKind kind) {
  constexpr std::size_t most_regions = 4;
  const ValueSet &fits = blame.fits, &fails = blame.fails;
  if (fits.regions().size() > most_regions || fails.regions().size() > most_regions) return {};
  if (fits == ValueSet::all() || fails == ValueSet::all()) return {};
  Ends ends{unit, width, kind, 2, width};
  const Sequence all(fits, fails);
  all.set_digits(ends);
  const std::string fit = fits.empty() ? "" : set_text(fits, ends) + " fits";
  if (fails.empty()) return fit;
  if (!fits.empty() && all.is_whole(ends)) return fit + rest_text(fits, fails, ends);
  return fit.empty() ? set_text(fails, ends) + " does not fit"
                     : fit + ", " + set_text(fails, ends) + " does not";
}

std::string window_text(const SettingWindow& window, const Unit& unit) {
  Ends ends{unit};
  ends.tell_apart(window.from, window.to);
  return region_text({window.from, window.to}, ends);
}

}  // namespace mm
