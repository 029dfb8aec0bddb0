// Common files, handed over by a function: which names a plan takes from them, which are refused, what is
// told of mistakes. Files on a disk are tests/formats/test_common.py.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>

#include <benchfeed/check.hpp>
#include <benchfeed/report/style.hpp>
#include "plans/expectations.hpp"
#include "support/judged.hpp"

using namespace benchfeed;
using test::catalogue;

namespace {

using Texts = std::map<std::string, std::string>;

const plan::Words& words() {
    static const plan::Words all = plan_words(catalogue());
    return all;
}

/// A disk on which every file lies in one folder.
plan::CommonSource in_memory(const Texts& texts, int* asked = nullptr) {
    return {[&texts](const std::string& name, const std::string&) -> plan::Asked {
                if (texts.contains(name)) return {name, ""};
                return {"", "is not there"};
            },
            [&texts, asked](const std::string& path) -> plan::Asked {
                if (asked) ++*asked;
                return {texts.at(path), ""};
            }};
}

/// The demo plan, with the common files it names.
std::string demo(const std::string& common) {
    std::string text = test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/heron-lane.toml");
    const auto at = text.find("[plan]\n");
    return text.insert(at + 7, "common = [" + common + "]\n");
}
/// The same without one table, from its header to before the next.
std::string without(std::string text, const std::string& header) {
    const auto from = text.find(header);
    REQUIRE(from != std::string::npos);
    const auto to = text.find("\n[", from + 1);
    return text.erase(from, to == std::string::npos ? std::string::npos : to + 1 - from);
}
/// That table alone.
std::string table_of(const std::string& text, const std::string& header) {
    const auto from = text.find(header);
    return text.substr(from, text.find("\n[", from + 1) + 1 - from);
}

const std::string head = "format = 1\n\n[common]\ntitle = \"the school\"\n\n";

struct Outcome {
    text::Document document;
    std::variant<Judged, Diagnostics> answer;
};
Outcome judged(const std::string& content, const Texts& texts, std::vector<plan::Override> set = {}) {
    text::Document document("bench.toml", content);
    plan::CommonFiles files(in_memory(texts), words());
    auto answer = check(document, catalogue(), words(), files, set);
    return {std::move(document), std::move(answer)};
}
const Judged& good(const Outcome& outcome) {
    if (const auto* problems = std::get_if<Diagnostics>(&outcome.answer))
        for (const Diagnostic& d : *problems) FAIL_CHECK(d.path << ": " << d.message);
    return std::get<Judged>(outcome.answer);
}
Diagnostics bad(const Outcome& outcome) {
    REQUIRE(std::holds_alternative<Diagnostics>(outcome.answer));
    return std::get<Diagnostics>(outcome.answer);
}
bool tells(const Diagnostics& problems, std::string_view words) {
    return std::any_of(problems.begin(), problems.end(),
                       [&](const Diagnostic& d) { return d.message.find(words) != std::string::npos; });
}
/// What is said of every place, by names.
std::vector<std::string> said(const Judged& j) {
    std::vector<std::string> list;
    for (const auto& o : j.judgement().outcomes)
        list.push_back(std::string(rules::registry()[o.rule].id) + " " + rules::path_of(j.plan(), o.at) +
                       " " + std::string(rules::words(o.part)) + " " + rules::set_name(j.plan(), o.set) +
                       " " + std::string(rules::words(o.verdict)) + " " + to_text(o.value));
    std::sort(list.begin(), list.end());
    return list;
}

}  // namespace

TEST_CASE("what stands in a common file is judged as if it stood in the plan") {
    const std::string whole = demo("\"school.toml\"");
    std::string shared = head, rest = whole;
    for (const char* header : {"[supply.", "[device.", "[outlet.wall]", "[stock.lead]", "[stock.run]"}) {
        shared += table_of(rest, header);
        rest = without(rest, header);
    }
    const Outcome joined = judged(rest, {{"school.toml", shared}}),
                  alone = judged(whole, {{"school.toml", head}});
    CHECK(said(good(joined)) == said(good(alone)));
    CHECK(good(joined).plan().elements.size() == good(alone).plan().elements.size());
}

