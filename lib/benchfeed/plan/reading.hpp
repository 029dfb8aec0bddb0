#pragma once
// What the steps of read_plan() share. Not for use outside this folder.
#include <memory>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/plan/fields.hpp>
#include <benchfeed/plan/read_plan.hpp>
#include <benchfeed/text/beside.hpp>
#include <benchfeed/text/node.hpp>

namespace benchfeed::plan {

/// Where to look for what is missing in the whole plan.
inline constexpr Span first_character{1, 1, 1, 2};

/// What the steps of the reader share.
struct Context {
    const Words& words;
    Diagnostics problems;
    std::set<std::string> excused;  ///< paths that need no "is missing": something near it was written
    static constexpr std::size_t most_problems = 10'000;

    /// Notes a fault of the text.
    void fault(std::string path, std::string message, std::vector<Label> labels, std::string help = "") {
        if (problems.size() < most_problems)
            problems.push_back({std::move(path), std::move(message), std::move(labels), std::move(help)});
    }
};

/// The word nearest to what was written, if it is near enough to be meant.
[[nodiscard]] std::string nearest(std::string_view written, const std::vector<std::string>& known);

/// Read one value into a field; what does not fit is told in `context`.
/// The path of the field is `table`.`key`, or `table` alone.
void read_value(Context& context, const text::Node& node, Slot& slot, std::string_view table,
                std::string_view key = {});

/// Read a table into its slots. Keys in `inner` are tables of their own and are left alone.
void read_fields(Context& context, const text::Table& table, std::vector<Slot> slots, const std::string& path,
                 std::initializer_list<std::string_view> inner = {});

/// Names that stand in the plan and in a common file, or in two of these, told with both places.
void tell_common_twice(Context& context, const Plan& plan,
                       const std::vector<std::shared_ptr<const text::Beside>>& beside);
/// Takes from common files what the plan names and does not have: what feeds its elements as elements of its
/// own, what they are `like` as patterns, stocks, and the tighter of local limits. Nothing is taken twice.
void take_common(Context& context, Plan& plan,
                 const std::vector<std::shared_ptr<const text::Beside>>& beside);

// The steps, in their order.
void apply_overrides(Context& context, Plan& plan, std::span<const Override> overrides);
void apply_like(Context& context, Plan& plan);
void resolve_references(Context& context, Plan& plan);
void require_fields(Context& context, Plan& plan);
void assume_defaults(Context& context, Plan& plan);
void assign_conductors(Context& context, Plan& plan);
void find_contradictions(Context& context, Plan& plan);
void make_sets(Context& context, Plan& plan);

}  // namespace benchfeed::plan
