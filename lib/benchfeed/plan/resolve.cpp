// Names -> indices: from, like, stocks, loads of sets, bonded metal. Dangling and circular ones are told.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <unordered_map>

#include <benchfeed/plan/found.hpp>
#include <benchfeed/plan/reading.hpp>

namespace benchfeed::plan {

namespace {

constexpr std::size_t deepest = 64;

/// Paths and names of everything, for look-ups that stay quick in large plans.
struct Names {
    std::unordered_map<std::string, Index> elements, stocks;
    std::vector<std::string> paths, stock_names, load_names;

    explicit Names(const Plan& plan) {
        for (Index i = 0; i < plan.elements.size(); ++i) {
            paths.push_back(plan[i].path());
            elements.emplace(paths.back(), i);
            if (plan[i].kind == Kind::load) load_names.push_back(plan[i].name);
        }
        for (Index i = 0; i < plan.stocks.size(); ++i) {
            stock_names.push_back(plan.stocks[i].name);
            stocks.emplace(plan.stocks[i].name, i);
        }
    }
    [[nodiscard]] Index element(const std::string& path) const {
        const auto it = elements.find(path);
        return it == elements.end() ? nowhere : it->second;
    }
};

/// Something of a common file that nothing hangs on.
template <class T>
T* pattern_of(std::vector<T>& patterns, const std::string& path) {
    const auto it =
        std::find_if(patterns.begin(), patterns.end(), [&](const T& one) { return one.path() == path; });
    return it == patterns.end() ? nullptr : &*it;
}

std::string near_words(const std::string& written, const std::vector<std::string>& known) {
    const std::string near = known.size() > 2000 ? "" : nearest(written, known);
    return near.empty() ? "" : "\"" + near + "\"";
}

/// What a `from` that leads nowhere may have meant: the name with the right kind, a cable, a near miss.
std::string meant_from(const Element& e, const Names& names) {
    const std::string& written = *e.from;
    if (written.empty()) return "the element that feeds it: \"kind.NAME\"";
    const std::string name =
        written.substr(written.find('.') == std::string::npos ? 0 : written.find('.') + 1);
    for (const Kind kind : {Kind::supply, Kind::device, Kind::outlet, Kind::box, Kind::switch_})
        if (const std::string path = fmt::format("{}.{}", word(kind), name);
            names.element(path) != nowhere && path != e.path())
            return "\"" + path + "\"";
    if (written.starts_with("stock.") && names.stocks.contains(name))
        return fmt::format(
            "the element from which it comes; the cable goes into cable = {{ stock = \"{}\" }}", name);
    return near_words(written, names.paths);
}

void resolve_from(Context& context, Plan& plan, const Names& names) {
    for (Index i = 0; i < plan.elements.size(); ++i) {
        Element& e = plan.elements[i];
        if (!e.from.known()) continue;
        const Index parent = names.element(*e.from);
        const std::string path = e.path() + ".from";
        if (parent == nowhere) {
            // Of a kind whose tables do not read, nothing is in the plan.
            if (context.excused.contains(e.from->substr(0, e.from->find('.')))) continue;
            context.fault(path,
                          fmt::format("{} comes from \"{}\", which is not in the plan", e.path(), *e.from),
                          {{e.from.span, ""}}, meant_from(e, names));
            continue;
        }
        if (plan[parent].kind == Kind::load && e.kind != Kind::outlet) {
            context.fault(path,
                          fmt::format("a load feeds outlets only, and {} is a {}", e.path(), word(e.kind)),
                          {{e.from.span, ""}},
                          fmt::format("an outlet from \"{}\", and this from that outlet", *e.from));
            continue;
        }
        e.parent = parent;
    }
}

/// Follow every chain; a chain longer than all elements, or one that comes back, has no supply.
void find_cycles(Context& context, Plan& plan) {
    std::vector<std::uint8_t> state(plan.elements.size(), 0);  // 0 not seen, 1 on this chain, 2 done
    for (Index start = 0; start < plan.elements.size(); ++start) {
        std::vector<Index> chain;
        Index at = start;
        while (at != nowhere && state[at] == 0) {
            state[at] = 1;
            chain.push_back(at);
            at = plan[at].parent;
        }
        if (at != nowhere && state[at] == 1) {
            const auto first = std::find(chain.begin(), chain.end(), at);
            std::string round;
            std::vector<Label> labels;
            for (auto it = first; it != chain.end(); ++it) {
                round += plan[*it].path() + " from ";
                if (labels.size() < 4) labels.push_back({plan[*it].from.span, ""});
            }
            context.fault(plan[at].path() + ".from",
                          "the current runs in a circle: " + round + plan[at].path(), std::move(labels),
                          "a `from` that leads to a supply");
            for (auto it = first; it != chain.end(); ++it) plan.elements[*it].parent = nowhere;
        }
        for (const Index done : chain) state[done] = 2;
    }
}

void link_children(Context& context, Plan& plan) {
    for (Index i = 0; i < plan.elements.size(); ++i)
        if (plan[i].parent != nowhere) plan.elements[plan[i].parent].children.push_back(i);
    for (Index i = 0; i < plan.elements.size(); ++i) {
        std::size_t steps = 0;
        for (Index up = i; up != nowhere && steps <= deepest; up = plan[up].parent) ++steps;
        if (steps == deepest + 1)
            context.fault(
                plan[i].path(),
                fmt::format("more than {} elements between {} and its supply", deepest, plan[i].path()),
                {{plan[i].from.span, ""}});
    }
}

void resolve_stocks(Context& context, Plan& plan, const Names& names) {
    for (Element& e : plan.elements) {
        if (!e.cable || !e.cable->stock.known()) continue;
        const auto it = names.stocks.find(*e.cable->stock);
        if (it != names.stocks.end()) {
            e.cable->stock_index = it->second;
            continue;
        }
        const std::string near = near_words(*e.cable->stock, names.stock_names);
        context.fault(e.path() + ".cable.stock", fmt::format("there is no stock \"{}\"", *e.cable->stock),
                      {{e.cable->stock.span, ""}},
                      near.empty() ? "[stock.NAME] with type, section and cores" : near);
    }
}

void resolve_loads(Context& context, const Names& names, const Field<std::vector<std::string>>& field,
                   std::vector<Index>& into, const std::string& path) {
    if (!field.known()) return;
    if (field->empty())
        context.fault(path, fmt::format("{} is empty", path), {{field.span, ""}}, "at least one name");
    if (field->size() > 1000) return context.fault(path, "a set has at most 1000 loads", {{field.span, ""}});
    for (const std::string& name : *field) {
        const Index load = names.element("load." + name);
        if (load == nowhere) {
            const bool with_kind = name.starts_with("load.");
            context.fault(
                path, fmt::format("there is no load \"{}\"", name), {{field.span, ""}},
                with_kind ? "\"" + name.substr(5) + "\", without load." : near_words(name, names.load_names));
        } else if (std::find(into.begin(), into.end(), load) != into.end()) {
            context.fault(path, fmt::format("\"{}\" is there twice", name), {{field.span, ""}}, "it once");
        } else {
            into.push_back(load);
        }
    }
}

void resolve_sets(Context& context, Plan& plan, const Names& names) {
    std::vector<std::string> seen;
    for (Together& t : plan.together) {
        const std::string path = "together." + t.name.value_or("");
        resolve_loads(context, names, t.loads, t.load_indices, path + ".loads");
        resolve_loads(context, names, t.start_order, t.start_indices, path + ".start_order");
        if (!t.name.known()) continue;
        if (*t.name == "everything")
            context.fault(path + ".name", "\"everything\" is the name of all loads at once",
                          {{t.name.span, ""}}, "another name");
        const bool plain =
            !t.name->empty() && t.name->size() <= 40 &&
            t.name->find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-") ==
                std::string::npos;
        if (!plain)
            context.fault(path + ".name", fmt::format("\"{}\" cannot be a name", *t.name),
                          {{t.name.span, ""}}, "1 to 40 letters, digits, _ and -");
        if (std::find(seen.begin(), seen.end(), *t.name) != seen.end()) {
            const auto first =
                std::find_if(plan.together.begin(), plan.together.end(),
                             [&](const Together& o) { return o.name.known() && *o.name == *t.name; });
            context.fault(path + ".name", fmt::format("two sets are named \"{}\"", *t.name),
                          {{t.name.span, "the second"}, {first->name.span, "the first"}}, "another name");
        }
        seen.push_back(*t.name);
    }
}

/// What a stop can drop out: it falls when its coil loses supply. What nobody knows yet may be one.
bool can_drop_out(const Switch& sw) {
    return sw.kind.is(SwitchKind::contactor) || sw.no_volt.is(true) || sw.kind.stated_unknown ||
           sw.no_volt.stated_unknown;
}

void resolve_stop(Context& context, const Plan& plan, const Names& names, Index at, Switch& sw,
                  const std::string& name) {
    const std::string path = plan[at].path() + ".stops";
    const auto fault = [&](std::string message, std::vector<Label> labels, std::string help) {
        context.fault(path, std::move(message), std::move(labels), std::move(help));
    };
    const Index target = names.element(name);
    if (target == nowhere) {
        if (context.excused.contains(name.substr(0, name.find('.')))) return;
        const bool without_kind = names.element("switch." + name) != nowhere;
        return fault(fmt::format("{} stops \"{}\", which is not in the plan", plan[at].path(), name),
                     {{sw.stops.span, ""}},
                     without_kind ? "\"switch." + name + "\"" : near_words(name, names.paths));
    }
    if (target == at)
        return fault(fmt::format("{} stops itself", plan[at].path()), {{sw.stops.span, ""}},
                     "the contactors that it drops out; what it feeds needs no word");
    const auto* stopped = plan[target].as<Switch>();
    if (!stopped || !can_drop_out(*stopped))
        return fault(fmt::format("{} stops {}, which is no contactor and has no no-volt release",
                                 plan[at].path(), name),
                     {{sw.stops.span, "drops this out"},
                      {plan[target].header, stopped ? "stays closed without supply" : "is no switch"}},
                     stopped ? "kind = \"contactor\" or no_volt = true there, if it is one"
                             : "the contactor or no-volt switch that feeds it");
    if (std::find(sw.stop_indices.begin(), sw.stop_indices.end(), target) != sw.stop_indices.end())
        return fault(fmt::format("\"{}\" is there twice", name), {{sw.stops.span, ""}}, "it once");
    sw.stop_indices.push_back(target);
}

void resolve_stops(Context& context, Plan& plan, const Names& names) {
    for (Index i = 0; i < plan.elements.size(); ++i) {
        auto* sw = std::get_if<Switch>(&plan.elements[i].what);
        if (!sw || !sw->stops.known()) continue;
        for (const std::string& name : *sw->stops) resolve_stop(context, plan, names, i, *sw, name);
    }
}

}  // namespace

void apply_like(Context& context, Plan& plan) {
    const Names names(plan);
    const auto take = [](std::vector<Slot> into, std::vector<Slot> from) {
        for (std::size_t i = 0; i < into.size(); ++i) {
            if (into[i].info.key == "from" || into[i].info.key == "label" || into[i].info.key == "like")
                continue;
            if (is_written(into[i].ref) || !is_written(from[i].ref)) continue;
            std::visit(
                [&](auto& target) {
                    using T = std::decay_t<decltype(target)>;
                    const auto& source = std::get<T>(from[i].ref);
                    if constexpr (std::is_same_v<T, ChoiceRef>) {
                        *target.field = *source.field;
                        target.field->origin = Origin::like;
                    } else {
                        *target = *source;
                        target->origin = Origin::like;
                    }
                },
                into[i].ref);
        }
    };
    for (Element& e : plan.elements) {
        if (!e.like.known()) continue;
        const Index source = names.element(*e.like);
        const std::string path = e.path() + ".like";
        Element* const pattern = source == nowhere ? pattern_of(plan.patterns, *e.like) : nullptr;
        if (source == nowhere && !pattern) {
            context.fault(path, fmt::format("there is no \"{}\" to be like", *e.like), {{e.like.span, ""}},
                          near_words(*e.like, names.paths));
            continue;
        }
        Element& from = pattern ? *pattern : plan.elements[source];
        if (from.path() == e.path()) {
            context.fault(path, fmt::format("{} is like itself", e.path()), {{e.like.span, ""}},
                          fmt::format("another {}, or no like", word(e.kind)));
            continue;
        }
        if (from.kind != e.kind || from.like.known()) {
            context.fault(path,
                          from.kind != e.kind ? fmt::format("{} is a {}, this is a {}", from.path(),
                                                            word(from.kind), word(e.kind))
                                              : fmt::format("{} uses like itself", from.path()),
                          {{e.like.span, ""}, {from.header, "this one"}},
                          fmt::format("a {} that has no like", word(e.kind)));
            continue;
        }
        e.like_index = source;
        take(slots(e), slots(from));
        if (!e.cable) e.cable = from.cable;
        std::visit(
            [&](auto& what) {
                using T = std::decay_t<decltype(what)>;
                const T& other = std::get<T>(from.what);
                if constexpr (std::is_same_v<T, Device>)
                    if (!what.residual) what.residual = other.residual;
                if constexpr (std::is_same_v<T, Outlet>)
                    if (!what.measured) what.measured = other.measured;
                if constexpr (std::is_same_v<T, Load>)
                    if (!what.plate) what.plate = other.plate;
            },
            e.what);
    }
    for (Stock& stock : plan.stocks) {
        if (!stock.like.known()) continue;
        const std::string wanted = stock.like->starts_with("stock.") ? stock.like->substr(6) : *stock.like;
        const auto it = names.stocks.find(wanted);
        Stock* const pattern = pattern_of(plan.stock_patterns, "stock." + wanted);
        Stock* const source = it != names.stocks.end() ? &plan.stocks[it->second] : pattern;
        if (!source || source->like.known() || source == &stock) {
            context.fault(stock.path() + ".like",
                          fmt::format("there is no stock \"{}\" without a like of its own", *stock.like),
                          {{stock.like.span, ""}}, near_words(wanted, names.stock_names));
            continue;
        }
        if (source != pattern) stock.like_index = it->second;
        take(slots(stock), slots(*source));
    }
}

/// Where something was read: an outlet, a residual current device, a metal part; insulation anywhere.
void resolve_readings(Context& context, Plan& plan, const Names& names) {
    std::map<std::string, Index> metals;
    if (!plan.readings.empty())
        for (Index m = 0; m < plan.metals.size(); ++m) metals.emplace("metal." + plan.metals[m].name, m);
    for (MeterReading& reading : plan.readings) {
        if (!reading.at.known() || !reading.test.known()) continue;
        const Test test = reading.test.get();
        const bool at_device = of_a_residual_device(test);
        const Index element = names.element(*reading.at);
        const auto metal = metals.find(*reading.at);
        if (metal != metals.end() && test == Test::protective)
            reading.metal = metal->second;
        else if (element != nowhere && (test == Test::insulation ||
                                        plan[element].kind == (at_device ? Kind::device : Kind::outlet)))
            reading.element = element;
        else
            context.fault("reading.at",
                          fmt::format("\"{}\" is not read at {}", reading.test.word(),
                                      element == nowhere && metal == metals.end()
                                          ? "\"" + *reading.at + "\", which is not in the plan"
                                          : *reading.at),
                          {{reading.at.span, ""}},
                          at_device                  ? "device.NAME"
                          : test == Test::insulation ? "kind.NAME"
                          : test == Test::protective ? "outlet.NAME or metal.NAME"
                                                     : "outlet.NAME");
    }
}

void resolve_references(Context& context, Plan& plan) {
    const Names names(plan);
    resolve_from(context, plan, names);
    find_cycles(context, plan);
    link_children(context, plan);
    resolve_stocks(context, plan, names);
    resolve_sets(context, plan, names);
    resolve_stops(context, plan, names);
    for (Element& e : plan.elements) {
        auto* load = std::get_if<Load>(&e.what);
        if (!load || !load->starts_with.known()) continue;
        load->starts_with_index = names.element("load." + *load->starts_with);
        if (load->starts_with_index == nowhere)
            context.fault(e.path() + ".starts_with",
                          fmt::format("there is no load \"{}\"", *load->starts_with),
                          {{load->starts_with.span, ""}}, near_words(*load->starts_with, names.load_names));
    }
    for (MetalPart& metal : plan.metals) {
        if (!metal.bonded.known() || *metal.bonded == "no") continue;
        metal.bonded_index = names.element(*metal.bonded);
        if (metal.bonded_index == nowhere)
            context.fault("metal." + metal.name + ".bonded",
                          fmt::format("there is no \"{}\" to end at", *metal.bonded),
                          {{metal.bonded.span, ""}}, near_words(*metal.bonded, names.paths));
    }
    resolve_readings(context, plan, names);
    // A table that is there and does not read is told already.
    const auto none = [&](Kind kind) {
        return !context.excused.contains(std::string(word(kind))) &&
               std::none_of(plan.elements.begin(), plan.elements.end(),
                            [&](const Element& e) { return e.kind == kind; });
    };
    const Span place = plan.head.header.nowhere() ? first_character : plan.head.header;
    if (none(Kind::supply))
        context.fault("supply", "the plan has no supply", {{place, ""}}, "[supply.panel] with its system");
    if (none(Kind::load))
        context.fault("load", "the plan has no load: there is nothing to judge", {{place, ""}},
                      "[load.NAME] for each tool");
}

}  // namespace benchfeed::plan
