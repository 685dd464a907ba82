#include "base/date_text.hpp"

#include <fmt/format.h>

#include <chrono>

namespace mm {

std::string date_text(long days) {
  const std::chrono::year_month_day date{std::chrono::sys_days{std::chrono::days{days}}};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()));
}

}  // namespace mm
