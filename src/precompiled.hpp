// What nearly every file of the program needs from outside, read once a build instead of once a file. A file
// still includes what it uses: without this header everything compiles all the same.
#pragma once
#include <fmt/format.h>
#include <gmpxx.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <variant>
#include <vector>
