#pragma once
// What most tests include, read once where BENCHFEED_PCH is on. No file may rely on it.
#include <doctest/doctest.h>

#include "check.hpp"
#include "rules/rules.hpp"
#include "tables/catalogue.hpp"
