// Whoever draws or prints who feeds whom takes it from here. Ways are counted as heat.box-overfilled counts
// them, and what shock.cores-missing fails is refused: tests hold the three together, and walk every schedule
// with a continuity tester, every switch open and closed.
#include <benchfeed/advice/schedule.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include <benchfeed/advice/core_colours.hpp>
#include <benchfeed/advice/stop_circuits.hpp>
#include <benchfeed/rules/box_fill.hpp>
#include <benchfeed/rules/support.hpp>
#include <benchfeed/rules/upstream.hpp>

namespace benchfeed::advice {

using plan::Conductor;
using plan::Conductors;
using plan::Kind;
using plan::Wiring;
using rules::Situation;

namespace {

constexpr std::array conductors{Conductor::l1, Conductor::l2, Conductor::l3, Conductor::n, Conductor::pe};

/// What one core has to do.
struct Need {
    enum class Role : std::uint8_t { go, back, coil, control } role = Role::go;
    Conductor conductor = Conductor::l1;
    Terminal from, to;
    std::string means;
};

bool has_coil(const plan::Switch& sw) {
    using plan::SwitchKind;
    if (sw.no_volt.is(true) || sw.indicator.is(true)) return true;
    return sw.kind.is(SwitchKind::contactor) || sw.kind.is(SwitchKind::current_sensing) ||
           sw.kind.is(SwitchKind::remote) || sw.kind.is(SwitchKind::timer);
}

/// A load with a plug of its own, and whatever hangs on a machine: not wired by anybody here.
bool plugged_or_inside(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    if (e.kind == Kind::load)
        return e.plug.known() || e.plug.stated_unknown || s.plan[e.parent].kind == Kind::outlet;
    return rules::inside_a_machine(s, i);
}

/// Follows each conductor from where it comes to where it ends.
class Follower {
public:
    explicit Follower(const Situation& s) : s_(s), stops_(stop_circuits(s)) {}

    Schedule follow() {
        for (const Index i : s_.network.order) {
            if (s_.network.house[i] || plugged_or_inside(s_, i)) continue;
            if (s_.plan[i].parent != plan::nowhere) add_feed(i);
            add_inside(i);
        }
        add_bonds();
        count_ways();
        return std::move(out_);
    }

private:
    const plan::Element& at(Index i) const { return s_.plan[i]; }
    const plan::Switch* switch_at(Index i) const { return at(i).as<plan::Switch>(); }
    bool wired(Index i, Wiring wiring) const { return switch_at(i) && switch_at(i)->wiring.is(wiring); }
    Conductors live(Index i) const { return at(i).conductors.value_or(Conductors{}); }

    std::optional<Conductors> opened(Index i) const {
        if (const auto* sw = switch_at(i)) return rules::opened_by(*sw, live(i));
        if (const auto* device = at(i).as<plan::Device>()) return rules::opened_by(*device, live(i));
        return Conductors{};
    }
    bool turns(Index i) const { return switch_at(i) && switch_at(i)->changeover.is(true); }
    /// What each pole leads to: one way on, or the positions of a changeover switch.
    std::vector<Index> positions(Index i) const {
        return turns(i) ? at(i).children : std::vector<Index>{plan::nowhere};
    }
    bool opens(Index i, Conductor c) const {
        const auto open = opened(i);
        return open && open->has(c);
    }

    /// A protective conductor arrives: by the plug's contact, a core of the cable, and from above.
    bool protective(Index i) const {
        const plan::Element& e = at(i);
        if (e.cable && e.cable->stock_index != plan::nowhere &&
            s_.plan.stocks[e.cable->stock_index].protective.is(false))
            return false;
        if (e.plug.known()) {
            const tables::Table* patterns = s_.tables.table("plug-patterns");
            const auto row = patterns ? patterns->row_of("pattern", *e.plug) : std::nullopt;
            if (row && !patterns->flag(*row, "earth").value_or(true)) return false;
            if (s_.network.house[e.parent]) return true;  // from its pin on, whatever the house has
        }
        if (e.parent == plan::nowhere) return !e.as<plan::Supply>()->earthing.is(plan::Earthing::none);
        return protective(e.parent);
    }

