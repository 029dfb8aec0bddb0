#pragma once
// A plan written from what a person knows of a bench. What is not known stands there as "unknown", with where
// to look.
#include <string>

#include <benchfeed/advice/outline.hpp>
#include <benchfeed/base/api.hpp>
#include <benchfeed/report/style.hpp>
#include <benchfeed/tables/catalogue.hpp>

namespace benchfeed::report {

/// A commented plan with one switched outlet for each tool and extractor, and an outlet without a switch for
/// each other load. Where nothing is said, the supply, the outlets, the plug and the cord are those that are
/// usual in the region (table usual-parts), and a remark says so. A region without a row there gives "".
[[nodiscard]] BENCHFEED_API std::string outline_toml(const advice::Outline& outline,
                                                     const tables::Catalogue& tables);

/// A word of an answer that is not understood, as a person reads it: what, and what could stand there.
[[nodiscard]] BENCHFEED_API std::string answer_fault(const Diagnostic& fault, const Style& style);

}  // namespace benchfeed::report
