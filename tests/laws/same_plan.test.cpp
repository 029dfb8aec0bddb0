// What must not matter does not: the order of a file, names, `like` or written out, the unit of a figure, a
// cable cut in halves, what nobody uses, a set given twice.
#include <doctest/doctest.h>

#include <regex>

#include <benchfeed/rules/compare.hpp>
#include "laws/facts.hpp"
#include "laws/written.hpp"

using namespace benchfeed;
using namespace benchfeed::laws;
using test::BenchDice;

namespace {

/// The rule of a fact, for lists of what is known.
std::string rule_of(const std::string& fact) {
    return fact.substr(0, fact.find(' '));
}
/// The fact wherever it is: "heat.outlet-overloaded: fail, 17 A of 16 A".
std::string without_carrier(const std::string& fact) {
    return rule_of(fact) + fact.substr(fact.find("]: ") + 1);
}
Facts without_carriers(const Facts& facts) {
    Facts all;
    for (const std::string& fact : facts) all.insert(without_carrier(fact));
    return all;
}
/// What is told of a plan, and all of it wherever it is, what the law leaves out too.
struct Sides {
    Facts facts, anywhere;
};
Sides sides_of(const Judged& judged, const Told& told) {
    Told everything;
    everything.figures = told.figures;
    return {facts_of(judged, told), without_carriers(facts_of(judged, everything))};
}
void add_differences(Breaches& breaches, const Sides& a, const Sides& b, const Bench& bench,
                     const std::string& text) {
    const auto differs = [&](const Sides& one, const Sides& other) {
        for (const std::string& fact : one.facts) {
            if (other.facts.contains(fact)) continue;
            const std::string example = bench.name + "\n" + difference(a.facts, b.facts) + text;
            breaches.add(rule_of(fact), example);
            // Which of several places carries a finding may be known to change; its verdict and its figure
            // never do.
            if (!other.anywhere.contains(without_carrier(fact)))
                breaches.add(rule_of(fact) + ", and not for its carrier alone", example);
        }
    };
    differs(a, b);
    differs(b, a);
}

/// The plan changed in a way that must not matter: the same facts come out.
struct Change {
    std::function<std::string(BenchDice&, const Bench&)> text;  ///< "": nothing to change in this plan
    Told before = {}, after = {};
    unsigned least = 200;  ///< plans in which there is something to change
    unsigned tries = 1;    ///< for each plan
};
void hold(const Change& change, const std::set<std::string>& known = {}) {
    Breaches breaches;
    std::size_t changed = 0;
    for (unsigned round = 0; round < change.tries * times(); ++round) {
        for (const Bench& bench : corpus()) {
            BenchDice random(seed() + round + bench.number());
            const std::string other = change.text(random, bench);
            if (other.empty()) continue;
            ++changed;
            const auto answer = answered(other);
            if (const auto* problems = std::get_if<Diagnostics>(&answer)) {
                breaches.add("no plan: " + problems->front().message, bench.name + "\n" + other);
                continue;
            }
            add_differences(breaches, sides_of(*bench.judged, change.before),
                            sides_of(std::get<Judged>(answer), change.after), bench, other);
        }
    }
    at_least(changed, change.least, "plans in which there is something to change");
    breaches.hold(known);
}

void shuffle_fields(BenchDice& random, text::Table& table) {
    std::shuffle(table.entries.begin(), table.entries.end(), random.engine);
    for (text::Entry& entry : table.entries)
        if (auto* inner = std::get_if<text::Table>(&entry.node.value)) shuffle_fields(random, *inner);
}
/// Tables, fields, sets and the loads in them; the order in which somebody starts them is a fact.
std::string shuffled(BenchDice& random, const std::string& text) {
    Blocks blocks = blocks_of(text);
    std::shuffle(blocks.begin(), blocks.end(), random.engine);
    for (Block& block : blocks) {
        shuffle_fields(random, block.fields);
        text::Node* loads = block.listed ? block.field("loads") : nullptr;
        if (auto* list = loads ? std::get_if<text::Array>(&loads->value) : nullptr)
            std::shuffle(list->items.begin(), list->items.end(), random.engine);
    }
    return written(blocks);
}

/// Keys of fields that name something else of the plan.
const std::set<std::string>& references() {
    static const std::set<std::string> keys = [] {
        std::set<std::string> found;
        const auto add = [&](const std::vector<plan::Slot>& slots) {
            for (const plan::Slot& slot : slots)
                if (slot.info.vocabulary >= plan::Vocabulary::feeder &&
                    slot.info.vocabulary <= plan::Vocabulary::end)
                    found.insert(std::string(slot.info.key));
        };
        for (const plan::Kind kind : plan::element_kinds) {
            plan::Element element;
            element.kind = kind;
            element.what = plan::empty_of(kind);
            add(plan::slots(element));
        }
        plan::Cable cable;
        plan::Stock stock;
        plan::MetalPart metal;
        plan::Together together;
        add(plan::slots(cable));
        add(plan::slots(stock));
        add(plan::slots(metal));
        add(plan::slots(together));
        found.erase("name");  // of a set: its own
        found.insert("separate_from");
        return found;
    }();
    return keys;
}

/// Their order stays: of two findings that are the same the first by name is told.
std::string other_name(const std::string& name) {
    return "n-" + name;
}
std::string other_path(const std::string& path) {
    const auto dot = path.find('.');
    if (dot == std::string::npos || !(is_element_or_stock(path.substr(0, dot)) || path.starts_with("metal.")))
        return path;
    return path.substr(0, dot + 1) + other_name(path.substr(dot + 1));
}
std::string renamed(const std::string& text) {
    Blocks blocks = blocks_of(text);
    for (Block& block : blocks) {
        if (!block.name.empty()) block.name = other_name(block.name);
        each_text(block, [&](const std::string& key, std::string& value) {
            if ((block.kind == "accept" || block.kind == "reading") && key == "at") value = other_path(value);
            if (!references().contains(key) || value == "no" || value == "unknown" || block.kind == "accept")
                return;
            value = value.find('.') == std::string::npos ? other_name(value) : other_path(value);
        });
    }
    return written(blocks);
}

/// `like` written out: every field that is not there, except `from` and `label`.
std::string like_expanded(const std::string& text) {
    Blocks blocks = blocks_of(text);
    const Blocks before = blocks;
    bool any = false;
    for (Block& block : blocks) {
        const text::Node* like = is_element_or_stock(block.kind) ? block.field("like") : nullptr;
        const std::string* of = like ? like->as<std::string>() : nullptr;
        if (!of) continue;
        const std::string path = of->find('.') == std::string::npos ? block.kind + "." + *of : *of;
        const auto model =
            std::find_if(before.begin(), before.end(), [&](const Block& b) { return b.path() == path; });
        if (model == before.end()) continue;
        any = true;
        std::erase_if(block.fields.entries, [](const text::Entry& e) { return e.key == "like"; });
        for (const text::Entry& entry : model->fields.entries)
            if (entry.key != "from" && entry.key != "label" && !block.field(entry.key))
                block.fields.entries.push_back(entry);
    }
    return any ? written(blocks) : "";
}

bool same_field(const text::Table& a, const text::Table& b, const std::string& key) {
    const auto *one = a.find(key), *other = b.find(key);
    return one && other && written(one->node) == written(other->node);
}
/// Where two elements of a kind say the same, the later one says that it is like the first.
std::string like_introduced(const std::string& text) {
    Blocks blocks = blocks_of(text);
    if (text.find("like") != std::string::npos) return "";  // a model must not be like another
    bool any = false;
    std::set<std::string> followers;
    for (std::size_t i = 0; i < blocks.size(); ++i)
        for (std::size_t j = i + 1; j < blocks.size(); ++j) {
            Block &model = blocks[i], &block = blocks[j];
            if (model.kind != block.kind || model.kind == "supply" || model.kind == "stock" ||
                block.name.empty() || !is_element_or_stock(model.kind) || followers.contains(model.path()) ||
                followers.contains(block.path()))
                continue;
            const auto kept = [](const std::string& key) { return key == "from" || key == "label"; };
            const bool all = std::all_of(
                model.fields.entries.begin(), model.fields.entries.end(),
                [&](const text::Entry& entry) { return kept(entry.key) || block.field(entry.key); });
            if (!all || model.fields.entries.size() < 2) continue;
            std::erase_if(block.fields.entries, [&](const text::Entry& entry) {
                return !kept(entry.key) && same_field(model.fields, block.fields, entry.key);
            });
            text::Entry like{"like", {}, {}};
            like.node.value = model.path();
            block.fields.entries.push_back(like);
            followers.insert(block.path());
            any = true;
        }
    return any ? written(blocks) : "";
}

/// The same quantity with another unit: "5 m" as "500 cm" or "16.404... ft".
std::string in_another_unit(BenchDice& random, const std::string& value) {
    struct Unit {
        const char* word;
        double scale;
    };
    static const std::map<std::string, std::vector<Unit>> others{
        {"m", {{"cm", 100}, {"mm", 1000}, {"ft", 1 / 0.3048}, {"in", 1 / 0.0254}}},
        {"ft", {{"m", 0.3048}, {"in", 12}, {"cm", 30.48}}},
        {"A", {{"mA", 1000}, {"kA", 0.001}}},
        {"mA", {{"A", 0.001}}},
        {"kA", {{"A", 1000}}},
        {"W", {{"kW", 0.001}}},
        {"kW", {{"W", 1000}}},
        {"ohm", {{"mohm", 1000}, {"Ω", 1}}},
        {"mohm", {{"ohm", 0.001}}},
        {"cm3", {{"in3", 1 / 16.387064}}},
        {"in3", {{"cm3", 16.387064}}},
        {"mm2", {{"mm²", 1}}}};
    static const std::regex quantity("([0-9]+(\\.[0-9]+)?) ?([A-Za-z0-9]+)");
    std::smatch match;
    if (!std::regex_match(value, match, quantity) || !others.contains(match[3])) return value;
    const Unit& unit = random.one_of(others.at(match[3]));
    std::string number = fmt::format("{:.15f}", std::stod(match[1]) * unit.scale);
    number.erase(number.find_last_not_of('0') + 1);
    if (number.back() == '.') number.pop_back();
    return number + " " + unit.word;
}
std::string in_other_units(BenchDice& random, const std::string& text) {
    Blocks blocks = blocks_of(text);
    bool any = false;
    for (Block& block : blocks)
        each_text(block, [&](const std::string& key, std::string& value) {
            if (key == "pattern" || key == "plug" || key == "inlet" || key == "type" || key == "label" ||
                key == "title" || key == "what" || key == "system")
                return;
            const std::string other = in_another_unit(random, value);
            any = any || other != value;
            value = other;
        });
    return any ? written(blocks) : "";
}

template <class T>
text::Node node_of(T value) {
    text::Node node;
    node.value = std::move(value);
    return node;
}

/// The first stock again, under a name that nobody uses.
std::string with_unused_stock(const std::string& text) {
    Blocks blocks = blocks_of(text);
    const auto model = std::find_if(blocks.begin(), blocks.end(), [](Block& block) {
        return block.kind == "stock" && !block.field("like");
    });
    if (model == blocks.end()) return "";
    Block unused = *model;
    unused.name = "never-used";
    blocks.push_back(std::move(unused));
    return written(blocks);
}

/// A charger of 10 mA that takes turns with a tool at its outlet, so that no outlet and no core is added.
std::string with_idle_load(const std::string& text) {
    Blocks blocks = blocks_of(text);
    const auto plugged = std::find_if(blocks.begin(), blocks.end(), [](Block& block) {
        const auto from = block.kind == "load" && !block.field("plug") && !block.field("cable")
                              ? block.field("from")
                              : nullptr;
        return from && from->as<std::string>()->starts_with("outlet.");
    });
    if (plugged == blocks.end()) return "";
    Block idle{"load", "idle", false, {}, 0};
    const auto add = [](text::Table& to, const char* key, text::Node node) {
        to.entries.push_back({key, {}, std::move(node)});
    };
    add(idle.fields, "from", *plugged->field("from"));
    if (const text::Node* conductors = plugged->field("conductors"))
        add(idle.fields, "conductors", *conductors);
    text::Table plate;
    add(plate, "current", node_of(std::string("10 mA")));
    if (const text::Node* other = plugged->field("plate"))
        if (const auto* table = other->as<text::Table>())
            if (const text::Entry* volts = table->find("voltage")) add(plate, "voltage", volts->node);
    add(idle.fields, "kind", node_of(std::string("other")));
    add(idle.fields, "plate", node_of(plate));
    add(idle.fields, "motor", node_of(std::string("none")));
    add(idle.fields, "class", node_of(std::string("II")));
    for (const char* no : {"latched", "cutter", "self_starting", "soft_start"})
        add(idle.fields, no, node_of(false));
    blocks.push_back(std::move(idle));
    return written(blocks);
}

/// Each declared set once more, under another name.
std::string with_sets_twice(const std::string& text) {
    Blocks blocks = blocks_of(text);
    Blocks again;
    for (const Block& block : blocks)
        if (block.kind == "together") {
            again.push_back(block);
            text::Node* name = again.back().field("name");
            name->value = "again-" + *name->as<std::string>();
        }
    if (again.empty()) return "";
    blocks.insert(blocks.end(), again.begin(), again.end());
    return written(blocks);
}

/// What lies behind device.d of a generated bench, with its first cable cut into two equal halves.
std::string in_halves(const std::string& text) {
    Blocks blocks = blocks_of(text);
    const auto main =
        std::find_if(blocks.begin(), blocks.end(), [](Block& b) { return b.path() == "box.main"; });
    if (main == blocks.end() || main->field("plug") || !main->field("cable")) return "";
    auto& cable = std::get<text::Table>(main->field("cable")->value);
    const std::string length = *cable.find("length")->node.as<std::string>();
    for (text::Entry& entry : cable.entries)
        if (entry.key == "length") entry.node.value = fmt::format("{:.3f} m", std::stod(length) / 2);
    Block half = *main;
    half.name = "half";
    main->field("from")->value = "box.half";
    blocks.push_back(std::move(half));
    return written(blocks);
}

/// Of sets that leak alike the first by name is told: other names, and sets added to the plan, tell another.
const std::set<std::string> first_by_name{"trip.leakage"};

}  // namespace

