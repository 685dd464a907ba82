// Values of every form, each with what it can be.
#include <algorithm>

#include "make_values.hpp"

namespace mm_proof {

namespace {

std::string unit_of(const Dim& dim) {
  return dim == Dim{1, 0} ? " mm" : dim == Dim{2, 0} ? " mm^2" : dim == Dim{0, 1} ? " deg" : "";
}

/// A number in the middle of what the attribute declares.
Rational middle(Draw& draw, const AttributeDef& def) {
  if (def.count) return draw.between(0, 8);
  if (def.dim == Dim{0, 1}) return Rational(draw.between(0, 36) * 5);
  Rational out(draw.between(def.dim.plain() ? -20 : 10, def.dim.plain() ? 50 : 600),
               def.dim.plain() ? 10 : 10);
  out.canonicalize();
  return out;
}

const char* grade(Draw& draw) {
  static const char* const grades[] = {"measured", "tried", "published", "claimed", "hearsay"};
  return grades[draw.below(5)];
}

struct Writer {
  Draw& draw;
  const AttributeDef& def;
  std::string unit;
  Value out;

  std::string with_unit(const Rational& number) const { return decimal(number) + unit; }

  /// Where settings over so wide a range begin, so that all lie in what is declared; none where they cannot.
  std::optional<Rational> first_setting(const Rational& middle, const Rational& width) const {
    Rational first = middle;
    if (def.hi && first + width > *def.hi) first = *def.hi - width;
    if (def.lo && first < *def.lo) return std::nullopt;
    return first;
  }

  void one_setting(const Rational& m) {
    out.text = "adjustable one of " + with_unit(m);
    out.settings = {m};
  }

  void adjustable(const Rational& m) {
    out.adjustable = true;
    const Rational step(draw.between(1, 8), def.count ? 1 : 4);
    switch (draw.below(4)) {
      case 0: {
        const auto first = first_setting(m, step * 5);
        if (!first) return one_setting(m);
        out.lo = *first;
        out.hi = *first + step * 5;
        out.text = "adjustable " + decimal(*out.lo) + ".." + with_unit(*out.hi);
        return;
      }
      case 1: {
        const bool fine = draw.between(0, 2) != 0 && !def.count;  // more than are tried one by one
        const Rational each = fine ? Rational(step / 40) : step;
        const int last = fine ? 70 + 3 * draw.between(0, 60) : 5;
        const auto first = first_setting(m, each * last);
        if (!first) return one_setting(m);
        out.text = "adjustable " + decimal(*first) + ".." + with_unit(*first + each * last) + " step " +
                   with_unit(each);
        for (int i = 0; i <= last; ++i) out.settings.push_back(*first + each * i);
        return;
      }
      case 2: {
        const Rational other = step * 3;
        if ((def.lo && *def.lo > 0) || (def.hi && *def.hi < step * 5)) return one_setting(m);
        out.text = "adjustable sums of 2 x " + with_unit(step) + ", 1 x " + with_unit(other);
        for (int a = 0; a <= 2; ++a) {
          for (int b = 0; b <= 1; ++b) out.settings.push_back(step * a + other * b);
        }
        return;
      }
      default: {
        const auto first = first_setting(m, step * 4);
        if (!first) return one_setting(m);
        out.text = "adjustable one of " + with_unit(*first) + ", " + with_unit(*first + step) + ", " +
                   with_unit(*first + 4 * step);
        out.settings = {*first, Rational(*first + step), Rational(*first + 4 * step)};
      }
    }
  }

  void declared() {
    out.lo = def.lo;
    out.hi = def.hi;
    if (def.count && (!out.lo || *out.lo < 0)) out.lo = 0;
  }

  void evidence(const std::string& word, bool bare) {
    if (!word.empty()) out.text += " per " + word;
    if (!bare) return;
    if (word == "tried" || word == "published") return;
    const auto& spread = word == "measured" ? def.measured : def.claimed;
    if (!spread || def.count) return;
    const bool above = !def.lo || *def.lo <= *out.lo, below = !def.hi || *out.hi <= *def.hi;
    *out.lo -= *spread;
    *out.hi += *spread;
    if (!above || !below) return;
    if (def.lo && *out.lo < *def.lo) out.lo = def.lo;
    if (def.hi && *out.hi > *def.hi) out.hi = def.hi;
  }

