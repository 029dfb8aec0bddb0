#pragma once
// What most files include, read once where BENCHFEED_PCH is on. No file may rely on it.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <benchfeed/base/quantity.hpp>