TEST_CASE("law: a plan written again by the tests is the same plan") {
    hold({[](BenchDice&, const Bench& bench) { return written(blocks_of(bench.text)); }});
}

TEST_CASE("law: the order of tables, fields, sets and loads in a file changes nothing") {
    Change change{[](BenchDice& random, const Bench& bench) { return shuffled(random, bench.text); }};
    change.tries = 4;
    hold(change);
}

TEST_CASE("law: other names change names and nothing else") {
    // The set of an assumed one has the name of its load, so sets are told by their loads.
    Change change{[](BenchDice&, const Bench& bench) { return renamed(bench.text); }, {}, {}, 600};
    change.before.place = other_path;
    change.before.load = other_name;
    hold(change, first_by_name);
}

TEST_CASE("law: what `like` takes over may as well be written out") {
    hold({[](BenchDice&, const Bench& bench) { return like_expanded(bench.text); }, {}, {}, 9});
}

TEST_CASE("law: what two elements say alike may be taken over by `like`") {
    hold({[](BenchDice&, const Bench& bench) { return like_introduced(bench.text); }});
}

TEST_CASE("law: the unit of a figure changes nothing") {
    hold({[](BenchDice& random, const Bench& bench) { return in_other_units(random, bench.text); }});
}

TEST_CASE("law: a stock that no cable is cut from changes nothing") {
    Change change{[](BenchDice&, const Bench& bench) { return with_unused_stock(bench.text); }};
    change.after.leave = [](const rules::Outcome& o, const std::string& path) {
        return path == "stock.never-used" || id_of(o).starts_with("plan.");
    };
    change.before.leave = change.after.leave;
    hold(change);
}

