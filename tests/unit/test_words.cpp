// Words round a name or a number: articles and dates. English spelling and the calendar of ISO 8601.
#include <doctest/doctest.h>

#include "base/article.hpp"
#include "base/date_text.hpp"

TEST_CASE("the article goes by how a name begins when it is spoken") {
  for (const auto& [name, with] : {std::pair<const char*, const char*>{"bracket", "a bracket"},
                                   {"axle", "an axle"},
                                   {"upright", "an upright"},
                                   {"union", "a union"},
                                   {"u_bolt", "a u_bolt"},
                                   {"EUR/m", "a EUR/m"},
                                   {"USD", "a USD"},
                                   {"A*s", "an A*s"},
                                   {"", "a "}})
    CHECK(mm::with_article(name) == with);
}

TEST_CASE("a date has four digits for the year") {
  CHECK(mm::date_text(0) == "1970-01-01");
  CHECK(mm::date_text(20526) == "2026-03-14");
  CHECK(mm::date_text(-719162) == "0001-01-01");
  CHECK(mm::date_text(2932896) == "9999-12-31");
}
