#pragma once
// The catalogue of the tests, and plans given as text.
#include <doctest/doctest.h>

#include <string>

#include <benchfeed/check.hpp>

namespace benchfeed::test {

inline const tables::Catalogue& catalogue() {
    static const tables::Catalogue all;
    return all;
}

/// A plan that must be readable, judged.
inline Judged judged(const std::string& plan) {
    auto result = check(text::Document("plan.toml", plan), catalogue());
    if (const auto* problems = std::get_if<Diagnostics>(&result))
        FAIL(problems->front().message << "\n" << plan);
    return std::move(std::get<Judged>(result));
}

}  // namespace benchfeed::test
