#pragma once
// What most tests include, read once where BENCHFEED_PCH is on. No file may rely on it.
#include <doctest/doctest.h>

#include <benchfeed/check.hpp>
#include <benchfeed/rules/rules.hpp>
#include <benchfeed/tables/catalogue.hpp>