  /// false: the form stands for itself and takes no evidence here.
  void number(bool may_adjust) {
    const Rational m = middle(draw, def);
    const Rational t(draw.between(1, 20), def.count ? 1 : 10);
    const std::string per = draw.chance(30) ? grade(draw) : "";
    out.whole = def.count;
    switch (draw.below(may_adjust ? 15 : 13)) {
      case 0:
      case 1:
      case 2:
        out.lo = out.hi = m;
        out.text = with_unit(m);
        return evidence(per, true);
      case 3:
        if (!def.count && def.dim == Dim{1, 0}) {  // fractions of an inch
          const int eighths = draw.between(1, 15);
          out.lo = out.hi = Rational(254, 10) * Rational(eighths, 8);
          out.lo->canonicalize();
          out.hi->canonicalize();
          out.text = std::to_string(eighths) + "/8 in";
          return evidence(per, true);
        }
        [[fallthrough]];
      case 4:
      case 5:
        out.lo = m - t;
        out.hi = m + t;
        out.text =
            with_unit(m) + (draw.chance(50) ? " +- " : " ± ") + (draw.chance(50) ? decimal(t) : with_unit(t));
        return evidence(per, false);
      case 6:
        if (!def.count && !def.dim.plain()) {
          const int percent = draw.between(1, 12);
          out.lo = m * Rational(100 - percent, 100);
          out.hi = m * Rational(100 + percent, 100);
          out.text = with_unit(m) + " +- " + std::to_string(percent) + "%";
          return evidence(per, false);
        }
        [[fallthrough]];
      case 7: {
        const Rational less(draw.between(0, 8), def.count ? 1 : 10);
        out.lo = m - less;
        out.hi = m + t;
        out.text = with_unit(m) + " +" + with_unit(t) + " -" + (less == 0 ? "0" : decimal(less));
        return evidence(per, false);
      }
      case 8:
      case 9:
        out.lo = m;
        out.hi = m + t;
        out.text = decimal(m) + ".." + with_unit(m + t);
        return evidence(per, false);
      case 10:
        declared();
        if (draw.chance(50)) {
          out.lo = m;
          out.text = ">= " + with_unit(m);
        } else {
          out.hi = m;
          out.text = "<= " + with_unit(m);
        }
        return evidence(per, false);
      case 11:
        declared();
        if (draw.chance(50)) out.text = "?";
        return;
      case 12: {
        out.lo = m;
        out.hi = m;
        out.text = with_unit(m) + " +- 0 per measured";
        out.second = with_unit(m + t) + " +- " + decimal(t) + " per published";
        out.hi = m + 2 * t;
        return;
      }
      default:
        adjustable(m);
    }
  }
};

}  // namespace

std::string decimal(const Rational& value) {
  mpz_class den = value.get_den();
  int places = 0;
  Rational scaled = value;
  while (scaled.get_den() != 1 && places < 18) {
    scaled *= 10;
    ++places;
  }
  if (scaled.get_den() != 1) return value.get_str();  // no plain decimal: never written by the generator
  const bool negative = scaled < 0;
  std::string digits = mpz_class(abs(scaled.get_num())).get_str();
  if (static_cast<int>(digits.size()) <= places)
    digits.insert(0, static_cast<std::size_t>(places + 1) - digits.size(), '0');
  if (places > 0) digits.insert(digits.size() - static_cast<std::size_t>(places), ".");
  return (negative ? "-" : "") + digits;
}

Value make_value(Draw& draw, const Scene& scene, const Fragment& fragment, const AttributeDef& def) {
  Writer writer{draw, def, def.sort == Sort::number && !def.count ? unit_of(def.dim) : "", {}};
  Value& out = writer.out;
  switch (def.sort) {
    case Sort::truth: {
      out.whole = true;
      const int way = draw.below(4);
      out.lo = way == 0 ? 1 : 0;
      out.hi = way == 1 ? 0 : 1;
      out.text = way == 0 ? "yes" : way == 1 ? "no" : way == 2 ? "?" : "";
      return out;
    }
    case Sort::word: {
      const int count = static_cast<int>(scene.words.size());
      const int way = draw.below(4);
      for (int i = 0; i < count; ++i) {
        if (way == 0 || draw.chance(way == 1 ? 50 : 0)) out.words.push_back(i);
      }
      if (out.words.empty()) out.words.push_back(draw.below(count));
      if (way == 0) {
        out.text = draw.chance(50) ? "?" : "";
        return out;
      }
      for (const int word : out.words)
        out.text += (out.text.empty() ? "" : ", ") + scene.words[static_cast<std::size_t>(word)];
      return out;
    }
    case Sort::size:
      if (draw.chance(20)) {
        out.any_size = true;
        return out;
      }
      out.words = {draw.below(scene.written_sizes)};
      out.text = "\"" + scene.sizes[static_cast<std::size_t>(out.words[0])].text + "\"";
      return out;
    default:
      writer.number(fragment.adjustables);
      for (auto* end : {&out.lo, &out.hi}) {
        if (*end) (*end)->canonicalize();
      }
      for (Rational& setting : out.settings) setting.canonicalize();
      return out;
  }
}

}  // namespace mm_proof
