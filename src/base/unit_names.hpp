// The names of the built-in units, so that the grammar can tell a unit from the next word. Their meaning
// is in units/; a test keeps the two lists equal.
#pragma once
#include <array>
#include <string_view>

#include "base/word_set.hpp"

namespace mm {

/// Sorted by byte value.
inline constexpr auto builtin_unit_names = std::to_array<std::string_view>({
    "A",          "Ah",        "BTU",     "BTU_th",  "GHz",         "GJ",        "GPa",      "Hz",
    "J",          "K",         "L",       "MHz",     "MJ",          "MN",        "MPa",      "MW",
    "MWh",        "Mohm",      "Mpsi",    "N",       "P",           "PS",        "Pa",       "St",
    "US_bushel",  "US_cup",    "US_floz", "US_gal",  "US_gill",     "US_gpm",    "US_pt",    "US_qt",
    "US_tbsp",    "US_tsp",    "V",       "W",       "Wh",          "acre",      "angstrom", "arcmin",
    "arcsec",     "atm",       "bar",     "cL",      "cP",          "cSt",       "cal",      "cal_IT",
    "carat",      "cc",        "cd",      "cfm",     "cm",          "cmH2O",     "cmHg",     "coulomb",
    "dL",         "daN",       "day",     "deg",     "degC",        "degF",      "degR",     "delta_degC",
    "delta_degF", "dm",        "dwt",     "dyn",     "electric_hp", "erg",       "farad",    "fathom",
    "fpm",        "ft",        "ftH2O",   "g",       "g0",          "gf",        "gon",      "grad",
    "grain",      "h",         "hL",      "hPa",     "ha",          "henry",     "hp",       "imp_floz",
    "imp_gal",    "imp_gill",  "imp_gpm", "imp_pt",  "imp_qt",      "in",        "inH2O",    "inHg",
    "kA",         "kHz",       "kJ",      "kN",      "kPa",         "kV",        "kW",       "kWh",
    "kbar",       "kcal",      "kcal_IT", "kg",      "kgf",         "kip",       "km",       "kn",
    "kohm",       "kp",        "kph",     "ksi",     "l",           "lb",        "lbf",      "lm",
    "long_cwt",   "long_ton",  "lx",      "m",       "mA",          "mAh",       "mH",       "mJ",
    "mL",         "mN",        "mV",      "mW",      "mbar",        "metric_hp", "mg",       "mi",
    "mil",        "min",       "ml",      "mm",      "mmH2O",       "mmHg",      "mohm",     "mol",
    "mph",        "mrad",      "ms",      "nF",      "nm",          "nmi",       "ns",       "ohm",
    "oil_barrel", "oz",        "ozf",     "pF",      "pdl",         "percent",   "permille", "ppm",
    "psf",        "psi",       "rad",     "rev",     "reyn",        "rpm",       "rps",      "s",
    "short_cwt",  "short_ton", "slug",    "st",      "t",           "tf",        "thou",     "tonf_US",
    "torr",       "tpi",       "troy_lb", "troy_oz", "turn",        "uA",        "uF",       "uH",
    "uL",         "uV",        "ug",      "uin",     "um",          "us",        "week",     "yd",
    "year",
});

inline constexpr WordSet builtin_unit_set(builtin_unit_names);

/// Those that are written most, before which no other equally near one is meant by a misspelt name.
inline constexpr auto common_unit_names = std::to_array<std::string_view>(
    {"mm",  "in", "kg", "lb", "g",  "m", "cm",  "ft", "N", "lbf", "deg", "bar", "psi",
     "MPa", "L",  "kW", "hp", "km", "s", "min", "h",  "A", "V",   "W",   "rpm", "degC"});

constexpr bool is_builtin_unit_name(std::string_view name) { return builtin_unit_set.contains(name); }

}  // namespace mm
