#include <benchfeed/advice/pictures.hpp>

#include <algorithm>
#include <map>

#include <benchfeed/network/trip.hpp>
#include <benchfeed/rules/limits_at.hpp>
#include <benchfeed/rules/starting.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using rules::Evaluated;
using rules::Judgement;
using rules::Limit;
using rules::Reach;
using rules::Situation;

// ---- load of every element --------------------------------------------------------------------------

namespace {

/// Where a part stands in the way of the current: plug, fuse, cable, inlet, the element.
int order_of(rules::Part part) {
    switch (part) {
        case rules::Part::plug:
            return 0;
        case rules::Part::fuse:
            return 1;
        case rules::Part::cable:
            return 2;
        case rules::Part::inlet:
            return 3;
        case rules::Part::whole:
            break;
    }
    return 4;
}

LoadBar bar_of(const Limit& limit, Index set, const Evaluated& found) {
    LoadBar bar;
    bar.at = limit.at;
    bar.part = limit.part;
    bar.set = set;
    bar.drawn = std::get<Current>(found.value);
    bar.rated = std::get<Current>(limit.edge);
    bar.share = bar.drawn / bar.rated;
    bar.motors_only = limit.weight.motors_only;
    bar.unknown_load = found.unknown != plan::nowhere;
    return bar;
}

/// One bar for each part of an element: the one of the greatest share.
class GreatestBars {
public:
    void add(const LoadBar& added) {
        const auto [place, fresh] = places_.try_emplace({added.at.index, added.part}, bars_.size());
        if (fresh)
            bars_.push_back(added);
        else if (added.share > bars_[place->second].share * (1 + 1e-9))
            bars_[place->second] = added;
    }
    [[nodiscard]] std::vector<LoadBar> take() { return std::move(bars_); }

private:
    std::vector<LoadBar> bars_;
    std::map<std::pair<Index, rules::Part>, std::size_t> places_;
};

/// The weakest of the plan's own sets, as the judgement has it: everything at once is no set of theirs.
void mark_weakest(const Situation& s, const Judgement& judgement, std::vector<LoadBar>& bars) {
    const rules::Weakest* weakest = nullptr;
    for (std::size_t set = 0; set < s.plan.sets.size(); ++set) {
        const rules::Weakest& one = judgement.weakest[set];
        if (one.limit != plan::nowhere && (!weakest || one.share > weakest->share * (1 + 1e-9)))
            weakest = &one;
    }
    if (!weakest) return;
    const Limit& limit = judgement.limits[weakest->limit];
    for (LoadBar& bar : bars) bar.weakest = bar.at == limit.at && bar.part == limit.part;
}

}  // namespace

std::vector<LoadBar> load_bars(const Situation& s, const Judgement& judgement) {
    const rules::LimitsAt limits(s.plan, judgement.limits);
    GreatestBars greatest;
    for (Index set = 0; set < s.plan.sets.size(); ++set) {
        const std::vector<Index>& loads = s.plan.sets[set].loads;
        rules::LoadsBelow below(s.network, loads);
        for (const Index i : limits.on_the_way_to(loads)) {
            const Limit& limit = judgement.limits[i];
            if (!rules::rates_an_element(limit)) continue;
            const Evaluated found = rules::evaluate(s, limit, below.that_count_for(limit));
            if (!found.loads.empty()) greatest.add(bar_of(limit, set, found));
        }
    }
    std::vector<LoadBar> bars = greatest.take();
    std::stable_sort(bars.begin(), bars.end(), [&](const LoadBar& a, const LoadBar& b) {
        const Index at_a = s.network.enter[a.at.index], at_b = s.network.enter[b.at.index];
        return at_a != at_b ? at_a < at_b : order_of(a.part) < order_of(b.part);
    });
    mark_weakest(s, judgement, bars);
    return bars;
}

// ---- volts along the chain --------------------------------------------------------------------------
// Each place has its own worst subset: two places may show different ones, and none a better one.

namespace {

/// Elements on the way to a load behind which the volts differ: the supply, the ends of cables, the load.
std::vector<Index> places_to(const Situation& s, Index load) {
    std::vector<Index> places;
    for (const Index i : s.plan.path_to(load))
        if (s.plan[i].kind == plan::Kind::supply || i == load || s.network.branches[i].cable)
            places.push_back(i);
    return places;
}

VoltPicture& picture_for(std::vector<VoltPicture>& pictures, Index set, Voltage nominal) {
    for (VoltPicture& picture : pictures)
        if (picture.set == set && picture.nominal == nominal) return picture;
    pictures.push_back({});
    pictures.back().set = set;
    pictures.back().nominal = nominal;
    return pictures.back();
}

void add_path(const Situation& s, Index load, VoltPicture& picture) {
    const auto conductors = s.network.loads[s.network.load_of[load]].conductors;
    VoltPath path;
    path.load = load;
    for (const Index element : places_to(s, load)) {
        const auto there = std::find_if(
            picture.places.begin(), picture.places.end(),
            [&](const VoltPlace& place) { return place.element == element && place.between == conductors; });
        path.places.push_back(static_cast<std::size_t>(there - picture.places.begin()));
        if (there != picture.places.end()) continue;
        VoltPlace place;
        place.element = element;
        place.between = conductors;
        place.volts = rules::fewest_volts_at(s, element, load, s.plan.sets[picture.set].loads);
        place.lost = (picture.nominal - place.volts) / picture.nominal;
        picture.places.push_back(place);
    }
    picture.paths.push_back(std::move(path));
    picture.shortest = picture.shortest || !network::unknown_branches(s.plan, s.network, load).empty();
}

/// A fail before a caution, then the least that may be lost.
bool stricter(const VoltEdge& a, const VoltEdge& b) {
    return a.fails != b.fails ? a.fails : a.lost < b.lost;
}

void add_edges(const Judgement& judgement, VoltPicture& picture) {
    for (const Limit& limit : judgement.limits) {
        const bool here = limit.reach.kind == Reach::Kind::lost_to &&
                          std::any_of(picture.paths.begin(), picture.paths.end(),
                                      [&](const VoltPath& path) { return path.load == limit.reach.element; });
        if (!here) continue;
        const bool fails = std::holds_alternative<Ratio>(limit.edge);
        const auto* lost = std::get_if<Ratio>(fails ? &limit.edge : &limit.caution);
        if (!lost) continue;
        const VoltEdge edge{Voltage(picture.nominal * (1.0 - in(unit::one, *lost))), *lost,
                            limit.reach.element, fails};
        if (!picture.edge || stricter(edge, *picture.edge)) picture.edge = edge;
    }
}

}  // namespace