    /// Where a conductor ends that arrives at an element.
    Terminal arriving_at(Index i, Conductor c) const {
        switch (at(i).kind) {
            case Kind::supply:
                return {Point::source, i, c};
            case Kind::box:
                return {Point::bank, i, c};
            case Kind::outlet:
                return {Point::contact, i, c};
            case Kind::load:
                return {Point::load, i, c};
            default:
                return {opens(i, c) ? Point::in : Point::passing, i, c};
        }
    }
    /// Where a conductor starts that leads on from an element to the one that it feeds.
    Terminal leaving_from(Index i, Conductor c, Index to) const {
        if (rules::out_and_back(at(i)) && !opens(i, c)) return leaving_from(at(i).parent, c, i);
        const Index position = turns(i) ? to : plan::nowhere;
        if (wired(i, Wiring::loop)) return {Point::returned, i, c, position};
        if ((at(i).kind == Kind::switch_ || at(i).kind == Kind::device) && opens(i, c))
            return {Point::out, i, c, position};
        return arriving_at(i, c);
    }
    Terminal start_of(Index i, Conductor c) const {
        return at(i).plug.written() ? Terminal{Point::pin, i, c} : leaving_from(at(i).parent, c, i);
    }
    Terminal end_of(Index i, Conductor c) const {
        return at(i).inlet.written() ? Terminal{Point::inlet, i, c} : arriving_at(i, c);
    }

    Conductors all_of(Index i) const {
        Conductors all = live(i);
        if (protective(i)) all.add(Conductor::pe);
        return all;
    }
    std::string named(Index i, Conductor c) const { return conductor_words(s_, i, c); }

    // ---- what the cores of a feed have to do ----------------------------------------------------------
    std::vector<Need> straight_through(Index i) const {
        std::vector<Need> needs;
        for (const Conductor c : conductors)
            if (all_of(i).has(c))
                needs.push_back({Need::Role::go, c, start_of(i, c), end_of(i, c), named(i, c)});
        return needs;
    }
    /// The conductor that feeds the other end of a coil: the neutral, else the last line.
    std::optional<Conductor> coil_return(Index i) const {
        if (live(i).has(Conductor::n)) return Conductor::n;
        for (const Conductor c : {Conductor::l3, Conductor::l2})
            if (live(i).has(c)) return c;
        return std::nullopt;
    }
    std::vector<Need> out_and_back(Index i) const {
        std::vector<Need> needs;
        for (const Conductor c : conductors) {
            if (!opens(i, c)) continue;
            needs.push_back({Need::Role::go, c, start_of(i, c), {Point::in, i, c}, named(i, c)});
            for (const Index position : positions(i))
                needs.push_back({Need::Role::back,
                                 c,
                                 {Point::out, i, c, position},
                                 {Point::returned, i, c, position},
                                 named(i, c) + " back from " + at(i).words()});
        }
        const auto coil = coil_return(i);
        if (has_coil(*switch_at(i)) && coil && !opens(i, *coil))
            needs.push_back({Need::Role::coil,
                             *coil,
                             start_of(i, *coil),
                             {Point::coil, i, *coil},
                             named(i, *coil) + " for its coil, lamp or electronics"});
        if (protective(i))
            needs.push_back({Need::Role::go,
                             Conductor::pe,
                             start_of(i, Conductor::pe),
                             {Point::passing, i, Conductor::pe},
                             "PE"});
        return needs;
    }
    std::vector<Need> control(Index i) const {
        const Conductor line = Conductor::l1;
        const Index stop = stop_before(stops_, i);
        std::vector<Need> needs{{Need::Role::control,
                                 line,
                                 stop == plan::nowhere ? leaving_from(at(i).parent, line, i)
                                                       : Terminal{Point::stopped, stop, line},
                                 {Point::button_in, i, line},
                                 named(i, line) + " to the stop button"}};
        if (stop_at(stops_, i)) {
            needs.push_back({Need::Role::control,
                             line,
                             {Point::button_between, i, line},
                             {Point::stopped, i, line},
                             named(i, line) + " back from the stop, for the buttons behind it"});
        } else if (switch_at(i)->kind.is(plan::SwitchKind::emergency_stop)) {
            needs.push_back({Need::Role::control,
                             line,
                             {Point::button_between, i, line},
                             {Point::coil_fed, i, line},
                             "back from the stop button to the coil"});
        } else {
            needs.push_back({Need::Role::control,
                             line,
                             {Point::button_between, i, line},
                             {Point::holding, i, line},
                             "between stop and start, to the holding contact"});
            needs.push_back({Need::Role::control,
                             line,
                             {Point::button_out, i, line},
                             {Point::coil_fed, i, line},
                             "from the start button to the coil"});
        }
        if (protective(i))
            needs.push_back({Need::Role::go,
                             Conductor::pe,
                             leaving_from(at(i).parent, Conductor::pe, i),
                             {Point::passing, i, Conductor::pe},
                             "PE"});
        return needs;
    }

    // ---- cores ---------------------------------------------------------------------------------------
    static Core core_of(const Need& need, std::string colour, std::string marked = "") {
        return {std::move(colour), std::move(marked), need.means, need.from, need.to};
    }

