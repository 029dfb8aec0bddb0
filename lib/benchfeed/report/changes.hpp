#pragma once
// Two trees of plans held against each other: only what moved is told, worst first.
#include <optional>
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/report/compare_text.hpp>
#include <benchfeed/report/overview.hpp>

namespace benchfeed::report {

/// A plan that is not as it was.
struct BENCHFEED_API PlanChange {
    /// What became of it; `unreadable`: what it is now cannot be read.
    enum class Kind : std::uint8_t { changed, renamed, added, removed, unreadable } kind = Kind::changed;
    std::string path;                     ///< as it is called now; of a removed one as it was
    std::string old_path = {};            ///< of a renamed one
    rules::Comparison comparison = {};    ///< of one that is changed or renamed
    std::optional<OverviewRow> row = {};  ///< how a new one stands; the mistakes of an unreadable one
    std::string mistakes = {};            ///< of an unreadable one, for people
    Diagnostics problems = {};            ///< the same for programs, located()
    std::string sarif = {};               ///< its results, where they are asked for
    /// Something got worse, is new and fails, or cannot be read.
    [[nodiscard]] bool worse() const;
};

/// What two trees have.
struct BENCHFEED_API Changes {
    std::string before, after;  ///< as given
    std::size_t old_count = 0, new_count = 0, same = 0;
    std::vector<PlanChange> plans;
    [[nodiscard]] std::size_t worse() const;  ///< number of plans
};

/// At most so many plans are told with what differs; of the others their name stands.
inline constexpr std::size_t most_told_plans = 10;

[[nodiscard]] BENCHFEED_API std::string changes_text(Changes changes, const Style& style);
[[nodiscard]] BENCHFEED_API std::string changes_json(const Tool& tool, Changes changes);
[[nodiscard]] BENCHFEED_API std::string changes_markdown(const Tool& tool, Changes changes);

/// Lines that are alike, between 0 and 1: by which a renamed file is known again.
[[nodiscard]] BENCHFEED_API double likeness(std::string_view before, std::string_view after);

}  // namespace benchfeed::report
