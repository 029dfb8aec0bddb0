#pragma once
// What most files from rules on include besides, read once where BENCHFEED_PCH is on. No file may rely on it.
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/network/network.hpp>
#include <benchfeed/plan/plan.hpp>
#include <benchfeed/precompiled.hpp>
#include <benchfeed/rules/judge.hpp>
#include <benchfeed/rules/rule.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/tables/catalogue.hpp>
