// What a plan takes from common files: only what it names, so that a file of ten thousand tools costs no more
// than the two that are used.
#include <fmt/format.h>

#include <algorithm>
#include <unordered_set>

#include <benchfeed/plan/plan_reader.hpp>

namespace benchfeed::plan {

namespace {

using BesideList = std::vector<std::shared_ptr<const text::Beside>>;

Span header_of(const text::Entry& entry) {
    return entry.node.span.nowhere() ? entry.key_span : entry.node.span;
}

class Taker {
public:
    Taker(Context& context, Plan& plan, const BesideList& beside)
        : context_(context), plan_(plan), beside_(beside) {
        for (const Element& e : plan.elements) there_.insert(e.path());
        for (const Stock& s : plan.stocks) there_.insert(s.path());
        for (const Element& e : plan.patterns) patterns_.insert(e.path());
        for (const Stock& s : plan.stock_patterns) patterns_.insert(s.path());
    }

    void run() {
        for (std::size_t i = 0; i < plan_.elements.size(); ++i) follow(i);  // what is taken is followed too
        for (std::size_t i = 0; i < plan_.stocks.size(); ++i)
            if (plan_.stocks[i].like.known()) take_stock_pattern(*plan_.stocks[i].like);
    }

private:
    [[nodiscard]] const text::Entry* find(const std::string& path) const {
        for (const auto& text : beside_)
            if (const auto it = text->named.find(path); it != text->named.end()) return it->second;
        return nullptr;
    }

    /// Read one table into a plan of its own; its faults were told when its file was read.
    [[nodiscard]] Plan read(const std::string& path, const text::Entry& entry) const {
        Plan alone;
        Context quiet{context_.words, {}, {}};
        PlanReader(quiet, alone).read_one(path.substr(0, path.find('.')), entry);
        return alone;
    }

    void follow(std::size_t i) {
        if (plan_.elements[i].from.known()) take_feeder(std::string(*plan_.elements[i].from));
        std::string stock = stock_of(plan_.elements[i]);
        if (plan_.elements[i].like.known()) {
            const std::string like = *plan_.elements[i].like;
            take_pattern(like);
            if (!plan_.elements[i].cable) stock = stock_of_pattern(like);
        }
        if (!stock.empty()) take_stock("stock." + stock);
    }

    static std::string stock_of(const Element& e) {
        return e.cable && e.cable->stock.known() ? *e.cable->stock : std::string();
    }
    [[nodiscard]] std::string stock_of_pattern(const std::string& path) const {
        for (const Element& e : plan_.patterns)
            if (e.path() == path) return stock_of(e);
        return {};
    }

    void take_feeder(const std::string& path) {
        const text::Entry* entry = there_.contains(path) ? nullptr : find(path);
        if (!entry || path.starts_with("stock.")) return;
        for (Element& e : read(path, *entry).elements) plan_.elements.push_back(std::move(e));
        there_.insert(path);
    }
    void take_stock(const std::string& path) {
        const text::Entry* entry = there_.contains(path) ? nullptr : find(path);
        if (!entry) return;
        for (Stock& s : read(path, *entry).stocks) plan_.stocks.push_back(std::move(s));
        there_.insert(path);
    }
    void take_pattern(const std::string& path) {
        const bool known = there_.contains(path) || patterns_.contains(path);
        const text::Entry* entry = known ? nullptr : find(path);
        if (!entry) return;
        for (Element& e : read(path, *entry).elements) plan_.patterns.push_back(std::move(e));
        patterns_.insert(path);
    }
    void take_stock_pattern(const std::string& like) {
        const std::string path = like.starts_with("stock.") ? like : "stock." + like;
        const bool known = there_.contains(path) || patterns_.contains(path);
        const text::Entry* entry = known ? nullptr : find(path);
        if (!entry) return;
        for (Stock& s : read(path, *entry).stocks) plan_.stock_patterns.push_back(std::move(s));
        patterns_.insert(path);
    }