TEST_CASE("a common element is on the bench only where something of the plan hangs on it") {
    const std::string shared = head +
                               "[supply.other]\nsystem = \"230 V\"\n"
                               "[device.other]\nfrom = \"supply.other\"\nkind = \"fuse\"\n"
                               "[stock.spare]\ntype = \"H07RN-F\"\nsection = \"2.5 mm2\"\ncores = 3\n"
                               "[load.planer]\nkind = \"tool\"\nplate = { current = \"9 A\" }\n";
    const Outcome o = judged(demo("\"school.toml\""), {{"school.toml", shared}});
    const plan::Plan& plan = good(o).plan();
    CHECK(plan.find(plan::Kind::supply, "other") == plan::nowhere);
    CHECK(plan.find(plan::Kind::load, "planer") == plan::nowhere);
    CHECK(std::none_of(plan.stocks.begin(), plan.stocks.end(),
                       [](const auto& s) { return s.name == "spare"; }));
}

TEST_CASE("like copies from a common file; stocks and feeders are found by a what-if") {
    const std::string shared =
        head +
        "[load.big-saw]\nkind = \"tool\"\nplate = { current = \"12 A\", power_factor = 0.9 }\n"
        "motor = \"universal\"\nlatched = true\n"
        "[stock.thick]\ntype = \"H07RN-F\"\nsection = \"2.5 mm2\"\ncores = 3\n";
    std::string text = without(demo("\"school.toml\""), "[load.saw]");
    text += "\n[load.saw]\nfrom = \"outlet.saw\"\nlike = \"load.big-saw\"\n";
    const Outcome o = judged(text, {{"school.toml", shared}}, {{"box.junction.cable.stock=thick"}});
    const plan::Plan& plan = good(o).plan();
    const auto saw = plan.find(plan::Kind::load, "saw");
    REQUIRE(saw != plan::nowhere);
    const auto& plate = plan[saw].as<plan::Load>()->plate;
    REQUIRE(plate);
    CHECK(plate->current->value() == doctest::Approx(12));
    CHECK(plan.find(plan::Kind::load, "big-saw") == plan::nowhere);
    // Its place is the one in the common file, and what a person reads names both files.
    CHECK(stands_beside(plate->current.span));
    const std::string shown = report::place_text(o.document, {plate->current.span, ""}, "", {80, false});
    CHECK(shown.find("school.toml:8:21\n") == 0);
    CHECK(shown.find("as bench.toml uses it") != std::string::npos);
    CHECK(shown.find("8 | plate = { current = \"12 A\"") != std::string::npos);
    const auto box = plan.find(plan::Kind::box, "junction");
    CHECK(plan.stocks[plan[box].cable->stock_index].name == "thick");
}

TEST_CASE("a name that stands twice is told with both places, the plan included") {
    const std::string lead = "[stock.lead]\ntype = \"H07RN-F\"\nsection = \"2.5 mm2\"\ncores = 3\n";
    const Diagnostics twice = bad(judged(demo("\"school.toml\""), {{"school.toml", head + lead}}));
    REQUIRE(twice.size() == 1);
    CHECK(twice[0].message ==
          "stock.lead is there twice: names of common files and of the plan are one list");
    REQUIRE(twice[0].labels.size() == 2);
    CHECK_FALSE(stands_beside(twice[0].labels[0].span));
    CHECK(stands_beside(twice[0].labels[1].span));
    const std::string spare = "[stock.spare]\ntype = \"H07RN-F\"\nsection = \"2.5 mm2\"\ncores = 3\n";
    const Diagnostics files =
        bad(judged(demo("\"a.toml\", \"b.toml\""), {{"a.toml", head + spare}, {"b.toml", head + spare}}));
    REQUIRE(files.size() == 1);
    CHECK(files[0].message.find("stock.spare is there twice") == 0);
}

