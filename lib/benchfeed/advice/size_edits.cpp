// What becomes of sizes: the cords whose length is told beside them, and the changes of the plan's text.
#include <algorithm>

#include <benchfeed/advice/size.hpp>
#include <benchfeed/text/document.hpp>

namespace benchfeed::advice {

using plan::Plan;
using rules::Situation;

std::vector<Index> bench_cords(const Situation& s) {
    std::vector<Index> found;
    for (const Index i : s.network.order) {
        const Index parent = s.plan[i].parent;
        if (parent != plan::nowhere && s.network.house[parent] && !s.network.house[i] && s.plan[i].cable &&
            s.plan[i].plug.known() && s.plan[i].kind != plan::Kind::load)
            found.push_back(i);
    }
    return found;
}

namespace {

bool has_core_group(const Sized& sized, Index stock) {
    return std::any_of(sized.groups.begin(), sized.groups.end(), [&](const SizedGroup& g) {
        const auto& stocks = g.group.stocks;
        return g.group.protective && std::find(stocks.begin(), stocks.end(), stock) != stocks.end();
    });
}

}  // namespace

Edits edits_of(const Sized& sized, const Plan& written) {
    Edits edits;
    for (const SizedGroup& group : sized.groups) {
        if (group.group.choices.empty()) continue;
        const plan::Stock& root = written.stocks[group.group.stocks.front()];
        const auto& chosen = group.group.protective ? root.protective_section : root.section;
        const auto edit = [&](const plan::Field<Section>& field, const Section& section) {
            if (stands_beside(field.span)) {
                edits.common.push_back(root.path());
                return;
            }
            if (field.span.nowhere() || field.origin != plan::Origin::plan) {
                edits.missing.push_back(root.path());
                return;
            }
            edits.edits.push_back({field.span, "\"" + section_text(section) + "\""});
        };
        if (chosen.value != group.after) edit(chosen, group.after);
        if (group.group.protective) continue;
        for (const Index stock : group.group.stocks) {
            const auto& protective = written.stocks[stock].protective_section;
            const auto& now = sized.plan->stocks[stock].protective_section;
            if (has_core_group(sized, stock)) continue;
            if (protective.origin == plan::Origin::plan && now.known() && protective.value != now.value)
                edit(protective, *now);
        }
    }
    return edits;
}

}  // namespace benchfeed::advice