std::vector<VoltPicture> volt_pictures(const Situation& s, const Judgement& judgement) {
    std::vector<VoltPicture> pictures;
    for (Index set = 0; set < s.plan.sets.size(); ++set)
        for (const Index load : s.plan.sets[set].loads) {
            const network::LoadPoint& point = s.network.loads[s.network.load_of[load]];
            const Voltage nominal = network::nominal_between(s.plan.supply_of(load), point.conductors);
            add_path(s, load, picture_for(pictures, set, nominal));
        }
    for (VoltPicture& picture : pictures) add_edges(judgement, picture);
    return pictures;
}

// ---- starts against trip zones ------------------------------------------------------------------------
// Steps and no curve: how amps fall while a motor comes up is not known. A start within a second counts for
// the whole second. Of several motors at a device the greatest is drawn; an outcome may tell another one.

namespace {

bool same_device(const StartPicture& picture, const Limit& limit) {
    return picture.at == limit.at && picture.part == limit.part;
}

/// What then runs: the set through the device, and what hangs there besides.
Current running_through(const Situation& s, const Limit& start, Index set) {
    Limit limit;
    limit.at = start.at;
    limit.base = start.base;
    limit.reach = {Reach::Kind::through, start.reach.element};
    return std::get<Current>(rules::evaluate(s, limit, s.plan.sets[set].loads).value);
}

/// The low end of the same start, by the limit beside it.
std::optional<Current> low_end(const Situation& s, const Judgement& judgement, const Limit& high, Index set) {
    for (const Limit& limit : judgement.limits) {
        const bool same = limit.reach.kind == Reach::Kind::through_at_start && !limit.reach.high_start &&
                          limit.at == high.at && limit.part == high.part &&
                          limit.reach.starter == high.reach.starter;
        if (!same) continue;
        const Evaluated found = rules::evaluate(s, limit, s.plan.sets[set].loads);
        if (!found.loads.empty()) return std::get<Current>(found.value);
    }
    return std::nullopt;
}

void add_device(const Situation& s, StartPicture& picture) {
    const auto guard = rules::guard_at(s, picture.motor, picture.at.index, picture.part);
    if (!guard) return;
    if (const auto carries = network::start_withstand(s.plan, s.tables, *guard, false))
        picture.carries = carries->current;
    if (const auto band = network::trip_band(s.plan, s.tables, *guard)) picture.trips = band->upper;
    if (!picture.longer_than_a_second) return;
    if (const auto lasting = network::start_withstand(s.plan, s.tables, *guard, true))
        picture.carries_long = lasting->current;
}

StartPicture picture_of(const Situation& s, const Judgement& judgement, const Limit& limit, Index set,
                        Current high) {
    StartPicture picture;
    picture.at = limit.at;
    picture.part = limit.part;
    picture.motor = limit.reach.starter;
    picture.set = set;
    picture.high = high;
    picture.low = low_end(s, judgement, limit, set);
    picture.running = running_through(s, limit, set);
    picture.longer_than_a_second =
        s.network.loads[s.network.load_of[picture.motor]].start->longer_than_a_second;
    add_device(s, picture);
    return picture;
}

}  // namespace

StartPictures start_pictures(const Situation& s, const Judgement& judgement) {
    StartPictures all;
    for (const Limit& limit : judgement.limits) {
        if (limit.reach.kind != Reach::Kind::through_at_start || !limit.reach.high_start) continue;
        // Starts of several at once stand in a rule of their own.
        if (rules::registry()[limit.rule].id != "trip.start-surge") continue;
        for (Index set = 0; set < s.plan.sets.size(); ++set) {
            const Evaluated found = rules::evaluate(s, limit, s.plan.sets[set].loads);
            if (found.loads.empty()) continue;
            const Current high = std::get<Current>(found.value);
            const auto there = std::find_if(all.pictures.begin(), all.pictures.end(),
                                            [&](const StartPicture& p) { return same_device(p, limit); });
            if (there == all.pictures.end())
                all.pictures.push_back(picture_of(s, judgement, limit, set, high));
            else if (high > there->high * (1 + 1e-9))
                *there = picture_of(s, judgement, limit, set, high);
        }
    }
    for (const rules::Outcome& o : judgement.outcomes)
        if (rules::registry()[o.rule].id == "trip.start-surge" && o.limit == plan::nowhere)
            all.without.push_back(o.at.index);
    return all;
}

}  // namespace benchfeed::advice