TEST_CASE("of two limits the tighter holds, and the report can name whose it is") {
    const std::string strict =
        head + "[local]\nvoltage_drop_limit = \"2 %\"\nsource = \"the school rules\"\n";
    const std::string own =
        "\n[local]\nvoltage_drop_limit = \"4 %\"\nlong_run_share = \"70 %\"\nsource = \"own\"\n";
    const Outcome o = judged(demo("\"school.toml\"") + own, {{"school.toml", strict}});
    const plan::Local& local = good(o).plan().local;
    CHECK(local.voltage_drop_limit->value() == doctest::Approx(0.02));
    CHECK(local.source_of(local.voltage_drop_limit.span) == "the school rules");
    CHECK(local.long_run_share->value() == doctest::Approx(0.7));
    CHECK(local.source_of(local.long_run_share.span) == "own");
    // The drop of the demo is between 2 and 4 %: it fails by the school's rule, with that rule beside it.
    const Judged& j = good(o);
    bool named = false;
    for (const auto& outcome : j.judgement().outcomes) {
        if (rules::registry()[outcome.rule].id != "volts.running-drop" ||
            outcome.verdict != rules::Verdict::fail)
            continue;
        for (const Label& label : rules::explain(j.situation(), j.judgement(), outcome).related)
            named = named || label.text == "the limit that holds here, by the school rules";
    }
    CHECK(named);
    const Outcome loose =
        judged(demo("\"school.toml\"") + own,
               {{"school.toml", head + "[local]\nvoltage_drop_limit = \"6 %\"\nsource = \"x\"\n"}});
    CHECK(good(loose).plan().local.voltage_drop_limit->value() == doctest::Approx(0.04));
}

TEST_CASE("what is no common file is refused and nothing of it is told") {
    const Texts texts{
        {"secret", "root:x:0:0:the secret word\n"},
        {"other.toml", test::read_text(std::string(BENCHFEED_DATA_DIR) + "/plans/maple-row.toml")},
        {"binary", std::string("\0\1\2[common", 10)}};
    for (const char* name : {"secret", "other.toml", "binary"}) {
        const Outcome o = judged(demo(std::string("\"") + name + "\""), texts);
        const Diagnostics problems = bad(o);
        REQUIRE(problems.size() == 1);
        CHECK(problems[0].message == "\"" + std::string(name) + "\" is no common file: it has no [common]");
        const std::string shown = report::diagnostics_text(o.document, problems, {80, false});
        CHECK(shown.find("secret word") == std::string::npos);
        CHECK(shown.find("supply") == std::string::npos);
        CHECK(o.document.beside().empty());
    }
    CHECK(tells(bad(judged(demo("\"none.toml\""), texts)), "\"none.toml\" is not there"));
}

TEST_CASE("circles, depth and number are bounded") {
    const auto names = [](const std::string& list) {
        return "format = 1\n[common]\ntitle = \"x\"\ncommon = [" + list + "]\n";
    };
    CHECK(tells(bad(judged(demo("\"a\""), {{"a", names("\"a\"")}})), "leads back to itself"));
    const Diagnostics round = bad(judged(demo("\"a\""), {{"a", names("\"b\"")}, {"b", names("\"a\"")}}));
    CHECK(tells(round, "leads back to itself"));
    CHECK(round[0].labels.size() == 2);  // where it is named, and the plan that begins it
    Texts deep;
    for (int i = 0; i < 12; ++i) deep["f" + std::to_string(i)] = names("\"f" + std::to_string(i + 1) + "\"");
    CHECK(tells(bad(judged(demo("\"f0\""), deep)), "more than 8 common files deep"));
    Texts many;
    std::string list;
    for (int i = 0; i < 70; ++i) {
        many["f" + std::to_string(i)] = names("");
        list += (i ? ", \"f" : "\"f") + std::to_string(i) + "\"";
    }
    CHECK(tells(bad(judged(demo(list), many)), "70 common files are named here; at most 64 are read"));
    CHECK(good(judged(demo("\"a\", \"b\""), {{"a", names("\"c\"")}, {"b", names("\"c\"")}, {"c", head}}))
              .plan()
              .elements.size() > 5);
    const std::string big = head + "#" + std::string(plan::CommonFiles::most_bytes, ' ') + "\n";
    CHECK(tells(bad(judged(demo("\"a\""), {{"a", big}})), "has more than 4 MiB"));
}

