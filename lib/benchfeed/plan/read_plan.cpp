#include <benchfeed/plan/read_plan.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <tuple>

#include <benchfeed/plan/reading.hpp>
#include <benchfeed/text/toml.hpp>

namespace benchfeed::plan {

namespace {

using text::Entry;
using text::Node;
using text::Table;

constexpr std::size_t most_elements = 200'000;

bool good_name(std::string_view name) {
    return !name.empty() && name.size() <= 40 && std::all_of(name.begin(), name.end(), [](char c) {
        return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' ||
               c == '-';
    });
}

class PlanReader {
public:
    PlanReader(Context& context, Plan& plan) : context_(context), plan_(plan) {}

    void read(const Table& root) {
        make_room(root);
        for (const Entry& entry : root.entries) read_top(entry);
        sort_by_place(plan_.elements);
        sort_by_place(plan_.stocks);
    }

private:
    /// Elements are large: none is moved while others are read.
    void make_room(const Table& root) {
        std::size_t count = 0;
        for (const Kind kind : element_kinds)
            if (const Entry* entry = root.find(word(kind)))
                if (const auto* named = entry->node.as<Table>()) count += named->entries.size();
        plan_.elements.reserve(std::min(count, most_elements));
    }

    /// The order of the file. Elements are large: each is moved once.
    template <class T>
    static void sort_by_place(std::vector<T>& list) {
        const auto place = [&](std::size_t i) {
            return std::tuple(list[i].header.line, list[i].header.column, i);
        };
        std::vector<std::size_t> order(list.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::sort(order.begin(), order.end(), [&](auto a, auto b) { return place(a) < place(b); });
        std::vector<T> sorted;
        sorted.reserve(list.size());
        for (const std::size_t i : order) sorted.push_back(std::move(list[i]));
        list = std::move(sorted);
    }

    /// Span for the header of a table: the table's own, or its key's where the parser has none.
    static Span header_of(const Entry& entry) {
        return entry.node.span.nowhere() ? entry.key_span : entry.node.span;
    }

    const Table* table_of(const Entry& entry, const std::string& path, std::string_view name = "") {
        const auto* table = entry.node.as<Table>();
        if (!table) {
            context_.fault(path, fmt::format("{} is a table, not {}", path, text::kind_name(entry.node)),
                           {{entry.node.span, ""}}, fmt::format("[{}{}]", path, name));
            context_.excused.insert(path);
        }
        return table;
    }

    void read_top(const Entry& entry) {
        if (entry.key == "format") return read_format(entry);
        if (entry.key == "plan") return read_single(entry, plan_.head);
        if (entry.key == "site") return read_single(entry, plan_.site);
        if (entry.key == "local") {
            plan_.local.present = true;
            return read_single(entry, plan_.local);
        }
        if (entry.key == "together") return read_list(entry, plan_.together, most_sets);
        if (entry.key == "accept") return read_list(entry, plan_.accepts, most_elements);
        if (entry.key == "change") return read_list(entry, plan_.changes, most_elements);
        if (entry.key == "reading") return read_list(entry, plan_.readings, most_elements);
        if (entry.key == "stock")
            return read_named(entry, [&](const Entry& e, const Table& t) { read_stock(e, t); });
        if (entry.key == "metal")
            return read_named(entry, [&](const Entry& e, const Table& t) { read_metal(e, t); });
        for (const Kind kind : element_kinds)
            if (entry.key == word(kind))
                return read_named(entry, [&](const Entry& e, const Table& t) { read_element(kind, e, t); });
        const std::vector<std::string> known{"format", "plan",   "site",    "local",   "supply", "device",
                                             "outlet", "box",    "switch",  "load",    "stock",  "metal",
                                             "accept", "change", "reading", "together"};
        const std::string near = nearest(entry.key, known);
        if (!near.empty()) context_.excused.insert(near);
        context_.fault(entry.key, fmt::format("a plan has no [{}]", entry.key), {{entry.key_span, ""}},
                       near.empty() ? "plan, site, supply, device, stock, outlet, box, switch, load, metal, "
                                      "together, accept, local, reading or change"
                                    : near);
    }

    void read_format(const Entry& entry) {
        constexpr static FieldInfo info{"format", Absent::error, "", false, "", "", Vocabulary::none};
        Slot slot{info, &plan_.format};
        read_value(context_, entry.node, slot, "format");
        if (plan_.format.known() && *plan_.format != 1)
            context_.fault("format", fmt::format("this reads format 1, not {}", *plan_.format),
                           {{entry.node.span, ""}}, "format = 1");
    }

    template <class T>
    void read_single(const Entry& entry, T& into) {
        const Table* table = table_of(entry, entry.key);
        if (!table) return;
        into.header = header_of(entry);
        read_fields(context_, *table, slots(into), entry.key);
    }

    template <class T>
    void read_list(const Entry& entry, std::vector<T>& into, std::size_t most) {
        const auto* array = entry.node.as<text::Array>();
        if (!array)
            return context_.fault(entry.key, fmt::format("{} is a list of tables", entry.key),
                                  {{header_of(entry), ""}}, "[[" + entry.key + "]]");
        for (const Node& item : array->items) {
            const auto* table = item.as<Table>();
            if (!table) {
                context_.fault(entry.key, fmt::format("{} is a list of tables", entry.key), {{item.span, ""}},
                               "[[" + entry.key + "]]");
                continue;
            }
            if (into.size() == most)
                return context_.fault(entry.key, fmt::format("more than {} of [[{}]]", most, entry.key),
                                      {{item.span, ""}});
            into.emplace_back();
            into.back().header = item.span;
            read_fields(context_, *table, slots(into.back()), entry.key);
        }
    }

    template <class Read>
    void read_named(const Entry& kind, Read read) {
        const Table* table = table_of(kind, kind.key, ".NAME");
        if (!table) return;
        for (const Entry& entry : table->entries) {
            const std::string path = kind.key + "." + entry.key;
            if (!entry.node.as<Table>()) {
                context_.fault(
                    path, fmt::format("[{}] needs a name: {} stands directly in it", kind.key, entry.key),
                    {{entry.key_span, ""}}, fmt::format("[{}.NAME]", kind.key));
                continue;
            }
            if (!good_name(entry.key))
                context_.fault(path, fmt::format("\"{}\" cannot be a name", entry.key),
                               {{entry.key_span, ""}},
                               "1 to 40 letters, digits, _ and -; other words go into label");
            read(entry, *entry.node.as<Table>());
        }
    }

    template <class T>
    void read_inner(const Table& table, std::string_view key, const std::string& path,
                    std::optional<T>& into) {
        const Entry* entry = table.find(key);
        if (!entry) return;
        const std::string here = path + "." + std::string(key);
        if (const auto* word = entry->node.as<std::string>(); word && *word == "unknown" && key == "plate")
            return;
        const Table* inner = table_of(*entry, here);
        if (!inner) return;
        into.emplace();
        into->span = header_of(*entry);
        read_fields(context_, *inner, slots(*into), here);
    }

    /// True, and told once for each table too many, when there is no room for one more.
    bool full(std::size_t count, std::string_view kind, std::string_view what, const Entry& entry) {
        if (count < most_elements) return false;
        context_.fault(std::string(kind), fmt::format("more than {} {}", most_elements, what),
                       {{entry.key_span, ""}});
        return true;
    }

    void read_element(Kind kind, const Entry& entry, const Table& table) {
        if (full(plan_.elements.size(), word(kind), "elements", entry)) return;
        Element element;
        element.kind = kind;
        element.name = entry.key;
        element.header = header_of(entry);
        element.what = empty_of(kind);
        const std::string path = element.path();
        const auto fields = [&](std::initializer_list<std::string_view> inner) {
            read_fields(context_, table, slots(element), path, inner);
        };
        if (kind == Kind::supply) {
            fields({});
        } else if (auto* device = std::get_if<Device>(&element.what)) {
            fields({"cable", "residual"});
            read_inner(table, "residual", path, device->residual);
        } else if (auto* outlet = std::get_if<Outlet>(&element.what)) {
            fields({"cable", "measured"});
            read_inner(table, "measured", path, outlet->measured);
        } else if (auto* load = std::get_if<Load>(&element.what)) {
            fields({"cable", "plate"});
            read_inner(table, "plate", path, load->plate);
        } else {
            fields({"cable"});
        }
        if (kind != Kind::supply) read_inner(table, "cable", path, element.cable);
        plan_.elements.push_back(std::move(element));
    }

    void read_stock(const Entry& entry, const Table& table) {
        if (full(plan_.stocks.size(), "stock", "stocks", entry)) return;
        Stock stock;
        stock.name = entry.key;
        stock.header = header_of(entry);
        read_fields(context_, table, slots(stock), stock.path());
        plan_.stocks.push_back(std::move(stock));
    }

    void read_metal(const Entry& entry, const Table& table) {
        if (full(plan_.metals.size(), "metal", "metal parts", entry)) return;
        MetalPart metal;
        metal.name = entry.key;
        metal.header = header_of(entry);
        read_fields(context_, table, slots(metal), "metal." + metal.name);
        plan_.metals.push_back(std::move(metal));
    }

    Context& context_;
    Plan& plan_;
};

void require_head(Context& context, const Table& root) {
    if (!root.find("format"))
        context.fault("format", "the plan does not say its format", {{first_character, ""}},
                      "format = 1 as the first line");
    if (!root.find("plan"))
        context.fault("plan", "there is no [plan]", {{first_character, ""}},
                      "[plan] with region and mounting");
}

}  // namespace

void require_fields(Context& context, Plan& plan) {
    const auto require = [&](const std::string& path, const Span& header, std::vector<Slot> slots) {
        for (Slot& slot : slots) {
            set_header(slot.ref, header);
            if (slot.info.absent != Absent::error || is_written(slot.ref)) continue;
            const std::string here = path + "." + std::string(slot.info.key);
            if (context.excused.contains(here)) continue;
            context.fault(here, fmt::format("{} does not say {}", path, slot.info.key), {{header, ""}},
                          fmt::format("{} = ... ({})", slot.info.key, slot.info.meaning));
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
    for (Change& c : plan.changes) require("change", c.header, slots(c));
    for (MeterReading& r : plan.readings) require("reading", r.header, slots(r));
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
    if (written.whole) require_head(context, parsed.root);
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
    apply_overrides(context, reading.plan, overrides);
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
