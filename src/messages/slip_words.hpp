// The words and signs by which slips are known. Seen by slip_*.cpp only.
#pragma once
#include <array>
#include <optional>
#include <string_view>
#include <utility>

#include "base/grade_words.hpp"

namespace mm {

struct Spelling {
  std::string_view seen, right;
};

/// Names of units as they are spoken or abbreviated elsewhere.
inline constexpr auto other_units = std::to_array<Spelling>({
    {"inch", "in"},
    {"inches", "in"},
    {"Inch", "in"},
    {"IN", "in"},
    {"foot", "ft"},
    {"feet", "ft"},
    {"MM", "mm"},
    {"Mm", "mm"},
    {"mms", "mm"},
    {"millimetre", "mm"},
    {"millimetres", "mm"},
    {"millimeter", "mm"},
    {"millimeters", "mm"},
    {"CM", "cm"},
    {"Cm", "cm"},
    {"KM", "km"},
    {"Km", "km"},
    {"metre", "m"},
    {"metres", "m"},
    {"meter", "m"},
    {"meters", "m"},
    {"thousandths", "thou"},
    {"micron", "um"},
    {"microns", "um"},
    {"kgs", "kg"},
    {"Kg", "kg"},
    {"KG", "kg"},
    {"kilo", "kg"},
    {"kilos", "kg"},
    {"lbs", "lb"},
    {"Lbs", "lb"},
    {"pound", "lb"},
    {"pounds", "lb"},
    {"grams", "g"},
    {"gram", "g"},
    {"degree", "deg"},
    {"degrees", "deg"},
    {"degs", "deg"},
    {"Nm", "N*m"},
    {"NM", "N*m"},
    {"ftlb", "lbf*ft"},
    {"ftlbs", "lbf*ft"},
    {"lbft", "lbf*ft"},
    {"lbfft", "lbf*ft"},
    {"kgm", "kgf*m"},
    {"Mpa", "MPa"},
    {"mpa", "MPa"},
    {"MPA", "MPa"},
    {"KPA", "kPa"},
    {"kpa", "kPa"},
    {"KPa", "kPa"},
    {"Bar", "bar"},
    {"bars", "bar"},
    {"PSI", "psi"},
    {"kw", "kW"},
    {"KW", "kW"},
    {"Kw", "kW"},
    {"HP", "hp"},
    {"bhp", "hp"},
    {"ps", "PS"},
    {"amp", "A"},
    {"amps", "A"},
    {"volt", "V"},
    {"volts", "V"},
    {"watt", "W"},
    {"watts", "W"},
    {"ohms", "ohm"},
    {"litre", "L"},
    {"litres", "L"},
    {"liter", "L"},
    {"liters", "L"},
    {"ltr", "L"},
    {"ML", "mL"},
    {"Ml", "mL"},
    {"ccm", "cm^3"},
    {"kmh", "km/h"},
    {"sqmm", "mm^2"},
    {"mm2", "mm^2"},
    {"mm3", "mm^3"},
    {"cm2", "cm^2"},
    {"cm3", "cm^3"},
    {"m2", "m^2"},
    {"m3", "m^3"},
    {"in2", "in^2"},
    {"in3", "in^3"},
    {"secs", "s"},
    {"sec", "s"},
    {"seconds", "s"},
    {"minutes", "min"},
    {"hours", "h"},
    {"hrs", "h"},
    {"celsius", "degC"},
    {"C", "degC"},
    {"F", "degF"},
    {"RPM", "rpm"},
    {"ton", "t of 1000 kg, or in short_ton or long_ton"},
    {"tons", "t of 1000 kg, or in short_ton or long_ton"},
    {"tonnes", "t"},
});

struct Meaning {
  std::string_view seen, dimension, right;
};

/// What such a name means where that is wanted.
inline constexpr auto other_meanings = std::to_array<Meaning>({
    {"pound", "GBP", "GBP"},
    {"pounds", "GBP", "GBP"},
    {"pound", "force", "lbf"},
    {"pounds", "force", "lbf"},
    {"lbs", "force", "lbf"},
    {"Lbs", "force", "lbf"},
    {"kgs", "force", "kgf"},
    {"Kg", "force", "kgf"},
    {"KG", "force", "kgf"},
    {"kilo", "force", "kgf"},
    {"kilos", "force", "kgf"},
    {"gram", "force", "gf"},
    {"grams", "force", "gf"},
    {"ton", "force", "tf of 1000 kgf, or in tonf_US"},
    {"tons", "force", "tf of 1000 kgf, or in tonf_US"},
    {"tonnes", "force", "tf"},
    {"minutes", "angle", "arcmin"},
    {"seconds", "angle", "arcsec"},
    {"degree", "temperature", "degC"},
    {"degrees", "temperature", "degC"},
    {"degs", "temperature", "degC"},
});

/// Pieces, as they are counted elsewhere.
inline constexpr auto count_words =
    std::to_array<std::string_view>({"off", "pc", "pcs", "pce", "pces", "piece", "pieces", "nos", "ea"});

/// Units of one value, as it is said elsewhere: 5 ft 6 in.
inline constexpr auto units_together = std::to_array<std::pair<std::string_view, std::string_view>>({
    {"ft", "in"},
    {"yd", "ft"},
    {"lb", "oz"},
    {"st", "lb"},
    {"m", "cm"},
    {"m", "mm"},
    {"cm", "mm"},
    {"kg", "g"},
    {"h", "min"},
    {"min", "s"},
    {"deg", "arcmin"},
    {"arcmin", "arcsec"},
    {"km", "m"},
    {"L", "mL"},
});

/// Two words that bound the number behind them.
inline constexpr auto bounds = std::to_array<Spelling>({
    {"at least", ">="}, {"no less than", ">="}, {"not less than", ">="}, {"more than", ">="},
    {"at most", "<="},  {"no more than", "<="}, {"not more than", "<="}, {"less than", "<="},
    {"up to", "<="},    {"minimum", ">="},      {"maximum", "<="},       {"max", "<="},
    {"Max", "<="},      {"min", ">="},          {"Min", ">="},           {"under", "<="},
    {"below", "<="},    {"over", ">="},         {"above", ">="},
});

/// Torque in English units, with whatever stands between the two.
inline constexpr auto other_torques = std::to_array<Spelling>({
    {"ft-lb", "lbf*ft"},  {"ft-lbs", "lbf*ft"}, {"ft.lb", "lbf*ft"},  {"ft.lbs", "lbf*ft"},
    {"ft lb", "lbf*ft"},  {"ft lbs", "lbf*ft"}, {"ft-lbf", "lbf*ft"}, {"lb-ft", "lbf*ft"},
    {"lb.ft", "lbf*ft"},  {"lb ft", "lbf*ft"},  {"lbf-ft", "lbf*ft"}, {"lbf.ft", "lbf*ft"},
    {"lbf ft", "lbf*ft"}, {"in-lb", "lbf*in"},  {"in-lbs", "lbf*in"}, {"in lb", "lbf*in"},
    {"N-m", "N*m"},       {"N.m", "N*m"},       {"N m", "N*m"},       {"kgf-m", "kgf*m"},
});

inline constexpr auto other_operators = std::to_array<Spelling>({
    {"==", "="},
    {"&&", "and"},
    {"||", "or"},
    {"**", "^"},
    {"<>", "!="},
    {"=<", "<="},
    {"=>", ">="},
});

struct Sign {
  char32_t code;
  std::string_view right;
};

/// In an expression or a bound; what they stand for.
inline constexpr auto other_signs = std::to_array<Sign>({
    {0x2265, ">="}, {0x2264, "<="},   {0x2260, "!="}, {0x00D7, "*"},   {0x2715, "*"},      {0x2716, "*"},
    {0x00B7, "*"},  {0x22C5, "*"},    {0x2219, "*"},  {0x00F7, "/"},   {0x2215, "/"},      {0x2044, "/"},
    {0x2212, "-"},  {0x2013, "-"},    {0x2014, "-"},  {0x2010, "-"},   {0x2011, "-"},      {0x00B2, "^2"},
    {0x00B3, "^3"}, {0x221A, "sqrt"}, {0x03C0, "pi"}, {0x00B0, "deg"}, {0x00BA, "deg"},    {0x02DA, "deg"},
    {0x2026, ".."}, {0x2227, "and"},  {0x2228, "or"}, {0x00AC, "not"}, {0x2211, "sum of"},
});

inline constexpr auto fraction_signs = std::to_array<Sign>({
    {0x00BC, "1/4"},
    {0x00BD, "1/2"},
    {0x00BE, "3/4"},
    {0x2153, "1/3"},
    {0x2154, "2/3"},
    {0x2155, "1/5"},
    {0x2156, "2/5"},
    {0x2157, "3/5"},
    {0x2158, "4/5"},
    {0x2159, "1/6"},
    {0x215A, "5/6"},
    {0x215B, "1/8"},
    {0x215C, "3/8"},
    {0x215D, "5/8"},
    {0x215E, "7/8"},
    {0x2150, "1/7"},
    {0x2151, "1/9"},
    {0x2152, "1/10"},
});

inline constexpr auto money_signs = std::to_array<Sign>({
    {'$', "USD"},
    {0x00A3, "GBP"},
    {0x20AC, "EUR"},
    {0x00A5, "JPY"},
});

/// Marks behind a number.
inline constexpr auto length_marks = std::to_array<Sign>({
    {'"', "in"},
    {0x201D, "in"},
    {0x201C, "in"},
    {0x2033, "in"},
    {'\'', "ft"},
    {0x2019, "ft"},
    {0x2032, "ft"},
});

template <typename List>
constexpr std::string_view right_for(const List& list, char32_t code) {
  for (const Sign& sign : list)
    if (sign.code == code) return sign.right;
  return {};
}

template <typename List>
constexpr std::string_view right_for(const List& list, std::string_view seen) {
  for (const Spelling& spelling : list)
    if (spelling.seen == seen) return spelling.right;
  return {};
}

/// 3 of "March" and "Mar"; 0 of what is no month.
constexpr std::size_t month_of(std::string_view word) {
  constexpr std::array<std::string_view, 12> months = {"January",   "February", "March",    "April",
                                                       "May",       "June",     "July",     "August",
                                                       "September", "October",  "November", "December"};
  for (std::size_t i = 0; i < months.size(); ++i)
    if (word == months[i] || (word.size() >= 3 && months[i].starts_with(word))) return i + 1;
  return 0;
}

constexpr bool is_diameter_sign(char32_t code) { return code == 0x2300 || code == 0xD8 || code == 0xF8; }

constexpr bool is_odd_blank(char32_t code) {
  return code == 0xA0 || (code >= 0x2000 && code <= 0x200B) || code == 0x202F || code == 0x205F ||
         code == 0x2060 || code == 0x3000 || code == 0xFEFF;
}

}  // namespace mm