    Context& context_;
    Plan& plan_;
    const BesideList& beside_;
    std::unordered_set<std::string> there_, patterns_;
};

/// Of two limits the smaller.
template <class T>
void tighten(Field<T>& mine, const Field<T>& theirs) {
    if (theirs.known() && (!mine.known() || *theirs < *mine)) mine = theirs;
}

void take_local(Context& context, Plan& plan, const text::Beside& text) {
    const text::Entry* entry = text.parsed.root.find("local");
    if (!entry || !entry->node.as<text::Table>()) return;
    const Span header = header_of(*entry);
    const auto& houses = plan.local.houses;
    if (std::any_of(houses.begin(), houses.end(), [&](const auto& h) { return h.header == header; })) return;
    Plan alone;
    Context quiet{context.words, {}, {}};
    PlanReader(quiet, alone).read_local(*entry);
    Local &mine = plan.local, &theirs = alone.local;
    tighten(mine.voltage_drop_limit, theirs.voltage_drop_limit);
    tighten(mine.start_dip_limit, theirs.start_dip_limit);
    tighten(mine.long_run_share, theirs.long_run_share);
    tighten(mine.residual_trip, theirs.residual_trip);
    // Credit for cool air lets a cable carry more: who refuses it is the stricter one.
    if (theirs.ambient_credit.known() && (!mine.ambient_credit.known() || theirs.ambient_credit.is(false)))
        mine.ambient_credit = theirs.ambient_credit;
    if (!mine.present) {
        mine.header = header;
        mine.source = theirs.source;
    }
    mine.present = true;
    mine.houses.push_back({header, theirs.source.value_or("")});
}

}  // namespace

std::string_view Local::source_of(const Span& place) const {
    const House* found = nullptr;
    for (const House& house : houses)
        if (house.header.line <= place.line && (!found || found->header.line < house.header.line))
            found = &house;
    if (stands_beside(place)) return found ? std::string_view(found->source) : std::string_view{};
    return source.known() && !stands_beside(source.span) ? std::string_view(*source) : std::string_view{};
}

void tell_common_twice(Context& context, const Plan& plan, const BesideList& beside) {
    const auto tell = [&](const std::string& path, const Span& here, std::string_view words,
                          const text::Entry& there) {
        context.fault(
            path, fmt::format("{} is there twice: names of common files and of the plan are one list", path),
            {{here, std::string(words)}, {header_of(there), "in a common file"}},
            "another name for one of them");
    };
    for (std::size_t i = 0; i < beside.size(); ++i) {
        const auto look = [&](const auto& list) {
            for (const auto& one : list)
                if (const auto it = beside[i]->named.find(one.path()); it != beside[i]->named.end())
                    tell(one.path(), one.header, "in the plan", *it->second);
        };
        look(plan.elements);
        look(plan.stocks);
        for (std::size_t before = 0; before < i; ++before)
            for (const auto& [path, entry] : beside[i]->named)
                if (const auto it = beside[before]->named.find(path); it != beside[before]->named.end())
                    tell(path, header_of(*entry), "in another common file", *it->second);
    }
}

void PlanReader::read_common(const text::Table& root) {
    constexpr static FieldInfo title{"title", Absent::plain, "", false, "what it holds", ""},
        common{"common", Absent::nothing, "", false, "paths of further common files", ""};
    Field<std::string> title_field;
    Field<std::vector<std::string>> common_field;
    if (!root.find("format"))
        context_.fault("format", "the common file does not say its format",
                       {{root.find("common")->node.span, ""}}, "format = 1 as the first line");
    for (const Entry& entry : root.entries) {
        if (entry.key == "common") {
            read_fields(context_, *entry.node.as<Table>(), {{title, &title_field}, {common, &common_field}},
                        "common");
        } else if (entry.key == "format" || entry.key == "local" || entry.key == "stock" ||
                   std::any_of(element_kinds.begin(), element_kinds.end(),
                               [&](Kind kind) { return word(kind) == entry.key; })) {
            read_top(entry);
        } else {
            context_.fault(entry.key, fmt::format("a common file has no [{}]", entry.key),
                           {{entry.key_span, ""}},
                           "common, supply, device, stock, outlet, box, switch, load or local");
        }
    }
}

void take_common(Context& context, Plan& plan, const BesideList& beside) {
    if (beside.empty()) return;
    Taker(context, plan, beside).run();
    for (const auto& text : beside) take_local(context, plan, *text);
}

}  // namespace benchfeed::plan
