// What stands at the place of a failure, in words, and hints that it tells. Seen by failures.cpp and its
// like.
#pragma once
#include <optional>
#include <string>

#include "syntax/recovery.hpp"

namespace mm {

std::string quoted(std::string_view token);
/// "'word'", "a text", "the end of the line".
std::string found_at(const Builder& builder, std::uint32_t at);
std::uint32_t found_end(const Builder& builder, std::uint32_t at);
/// The word or number that ends before the blanks before `end`, where it is short.
std::string_view word_before(std::string_view bytes, std::size_t end);
/// Of a name of several words or with a hyphen, whose first word ends before `at`: "fan_belt". `behind` is
/// what stands behind a whole name there; "" where anything may. "" where there is no such name.
std::string name_in_one_word(std::string_view bytes, std::size_t at, std::string_view behind);
/// AND, NOT and the like at `at` or right before it, which are written in small letters.
std::optional<Failure> upper_case_word(std::string_view bytes, std::size_t at);
/// Of a reserved word where a name was expected.
std::string hint_for_reserved(std::string_view bytes, std::size_t at, std::string_view expected);
/// What would be right, where what stands there tells it: "offset = 35 mm", "35 mm, mass 3 kg", a misspelt
/// word.
std::string nearer_hint(std::string_view bytes, std::uint32_t at, Wanted wanted);
/// Of "bore 60 mmm  lugs 5" at the 5: the word behind the number, which no unit is called, so that it was
/// taken for an attribute and the next one's name for its value. None where it is no near miss of a unit.
std::optional<Failure> misspelt_unit(std::string_view bytes, std::size_t at);

}  // namespace mm