    /// Which core does what: the neutral on the core of its colour, lines on the others in turn.
    void give_cores(Run& run, std::vector<Need> needs, const CoreColours& colours) const {
        std::vector<bool> used(colours.live.size(), false);
        const auto is_neutral = [](const Need& need) { return need.conductor == Conductor::n; };
        const auto lives = static_cast<std::size_t>(std::count_if(
            needs.begin(), needs.end(), [](const Need& need) { return need.conductor != Conductor::pe; }));
        const bool neutral_here = std::any_of(needs.begin(), needs.end(), is_neutral);
        // All cores are wanted: one line goes on the core in the neutral's colour.
        const bool borrowed = colours.neutral && !neutral_here && lives == colours.live.size();
        bool neutral_given = false;
        for (const Need& need : needs) {
            if (need.conductor == Conductor::pe) {
                run.cores.push_back(core_of(need, colours.protective));
                continue;
            }
            std::optional<std::size_t> core;
            if (is_neutral(need) && colours.neutral && !neutral_given) core = colours.neutral;
            const bool feeds = need.role == Need::Role::go;
            if (borrowed && colours.marked_feeds && feeds && !used[*colours.neutral]) core = colours.neutral;
            for (std::size_t i = 0; !core && i < used.size(); ++i)
                if (!used[i] && i != colours.neutral) core = i;
            for (std::size_t i = 0; !core && i < used.size(); ++i)
                if (!used[i]) core = i;
            used[*core] = true;
            neutral_given = neutral_given || core == colours.neutral;
            std::string marked;
            if (core == colours.neutral && !is_neutral(need)) marked = colours.line_colour;
            if (core != colours.neutral && is_neutral(need)) marked = colours.neutral_colour;
            run.cores.push_back(core_of(need, colours.live[*core], marked));
        }
        for (std::size_t i = 0; i < used.size(); ++i)
            if (!used[i]) run.spare.push_back(colours.live[i]);
    }

    void add_cable(Run run, const std::vector<Need>& needs) {
        const plan::Stock& stock = s_.plan.stocks[at(run.element).cable->stock_index];
        const bool earth = !stock.protective.is(false);
        const int cores = stock.cores.value_or(0) - (earth ? 1 : 0);
        const auto live_needs = std::count_if(
            needs.begin(), needs.end(), [](const Need& need) { return need.conductor != Conductor::pe; });
        if (live_needs > cores) {
            std::vector<std::string> wanted;
            for (const Need& need : needs)
                if (need.conductor != Conductor::pe) wanted.push_back(need.means);
            run.refused = fmt::format("{} live core{}, and {} are needed: {}", cores, cores == 1 ? "" : "s",
                                      live_needs, rules::list(wanted));
        } else {
            const CoreColours colours = core_colours(s_, stock);
            give_cores(run, needs, colours);
            const bool earth_used = std::any_of(needs.begin(), needs.end(),
                                                [](const Need& n) { return n.conductor == Conductor::pe; });
            if (earth && !earth_used) run.spare.push_back(colours.protective);
        }
        out_.runs.push_back(std::move(run));
    }

    void add_links(Index element, Index from, Means means, const std::vector<Need>& needs) {
        Run run{element, from, means, {}, {}, ""};
        for (const Need& need : needs)
            if (need.from != need.to) run.cores.push_back(core_of(need, ""));
        if (!run.cores.empty()) out_.runs.push_back(std::move(run));
    }

    void add_feed(Index i) {
        const plan::Element& e = at(i);
        if (!e.conductors.known()) {
            out_.runs.push_back(
                {i, e.parent, Means::link, {}, {}, "the plan does not say which conductors it uses"});
            return;
        }
        if (!opened(i) && e.kind == Kind::switch_) {
            out_.runs.push_back({i,
                                 e.parent,
                                 e.cable ? Means::cable : Means::link,
                                 {},
                                 {},
                                 "the plan does not say how many poles " + e.words() + " has"});
            return;
        }
        const StopCircuit* stop = stop_at(stops_, i);
        if (stop && !stop->refused.empty()) {
            out_.runs.push_back({i, e.parent, e.cable ? Means::cable : Means::link, {}, {}, stop->refused});
            return;
        }
        if (e.plug.written() && !s_.network.house[e.parent]) add_mating(i);
        const bool buttons = wired(i, Wiring::control);
        const auto needs = buttons                  ? control(i)
                           : wired(i, Wiring::loop) ? out_and_back(i)
                                                    : straight_through(i);
        const bool cable = e.cable && e.cable->stock_index != plan::nowhere;
        if (cable)
            add_cable({i, e.parent, Means::cable, {}, {}, ""}, needs);
        else
            add_links(i, e.parent, e.kind == Kind::load ? Means::own_cord : Means::link, needs);
        if (buttons && !stop) add_contactor(i);
        if (e.inlet.written()) add_behind_inlet(i);
    }

