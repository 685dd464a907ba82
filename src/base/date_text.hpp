// Days of the calendar as they are written.
#pragma once
#include <string>

namespace mm {

/// "2026-03-14" of days since 1970-01-01; a year before 1000 has four digits too.
std::string date_text(long days);

}  // namespace mm
