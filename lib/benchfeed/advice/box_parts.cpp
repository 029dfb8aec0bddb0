// Boxes, terminals, what sits on the ends of cores, and cable entries to buy.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include <benchfeed/advice/part_lists.hpp>
#include <benchfeed/advice/schedule.hpp>
#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/network/ampacity.hpp>
#include <benchfeed/rules/box_fill.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::advice {

using rules::Situation;

namespace {

PartLine line_at(PartGroup group, std::string what, int count, Index element, std::string detail = "") {
    PartLine line;
    line.group = group;
    line.what = std::move(what);
    line.count = count;
    line.places.push_back({element, std::move(detail)});
    return line;
}

// ---- boxes --------------------------------------------------------------------------------------------

/// Tells the smallest standard square box of table nec-314-16-a that holds it.
void note_standard_box(const Situation& s, Volume least, PartLine& line) {
    const tables::Table* table = s.tables.table("nec-314-16-a");
    std::optional<std::size_t> best;
    for (std::size_t row = 0; table && row < table->rows.size(); ++row) {
        const auto volume = table->volume(row, "volume");
        if (!volume || table->text(row, "shape") != "square" || volume->value < least * (1 - 1e-9)) continue;
        if (!best || volume->value < table->volume(*best, "volume")->value) best = row;
    }
    if (!best) return;
    line.notes.push_back(fmt::format("the smallest standard square metal box that holds it: {} in, {} ({})",
                                     table->text(*best, "trade_size"),
                                     table->volume(*best, "volume")->written,
                                     network::cited(table->cite(*best, *table->column("volume")))));
}

/// The room that NEC 314.16 asks for, worked; clamps that nobody knows are counted.
void room_by_volume(const Situation& s, Index i, const rules::BoxContents& contents, PartLine& line) {
    const auto& box = *s.plan[i].as<plan::Box>();
    const auto items = rules::fill_items(s, i, contents, rules::Unknown::counted);
    const auto least = rules::fill_sum(s, items);
    if (!least) {
        line.choose.push_back(
            "volume: no allowance is printed for one of its conductors; an electrician sizes it");
        return;
    }
    Working working;
    rules::work_fill(working, s, items);
    line.steps = working.finish();
    line.what += ", at least " + rules::cubic_inches(*least);
    if (box.volume.known()) line.what += " (planned: " + rules::cubic_inches(*box.volume) + ")";
    if (!box.clamps.known())
        line.notes.push_back("cable clamps inside are counted, since the plan does not say where they are");
    note_standard_box(s, *least, line);
}

void choose_of_box(const Situation& s, const plan::Box& box, PartLine& line) {
    if (!box.material.known())
        line.choose.push_back("plastic or metal: metal has to be bonded to the protective conductor");
    if (!box.ip.known() && s.plan.site.dust.is(true))
        line.choose.push_back("IP code: wood dust asks for a tight lid (IP4X or better)");
    if (!s.nec() && !box.volume.known())
        line.choose.push_back("size: the maker's figure for the terminals and cables that go in");
}

// ---- what switches and outlets sit in ---------------------------------------------------------------------

/// Parts at one place: the element with its own cable, and what hangs on it without one.
void parts_at(const Situation& s, Index i, std::vector<Index>& parts) {
    parts.push_back(i);
    if (rules::out_and_back(s.plan[i])) return;  // what it feeds sits in the box
    for (const Index child : s.plan[i].children)
        if (!s.plan[child].cable && is_bought(s, child) && !s.plan[child].plug.written())
            parts_at(s, child, parts);
}

PartLine enclosure_line(const Situation& s, Index i, const std::vector<Index>& parts) {
    std::size_t switches = 0, outlets = 0, others = 0;
    for (const Index part : parts) {
        switches += s.plan[part].kind == plan::Kind::switch_;
        outlets += s.plan[part].kind == plan::Kind::outlet;
        others += s.plan[part].kind != plan::Kind::switch_ && s.plan[part].kind != plan::Kind::outlet;
    }
    std::vector<std::string> in_it;
    const auto name = [&](std::size_t n, const char* one, const char* more) {
        if (n > 0) in_it.push_back(fmt::format("{} {}", n, n == 1 ? one : more));
    };
    name(switches, "switch", "switches");
    name(outlets, "outlet", "outlets");
    name(others, "other part", "other parts");
    PartLine line = line_at(PartGroup::boxes, "enclosure or back box for " + rules::list(in_it), 1, i);
    line.choose.push_back(
        s.nec() ? "volume: NEC 314.16(B) counts its conductors and twice each yoke; it is stamped inside"
                : "size and depth: what the makers of its parts ask for, with room to bend the cores");
    if (parts.size() > 1)
        line.choose.push_back("link wires between its parts: off-cuts of the run, no thinner than its cores");
    line.notes.push_back("what comes with an enclosure of its own needs none");
    return line;
}

// ---- terminals ------------------------------------------------------------------------------------------

/// "L", or what brings it back: "switched by the saw switch".
std::string potential_words(const Situation& s, const Terminal& terminal) {
    if (terminal.point == Point::stopped) return "behind " + s.plan[terminal.element].words();
    if (terminal.point != Point::returned) return conductor_words(s, terminal.element, terminal.conductor);
    return "switched by " + s.plan[terminal.element].words();
}

/// "1.5 mm2 and 2.5 mm2" of the cables in a box.
std::string sections_in(const Situation& s, Index box) {
    std::vector<std::string> sections;
    for (const Index i : rules::box_contents(s, box).cables) {
        const plan::Stock& stock = stock_of_cable(s, i);
        const std::string text = stock.section.known() ? section_text(*stock.section) : "";
        if (!text.empty() && std::find(sections.begin(), sections.end(), text) == sections.end())
            sections.push_back(text);
    }
    return rules::list(sections);
}

PartLine terminal_line(const Situation& s, const Ways& ways, const Allowances& allowances) {
    const Index i = ways.box;
    const auto& box = *s.plan[i].as<plan::Box>();
    const int needed = ways.wires + allowances.spare_ways.value;
    const std::string kind = box.terminals.known() ? std::string(box.terminals.word()) + " " : "";
    PartLine line = line_at(PartGroup::terminals, "", 1, i,
                            fmt::format("{} {} wires", potential_words(s, ways.terminal), ways.wires));
    const std::string sections = sections_in(s, i);
    const std::string for_sections = sections.empty() ? "" : " for " + sections;
    if (box.ways.known()) {
        line.what = fmt::format("{}terminal of {} ways{}, as planned", kind, *box.ways, for_sections);
        line.places.back().detail += fmt::format(" + {} to spare", std::max(0, *box.ways - ways.wires));
        if (*box.ways < ways.wires)
            line.notes.push_back(fmt::format("{} wires do not fit: buy {} ways", ways.wires, needed));
        else if (*box.ways < needed)
            line.notes.push_back(
                fmt::format("{} ways would leave {} to spare", needed, allowances.spare_ways.written));
    } else {
        line.what = fmt::format("{}terminal of at least {} ways{}", kind, needed, for_sections);
        line.places.back().detail +=
            fmt::format(" + {} to spare = {} ways", allowances.spare_ways.written, needed);
    }
    if (!box.terminals.known())
        line.choose.push_back(
            "kind of terminal: one that is marked for the cores (solid, stranded, fine) and their ends");
    return line;
}

// ---- what sits on the ends of cores -------------------------------------------------------------------

enum class End : std::uint8_t { none, ferrule, ring, perhaps };

/// What an end needs that lands in one kind of terminal; "" where nobody knows the terminal.
End end_in(const Situation& s, std::string_view terminals, const plan::Stock& stock) {
    if (stock.strands.is(plan::Strands::solid)) return End::none;
    if (terminals.empty()) return End::perhaps;
    const auto fit = rules::terminal_fit(s, terminals, stock.strands.word());
    if (!fit) return End::perhaps;
    if (fit->bare == rules::Holds::yes) return End::none;
    return fit->ferrule == rules::Holds::yes ? End::ferrule : End::none;
}

std::string_view terminals_of(const Situation& s, Index element) {
    const auto* box = element == plan::nowhere ? nullptr : s.plan[element].as<plan::Box>();
    return box ? box->terminals.word() : std::string_view{};
}

/// Both ends of a run, or the far one alone where the near one comes with its plug.
std::vector<End> ends_of(const Situation& s, Index i) {
    const plan::Element& e = s.plan[i];
    const plan::Stock& stock = stock_of_cable(s, i);
    const bool near_is_made = comes_whole(s, i), far_is_made = near_is_made && e.kind == plan::Kind::outlet;
    std::vector<End> ends;
    if (!near_is_made)
        ends.push_back(end_in(
            s, e.plug.written() ? std::string_view{} : terminals_of(s, rules::starts_at(s, i)), stock));
    if (!far_is_made)
        ends.push_back(end_in(s, e.inlet.written() ? std::string_view{} : terminals_of(s, i), stock));
    const auto& written = e.cable->ends;
    if (written.is(plan::Ends::ferrule)) std::fill(ends.begin(), ends.end(), End::ferrule);
    if (written.is(plan::Ends::ring)) std::fill(ends.begin(), ends.end(), End::ring);
    if (written.known() && !written.is(plan::Ends::ferrule) && !written.is(plan::Ends::ring)) ends.clear();
    return ends;
}

/// How many cores of one section end in what.
struct Ends {
    Section section;
    int ferrules = 0, rings = 0, perhaps = 0;
    std::vector<Index> at;
};

Ends& ends_for(std::vector<Ends>& all, const Section& section) {
    const auto it = std::find_if(all.begin(), all.end(), [&](const Ends& e) { return e.section == section; });
    if (it != all.end()) return *it;
    all.push_back({section, 0, 0, 0, {}});
    return all.back();
}

void count_ends(const Situation& s, Index i, std::vector<Ends>& all) {
    const plan::Stock& stock = stock_of_cable(s, i);
    if (!stock.section.known() || !stock.cores.known()) return;
    const bool protective = !stock.protective.is(false);
    const int live = *stock.cores - (protective ? 1 : 0);
    const Section own = stock.protective_section.known() ? *stock.protective_section : *stock.section;
    for (const End end : ends_of(s, i))
        for (const bool earth : {false, true}) {
            const int cores = earth ? (protective ? 1 : 0) : live;
            if (cores == 0 || end == End::none) continue;
            Ends& ends = ends_for(all, earth ? own : *stock.section);
            (end == End::ferrule ? ends.ferrules : end == End::ring ? ends.rings : ends.perhaps) += cores;
            if (end != End::perhaps && (ends.at.empty() || ends.at.back() != i)) ends.at.push_back(i);
        }
}

/// "n = ends * (1 + share) = 30 * (1 + 20 %) = 36", rounded up.
PartLine counted_ends(const char* what, const Section& section, int count, const Allowances& allowances,
                      const std::vector<Index>& at) {
    PartLine line;
    line.group = PartGroup::ends;
    line.what = fmt::format("{} for {}", what, section_text(section));
    const double all = count * (1.0 + in(unit::one, allowances.ferrules.value));
    line.count = static_cast<int>(std::ceil(all - 1e-9));
    line.steps.push_back({"n",
                          "ends of cores * (1 + spare)",
                          fmt::format("{} * (1 + {})", count, allowances.ferrules.written),
                          plain_digits(all),
                          {},
                          ""});
    if (*line.count > all) line.notes.push_back("rounded up");
    for (const Index i : at) line.places.push_back({i, "", rules::Part::cable});
    line.notes.push_back(
        "by the section that is printed on the pack; colours of ferrules differ between codes");
    return line;
}

}  // namespace