    /// Contacts that touch where the bench itself has a plug in one of its outlets.
    void add_mating(Index i) {
        std::vector<Need> needs;
        for (const Conductor c : conductors)
            if (all_of(i).has(c))
                needs.push_back(
                    {Need::Role::go, c, leaving_from(at(i).parent, c, i), {Point::pin, i, c}, named(i, c)});
        add_links(i, at(i).parent, Means::mated, needs);
    }
    void add_behind_inlet(Index i) {
        std::vector<Need> needs;
        for (const Conductor c : conductors)
            if (all_of(i).has(c))
                needs.push_back({Need::Role::go, c, {Point::inlet, i, c}, arriving_at(i, c), named(i, c)});
        add_links(i, i, Means::link, needs);
    }
    /// The contactor in the box that buttons at the end of a cable work.
    void add_contactor(Index i) {
        std::vector<Need> needs;
        for (const Conductor c : conductors)
            if (opens(i, c))
                needs.push_back(
                    {Need::Role::go, c, leaving_from(at(i).parent, c, i), {Point::in, i, c}, named(i, c)});
        if (const auto coil = coil_return(i))
            needs.push_back({Need::Role::coil,
                             *coil,
                             leaving_from(at(i).parent, *coil, i),
                             {Point::coil, i, *coil},
                             named(i, *coil) + " for the coil"});
        add_links(i, at(i).parent, Means::link, needs);
    }

    void add_inside(Index i) {
        const Conductors all = all_of(i);
        for (const Conductor c : conductors)
            if (all.has(c) && opens(i, c))
                for (const Index position : positions(i))
                    out_.gates.push_back({{Point::in, i, c}, {Point::out, i, c, position}, i});
        const auto* sw = switch_at(i);
        if (!sw) return;
        const auto terminal = [&](Point point) { return Terminal{point, i, Conductor::l1}; };
        if (sw->wiring.is(Wiring::control)) {
            const bool stays = sw->kind.is(plan::SwitchKind::emergency_stop);
            out_.gates.push_back({terminal(Point::button_in), terminal(Point::button_between), i, stays});
            if (!stays) {
                out_.gates.push_back({terminal(Point::button_between), terminal(Point::button_out), i});
                out_.gates.push_back({terminal(Point::holding), terminal(Point::coil_fed), i});
            }
        } else if (const auto coil = coil_return(i);
                   !sw->wiring.is(Wiring::loop) && has_coil(*sw) && coil && !opens(i, *coil)) {
            add_links(i, i, Means::link,
                      {{Need::Role::coil,
                        *coil,
                        {Point::passing, i, *coil},
                        {Point::coil, i, *coil},
                        named(i, *coil) + " for its coil, lamp or electronics"}});
        }
    }

    void add_bonds() {
        for (Index m = 0; m < s_.plan.metals.size(); ++m) {
            const Index at = s_.plan.metals[m].bonded_index;
            if (at == plan::nowhere || s_.network.house[at]) continue;
            out_.runs.push_back(
                {plan::nowhere,
                 at,
                 Means::link,
                 {{"", "", "PE", arriving_at(at, Conductor::pe), {Point::metal, m, Conductor::pe}}},
                 {},
                 ""});
        }
    }

    /// The box in which the terminals of a point stand; nowhere for points elsewhere.
    Index box_of(const Terminal& terminal) const {
        if (terminal.point == Point::bank) return terminal.element;
        if (terminal.point != Point::returned && terminal.point != Point::stopped) return plan::nowhere;
        const Index host = rules::starts_at(s_, terminal.element);
        return at(host).kind == Kind::box ? host : plan::nowhere;
    }
    void count_ways() {
        std::map<Terminal, int> wires;
        for (const Run& run : out_.runs)
            for (const Core& core : run.cores) {
                ++wires[core.from];
                ++wires[core.to];
            }
        for (const Index i : s_.network.order)
            for (const auto& [terminal, count] : wires)
                if (box_of(terminal) == i) out_.ways.push_back({terminal, i, count});
    }

    const Situation& s_;
    std::vector<StopCircuit> stops_;
    Schedule out_;
};

}  // namespace

Schedule schedule(const Situation& situation) {
    return Follower(situation).follow();
}

bool Schedule::complete() const {
    return std::all_of(runs.begin(), runs.end(), [](const Run& run) { return run.refused.empty(); });
}

}  // namespace benchfeed::advice