TEST_CASE("law: a load that draws nothing to speak of changes nothing for the others") {
    Change change{[](BenchDice&, const Bench& bench) { return with_idle_load(bench.text); }};
    // Its own findings and its own set; what is said of everything at once, and what counts facts.
    change.after.leave = [](const rules::Outcome& o, const std::string& path) {
        return path == "load.idle" || o.set == rules::everything_set || id_of(o).starts_with("plan.");
    };
    change.before.leave = change.after.leave;
    change.after.leave_load = "idle";
    change.before.figures = change.after.figures = false;  // 10 mA are in some sums
    hold(change, first_by_name);
}

TEST_CASE("law: a set that is given twice changes nothing") {
    // An [[accept]] that names a set means that one alone.
    Change change{[](BenchDice&, const Bench& bench) {
        const auto& accepts = bench.judged->plan().accepts;
        const bool by_set =
            std::any_of(accepts.begin(), accepts.end(), [](const plan::Accept& a) { return a.set.known(); });
        return by_set ? "" : with_sets_twice(bench.text);
    }};
    change.before.leave = change.after.leave = [](const rules::Outcome&, const std::string& path) {
        return path.starts_with("together.again-");
    };
    hold(change, first_by_name);
}

TEST_CASE("law: a cable cut into two equal halves changes nothing behind it") {
    Change change{[](BenchDice&, const Bench& bench) {
        return bench.text.find("[device.d]") == std::string::npos ? "" : in_halves(bench.text);
    }};
    // By construction other: what is said of the new box, what box.main says of its own cable (a fault at the
    // near end of the second half meets less current, and heat.fault-energy tells one cable of all), and
    // rules about the text of the plan.
    change.before.leave = change.after.leave = [](const rules::Outcome& o, const std::string& path) {
        return id_of(o).starts_with("plan.") || id_of(o) == "heat.fault-energy" || path == "box.half" ||
               path == "box.main";
    };
    change.least = 150;
    hold(change);
}

TEST_CASE(
    "law: a plan compared with itself, in whatever order it is written, has neither differences nor moves") {
    Breaches breaches;
    for (const Bench& bench : corpus())
        for (unsigned order = 0; order <= 4; ++order) {
            BenchDice random(seed() + order + bench.number());
            const std::string text = order > 0 ? shuffled(random, bench.text) : bench.text;
            const auto other = judged(text);
            REQUIRE(other);
            const auto comparison = rules::compare({bench.judged->situation(), bench.judged->judgement()},
                                                   {other->situation(), other->judgement()});
            for (const auto& one : comparison.differences)
                breaches.add("differs: " + one.path, bench.name + "\n" + text);
            for (const auto& one : comparison.moved)
                breaches.add(fmt::format("{}{}", rules::registry()[one.rule].id,
                                         order > 0 ? ", in another order" : ""),
                             fmt::format("{} at {}: {}\n{}", bench.name, one.at, one.headline, text));
        }
    breaches.hold();
}