void add_boxes(const Situation& s, PartLines& lines) {
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const auto* box = s.plan[i].as<plan::Box>();
        if (!box || !is_bought(s, i)) continue;
        const rules::BoxContents contents = rules::box_contents(s, i);
        const std::string material = box->material.known() ? std::string(box->material.word()) + " " : "";
        PartLine line = line_at(PartGroup::boxes, material + "box", 1, i);
        if (box->ip.known()) line.what += ", " + *box->ip;
        line.places.back().detail =
            fmt::format("{} cable{} in", contents.cables.size(), contents.cables.size() == 1 ? "" : "s");
        if (!contents.yokes.empty())
            line.places.back().detail += fmt::format(", {} mounted in it", rules::list(s, contents.yokes));
        if (s.nec() && !contents.cables.empty())
            room_by_volume(s, i, contents, line);
        else if (box->volume.known())
            line.what += ", " + to_text(*box->volume, 6);
        choose_of_box(s, *box, line);
        lines.add(std::move(line));
    }
}

void add_enclosures(const Situation& s, PartLines& lines) {
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        const bool held =
            e.kind == plan::Kind::switch_ || e.kind == plan::Kind::outlet || e.kind == plan::Kind::device;
        if (!held || !e.cable || e.plug.written() || !is_bought(s, i)) continue;
        std::vector<Index> parts;
        parts_at(s, i, parts);
        lines.add(enclosure_line(s, i, parts));
    }
}

