#pragma once
// The reader of tables, for plans and common files. Not for use outside this folder.
#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <tuple>
#include <utility>

#include <benchfeed/plan/reading.hpp>

namespace benchfeed::plan {

inline constexpr std::size_t most_elements = 200'000;
constexpr std::size_t most_readings = 10'000;

/// 1 to 40 letters, digits, _ and -.
inline bool good_name(std::string_view name) {
    return !name.empty() && name.size() <= 40 && std::all_of(name.begin(), name.end(), [](char c) {
        return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' ||
               c == '-';
    });
}

/// Tables of a text -> tables of a plan. What does not fit is told in the context.
class PlanReader {
    using Entry = text::Entry;
    using Node = text::Node;
    using Table = text::Table;

public:
    /// Reads into this plan.
    PlanReader(Context& context, Plan& plan) : context_(context), plan_(plan) {}

    /// A whole plan.
    void read(const Table& root) {
        make_room(root);
        for (const Entry& entry : root.entries) read_top(entry);
        sort_by_place(plan_.elements);
        sort_by_place(plan_.stocks);
    }

    /// A whole common file.
    void read_common(const Table& root);
    /// One element or stock by itself.
    void read_one(std::string_view kind, const Entry& entry) {
        if (kind == "stock") return read_stock(entry, *entry.node.as<Table>());
        for (const Kind one : element_kinds)
            if (word(one) == kind) return read_element(one, entry, *entry.node.as<Table>());
    }
    /// A [local] by itself.
    void read_local(const Entry& entry) {
        plan_.local.present = true;
        read_single(entry, plan_.local);
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

    /// The order of the file. Elements are large: each is moved about once, and there is no second list.
    template <class T>
    static void sort_by_place(std::vector<T>& list) {
        const auto place = [&](std::size_t i) {
            return std::tuple(list[i].header.line, list[i].header.column, i);
        };
        std::vector<std::size_t> order(list.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::sort(order.begin(), order.end(), [&](auto a, auto b) { return place(a) < place(b); });
        for (std::size_t first = 0; first < order.size(); ++first) {
            if (order[first] == first) continue;
            T held = std::move(list[first]);  // around the ring of places that give to each other
            std::size_t at = first;
            for (; order[at] != first; at = std::exchange(order[at], at))
                list[at] = std::move(list[order[at]]);
            list[at] = std::move(held);
            order[at] = at;
        }
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
        if (entry.key == "local") return read_local(entry);
        if (entry.key == "common")
            return context_.fault("common", "this is a common file and no plan", {{header_of(entry), ""}},
                                  "common = [\"...\"] in the [plan] of a plan that uses it");
        if (entry.key == "together") return read_list(entry, plan_.together, most_sets);
        if (entry.key == "accept") return read_list(entry, plan_.accepts, most_elements);
        if (entry.key == "change") return read_list(entry, plan_.changes, most_elements);
        if (entry.key == "reading") return read_list(entry, plan_.readings, most_readings);
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

    template <class Inner>
    void read_inner(const Table& table, std::string_view key, const std::string& path, Inner& into) {
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

}  // namespace benchfeed::plan
