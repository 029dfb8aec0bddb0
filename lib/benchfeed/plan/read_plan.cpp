#include <benchfeed/plan/read_plan.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include <benchfeed/plan/plan_reader.hpp>
#include <benchfeed/text/toml.hpp>

namespace benchfeed::plan {

namespace {

using text::Table;

void require_head(Context& context, const Table& root) {
    if (!root.find("format"))
        context.fault("format", "the plan does not say its format", {{first_character, ""}},
                      "format = 1 as the first line");
    if (!root.find("plan"))
        context.fault("plan", "there is no [plan]", {{first_character, ""}}, "[plan] with region");
}

/// A plan that names common files says little without them.
void require_common_read(Context& context, const Plan& plan, const text::Document& document) {
    const auto& common = plan.head.common;
    if (!common.known() || common->empty() || !document.beside().empty()) return;
    context.fault("plan.common", "common files are not read here: only the text of the plan was handed over",
                  {{common.span, ""}}, "the plan by its file name; or flatten it first");
}

/// What is told of a common file also shows the plan that reads it.
void add_reader(const Plan& plan, Diagnostics& problems) {
    for (Diagnostic& problem : problems) {
        const bool beside = !problem.labels.empty() && stands_beside(problem.labels.front().span);
        const bool here = std::any_of(problem.labels.begin(), problem.labels.end(),
                                      [](const Label& l) { return !stands_beside(l.span); });
        if (beside && !here && plan.head.common.written())
            problem.labels.push_back({plan.head.common.span, "which this plan reads"});
    }
}

}  // namespace

void require_fields(Context& context, Plan& plan) {
    const auto require = [&](const std::string& path, const Span& header, std::vector<Slot> slots) {
        for (Slot& slot : slots) {
            set_header(slot.ref, header);
            if (slot.info.absent != Absent::error || is_written(slot.ref)) continue;
            const std::string here = path + "." + std::string(slot.info.key);
            if (context.excused.contains(here)) continue;
            std::string help = fmt::format("{} = ... ({})", slot.info.key, slot.info.meaning);
            if (slot.info.vocabulary == Vocabulary::feeder)
                help += "; `like` takes over everything but `from` and `label`";
            context.fault(here, fmt::format("{} does not say {}", path, slot.info.key), {{header, ""}},
                          std::move(help));
        }
    };
    if (!plan.head.header.nowhere()) require("plan", plan.head.header, slots(plan.head));
    if (plan.local.present) require("local", plan.local.header, slots(plan.local));
    for (Stock& stock : plan.stocks) require(stock.path(), stock.header, slots(stock));
    for (Element& e : plan.elements) {
        require(e.path(), e.header, slots(e));
        if (e.cable) require(e.path() + ".cable", e.cable->span, slots(*e.cable));
        if (auto* device = std::get_if<Device>(&e.what); device && device->residual)
            require(e.path() + ".residual", device->residual->span, slots(*device->residual));
        if (auto* outlet = std::get_if<Outlet>(&e.what); outlet && outlet->measured)
            require(e.path() + ".measured", outlet->measured->span, slots(*outlet->measured));
        if (auto* load = std::get_if<Load>(&e.what); load && load->plate)
            require(e.path() + ".plate", load->plate->span, slots(*load->plate));
    }
    for (MetalPart& m : plan.metals) require("metal." + m.name, m.header, slots(m));
    for (Together& t : plan.together) require("together", t.header, slots(t));
    for (Accept& a : plan.accepts) require("accept", a.header, slots(a));
    for (MeterReading& r : plan.readings) require("reading", r.header, slots(r));
    for (Change& c : plan.changes) require("change", c.header, slots(c));
}

Written read_written(const text::Document& document, const Words& words) {
    Written written;
    Context context{words, {}, {}};
    text::Parsed parsed = text::parse_toml(document);
    written.whole = parsed.problems.empty();
    context.problems = std::move(parsed.problems);
    written.plan.path = document.path();
    PlanReader(context, written.plan).read(parsed.root);
    // Where a block did not parse, what is missing may stand there.
    if (written.whole) {
        require_head(context, parsed.root);
        tell_common_twice(context, written.plan, document.beside());
        take_common(context, written.plan, document.beside());
        require_common_read(context, written.plan, document);
    }
    written.beside = document.beside();
    written.problems = std::move(context.problems);
    written.excused = std::move(context.excused);
    return written;
}

Reading read_plan(const text::Document& document, const Words& words, std::span<const Override> overrides) {
    return complete(read_written(document, words), words, overrides);
}

Reading complete(Written written, const Words& words, std::span<const Override> overrides) {
    Reading reading;
    reading.plan = std::move(written.plan);
    Context context{words, std::move(written.problems), std::move(written.excused)};
    const bool whole = written.whole;
    reading.plan.today = words.today;
    apply_overrides(context, reading.plan, overrides);
    if (whole && !overrides.empty()) take_common(context, reading.plan, written.beside);
    apply_like(context, reading.plan);
    // The same holds for names: dangling references would only add noise.
    if (whole) {
        resolve_references(context, reading.plan);
        require_fields(context, reading.plan);
    }
    if (context.problems.empty()) {
        assign_conductors(context, reading.plan);
        assume_defaults(context, reading.plan);
        make_sets(context, reading.plan);
    }
    if (whole) find_contradictions(context, reading.plan);
    std::stable_sort(context.problems.begin(), context.problems.end(),
                     [](const Diagnostic& a, const Diagnostic& b) {
                         const auto at = [](const Diagnostic& d) {
                             return d.labels.empty() ? Span{} : d.labels.front().span;
                         };
                         return std::pair(at(a).line, at(a).column) < std::pair(at(b).line, at(b).column);
                     });
    add_reader(reading.plan, context.problems);
    reading.problems = std::move(context.problems);
    return reading;
}

const Supply& Plan::supply_of(Index index) const {
    return *elements[supply_index_of(index)].as<Supply>();
}

Index Plan::supply_index_of(Index index) const {
    while (elements[index].parent != nowhere) index = elements[index].parent;
    return index;
}

std::vector<Index> Plan::path_to(Index index) const {
    std::vector<Index> down;
    for (Index up = index; up != nowhere; up = elements[up].parent) down.push_back(up);
    std::reverse(down.begin(), down.end());
    return down;
}

Index Plan::find(Kind kind, std::string_view name) const {
    for (Index i = 0; i < elements.size(); ++i)
        if (elements[i].kind == kind && elements[i].name == name) return i;
    return nowhere;
}

}  // namespace benchfeed::plan