TEST_CASE("mistakes in a common file are told at their place, with the plan that reads it") {
    const std::string shared = head + "[load.saw2]\npower = \"3 A\"\n[site]\nwet = \"dry\"\n";
    const Outcome o = judged(demo("\"school.toml\""), {{"school.toml", shared}});
    const Diagnostics problems = bad(o);
    CHECK(tells(problems, "load.saw2 has no field power"));
    CHECK(tells(problems, "a common file has no [site]"));
    const std::string shown = report::diagnostics_text(o.document, problems, {80, false});
    CHECK(shown.find("school.toml:7:1") != std::string::npos);
    CHECK(shown.find("which this plan reads") != std::string::npos);
    // Of a value that only this plan's use makes wrong, both are shown too.
    const Outcome dangling =
        judged(without(demo("\"school.toml\""), "[outlet.wall]"),
               {{"school.toml", head + "[outlet.wall]\nfrom = \"device.nowhere\"\npattern = \"CEE 7/3\"\n"}});
    const std::string text = report::diagnostics_text(dangling.document, bad(dangling), {80, false});
    CHECK(text.find("which is not in the plan") != std::string::npos);
    CHECK(text.find("school.toml:7:") != std::string::npos);
    CHECK(text.find("which this plan reads") != std::string::npos);
}

TEST_CASE("a common file is parsed once in a run, and only where somebody names it") {
    Texts texts{{"school.toml", head}};
    int asked = 0;
    plan::CommonFiles files(in_memory(texts, &asked), words());
    for (int i = 0; i < 50; ++i) {
        text::Document document("bench.toml", demo("\"school.toml\""));
        CHECK(files.join(document).empty());
        CHECK(document.beside().size() == 1);
    }
    CHECK(asked == 1);
    CHECK(files.parsed() == 1);
}

TEST_CASE("a common file of ten thousand names costs a plan no more than what it uses") {
    std::string shared = head;
    for (int i = 0; i < 10'000; ++i)
        shared += "[load.t" + std::to_string(i) + "]\nkind = \"tool\"\nplate = { current = \"3 A\" }\n";
    std::string text = without(demo("\"school.toml\""), "[load.saw]");
    text += "\n[load.saw]\nfrom = \"outlet.saw\"\nlike = \"load.t9999\"\nmotor = \"universal\"\n";
    const Outcome o = judged(text, {{"school.toml", shared}});
    CHECK(good(o).plan().patterns.size() == 1);
    CHECK(good(o).plan().elements.size() < 20);
}

TEST_CASE("without anybody who reads files, a plan that names common ones is no plan") {
    const auto answer = check(text::Document("p.toml", demo("\"school.toml\"")), catalogue());
    REQUIRE(std::holds_alternative<Diagnostics>(answer));
    CHECK(tells(std::get<Diagnostics>(answer), "common files are not read here"));
}

TEST_CASE("a common file that is handed over as a plan is called by its name") {
    const auto answer = check(text::Document("school.toml", head), catalogue());
    REQUIRE(std::holds_alternative<Diagnostics>(answer));
    CHECK(tells(std::get<Diagnostics>(answer), "this is a common file and no plan"));
}
