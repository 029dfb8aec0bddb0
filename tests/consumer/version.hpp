#pragma once
// As plan/plan.hpp.
#define CONSUMER_HAS_A_VERSION 1
