#pragma once
// Stands in the search path of the consumer before the headers of benchfeed, which must not find it.
#define CONSUMER_HAS_A_PLAN 1