void add_terminals(const Situation& s, const Allowances& allowances, PartLines& lines) {
    const Schedule schedule = advice::schedule(s);
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        if (s.plan[i].kind != plan::Kind::box || !is_bought(s, i)) continue;
        for (const Ways& ways : schedule.ways)
            if (ways.box == i) lines.add(terminal_line(s, ways, allowances));
        for (const Index child : s.plan[i].children) {
            const auto* sw = s.plan[child].as<plan::Switch>();
            if (!sw || !sw->wiring.is(plan::Wiring::control)) continue;
            PartLine line = line_at(PartGroup::terminals, "terminals of the control circuit", 1, child);
            line.count.reset();
            line.choose.push_back(
                "how many: the diagram of the contactor decides; a small fuse or breaker protects it");
            lines.add(std::move(line));
        }
    }
}

void add_ends(const Situation& s, const Allowances& allowances, PartLines& lines) {
    std::vector<Ends> all;
    for (Index i = 0; i < s.plan.elements.size(); ++i)
        if (s.plan[i].cable && !s.network.house[i] && !rules::as_sold(s, i)) count_ends(s, i, all);
    for (const Ends& ends : all) {
        if (ends.ferrules > 0)
            lines.add(counted_ends("ferrule", ends.section, ends.ferrules, allowances, ends.at));
        if (ends.rings > 0)
            lines.add(counted_ends("crimp ring", ends.section, ends.rings, allowances, ends.at));
        if (ends.perhaps == 0) continue;
        PartLine line;
        line.group = PartGroup::ends;
        line.what = fmt::format("ferrule or ring for {}, for {} more ends of cores",
                                section_text(ends.section), ends.perhaps);
        line.choose.push_back(
            "none, ferrule or ring: the terminals of plug, outlet, switch or box, which the plan does not "
            "say");
        lines.add(std::move(line));
    }
    int bonded = 0;
    for (const plan::MetalPart& metal : s.plan.metals) bonded += metal.bonded_index != plan::nowhere;
    if (bonded == 0) return;
    PartLine line;
    line.group = PartGroup::ends;
    line.what = "bonding lead with a crimp ring for a metal part";
    line.count = bonded;
    line.choose.push_back(
        "length and section: the way to its terminal; no thinner than the protective core there");
    lines.add(std::move(line));
}

