#pragma once
// What a shared library shows: the rest of it is hidden, and nobody can come to rely on it. In a static one
// everything is there, and nothing of it leaves a shared library that it is linked into by these marks.

/// Before a function that programs of others, or benchfeed's own, may call.
#ifdef BENCHFEED_EXPORTS
#define BENCHFEED_API __attribute__((visibility("default")))
#else
#define BENCHFEED_API
#endif