void add_entries(const Situation& s, PartLines& lines) {
    for (Index i = 0; i < s.plan.elements.size(); ++i) {
        const plan::Element& e = s.plan[i];
        if (!e.cable || s.network.house[i] || rules::as_sold(s, i)) continue;
        // What lies in a conduit enters with it.
        if (e.cable->method.is(plan::Method::conduit) || e.cable->route.is(plan::Route::conduit)) continue;
        const plan::Stock& stock = stock_of_cable(s, i);
        const bool near_entry =
            !e.plug.written() && e.parent != plan::nowhere && !s.network.house[rules::starts_at(s, i)];
        const bool far_entry = !e.inlet.written() && e.kind != plan::Kind::load &&
                               !(e.kind == plan::Kind::outlet && e.plug.written());
        const int entries = near_entry + far_entry;
        if (entries == 0) continue;
        const std::string part = s.nec() ? "cord or cable connector with grip" : "gland with grip";
        PartLine line = line_at(PartGroup::entries, "", entries, i);
        line.places.back().part = rules::Part::cable;
        if (stock.diameter.known()) {
            line.what = fmt::format("{} for {} mm", part, digits(in(unit::millimetre, *stock.diameter), 3));
            line.choose.push_back("its size: the range printed on it has to take that diameter");
        } else {
            line.what = fmt::format("{} for {}", part, rules::cable_words(stock));
            line.choose.push_back(
                "its size: measure the cord over its sheath; the plan does not say its diameter");
        }
        line.notes.push_back(
            "with its locknut; in a metal wall also what bonds it; a blank for every hole that stays free");
        lines.add(std::move(line));
    }
}

}  // namespace benchfeed::advice
