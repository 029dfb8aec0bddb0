#include <benchfeed/advice/outline.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include <benchfeed/advice/phrase.hpp>
#include <benchfeed/plan/plan.hpp>

namespace benchfeed::advice {

namespace {

/// What can stand in each answer.
constexpr std::string_view about_supply =
    "230 V, 230/400 V, 120 V or 120/240 V; TN-S, TN-C-S, TN-C, TT or IT; shared or individual; loop 0.5 ohm, "
    "line 0.4 ohm, 3 kA";
constexpr std::string_view about_device =
    "what is printed on it: B16 or 20 A; 2-pole; 30 mA type A, or without RCD; 6 kA; a standard; gG or fuse";
constexpr std::string_view about_lead =
    "a length, what is printed along its sheath, and cores: 3 m H07RN-F 3G1.5";
constexpr std::string_view about_load =
    "a name, then what its plate says: 1600 W, 7.0 A, 2 hp, 230 V; universal, induction or electronic; "
    "three-phase; soft "
    "start; no-volt; starts with NAME; \"shaft\" where the watts are what the motor gives";
constexpr std::string_view about_switch =
    "2 poles; 16 A, or 16(10) A with the figure for motors in brackets; no-volt, coil 230 V; a kind; a "
    "standard";

/// Takes the first word of a list of the plan that is there, the longest first: "TN-C-S" before "TN-C".
template <class E>
std::string take_word(Phrase& phrase) {
    const auto all = plan::words_of<E>();
    std::vector<std::string_view> words(all.begin(), all.end());
    std::stable_sort(words.begin(), words.end(), [](auto a, auto b) { return a.size() > b.size(); });
    for (const std::string_view word : words)
        if (phrase.take(word)) return std::string(word);
    return "";
}

class Reader {
public:
    Reader(const Answers& answers, const tables::Catalogue& tables) : answers_(answers), tables_(tables) {}

    std::variant<Outline, Diagnostics> read() {
        outline_.region = answers_.region;
        read_supply();
        read_device();
        outline_.outlet = pattern("--outlet", answers_.outlet, outline_.fuse);
        outline_.plug = pattern("--plug", answers_.plug, outline_.fuse);
        read_lead();
        for (const std::string& tool : answers_.tools) read_load("--tool", tool, "tool");
        for (const std::string& extractor : answers_.extractors)
            read_load("--extractor", extractor, "extractor");
        for (const std::string& load : answers_.loads) read_load("--load", load, "");
        if (outline_.loads.empty()) outline_.loads.push_back(some_tool());
        for (const std::string& one : answers_.switches) read_switch(one);
        hold_together();
        if (!faults_.empty()) return std::move(faults_);
        return std::move(outline_);
    }

private:
    void fault(std::string_view option, std::string message, std::string_view help) {
        faults_.push_back({std::string(option), std::move(message), {}, std::string(help)});
    }
    /// Every word that nobody has taken is named.
    void close(std::string_view option, const std::string& answer, const Phrase& phrase,
               std::string_view help) {
        for (const std::string& word : phrase.left())
            fault(option, fmt::format("\"{}\" in \"{}\" is not understood", word, answer), help);
    }

    void read_supply() {
        Phrase phrase(answers_.supply);
        Outline::Supply& to = outline_.supply;
        to.system = take_word<plan::System>(phrase);
        to.earthing = take_word<plan::Earthing>(phrase);
        to.circuit = take_word<plan::Circuit>(phrase);
        to.loop_impedance = phrase.take_behind("loop");
        to.line_impedance = phrase.take_behind("line");
        to.fault_current = phrase.take_quantity({"kA"});
        close("--supply", answers_.supply, phrase, about_supply);
    }

    void read_device() {
        Phrase phrase(answers_.device);
        Outline::Device& to = outline_.device;
        to.standard = take_word<plan::DeviceStandard>(phrase);
        if (phrase.take("gG")) to.standard = "IEC 60269 gG";
        const bool fuse = to.standard == "IEC 60269 gG" || to.standard.starts_with("BS ") ||
                          to.standard == "UL 248" || phrase.take("fuse");
        to.kind = fuse ? "fuse" : "circuit breaker";
        for (const char* word : {"circuit breaker", "breaker", "MCB", "RCBO", "RCD", "GFCI"}) {
            if (phrase.take("without " + std::string(word)) || phrase.take("no " + std::string(word)))
                to.residual = false;
            static_cast<void>(phrase.take(word));
        }
        const std::string letter = phrase.take_if([](std::string_view word) {
            return word.size() > 1 && std::string_view("BCD").find(word[0]) != std::string_view::npos &&
                   word.substr(1).find_first_not_of("0123456789 A") == std::string_view::npos;
        });
        if (!letter.empty()) {
            to.curve = letter.substr(0, 1);
            to.rating = letter.substr(1, letter.find(' ') - 1) + " A";
        }
        const std::string poles = phrase.take_quantity({"poles", "pole"});
        to.poles = poles.substr(0, poles.find(' '));
        to.trip = phrase.take_quantity({"mA"});
        to.breaking = phrase.take_quantity({"kA"});
        if (to.rating.empty()) to.rating = phrase.take_quantity({"A"});
        if (phrase.take("type")) to.wave = take_word<plan::Wave>(phrase);
        close("--device", answers_.device, phrase, about_device);
    }

    /// A pattern of the plan, with the fuse in it: "BS 1363 13 A".
    std::string pattern(std::string_view option, const std::string& answer, std::string& fuse) {
        if (answer.empty()) return "";
        const tables::Table* table = tables_.table("plug-patterns");
        std::string found;
        for (std::size_t row = 0; table && row < table->rows.size(); ++row) {
            const std::string name(table->text(row, "pattern"));
            const bool begins = small(answer).starts_with(small(name)) &&
                                (answer.size() == name.size() || answer[name.size()] == ' ');
            if (begins && name.size() > found.size()) found = name;
        }
        if (found.empty()) {
            fault(option, fmt::format("there is no pattern \"{}\"", answer), patterns_here());
            return "";
        }
        Phrase rest(std::string_view(answer).substr(found.size()));
        fuse = rest.take_quantity({"A"});
        static_cast<void>(rest.take("fuse"));
        close(option, answer, rest, "the pattern, and behind it the amps of a fuse in the plug");
        return found;
    }

    /// "one of CEE 7/3, CEE 7/5 ...": those of the region.
    [[nodiscard]] std::string patterns_here() const {
        const tables::Table* table = tables_.table("plug-patterns");
        std::string names;
        for (std::size_t row = 0; table && row < table->rows.size(); ++row)
            if (table->text(row, "regions").find(answers_.region) != std::string_view::npos)
                names += (names.empty() ? "" : ", ") + std::string(table->text(row, "pattern"));
        return "one of " + names + "; `benchfeed tables patterns --region " + answers_.region + "` says more";
    }

    void read_lead() {
        Phrase phrase(answers_.lead);
        Outline::Cord& to = outline_.lead;
        to.length = phrase.take_quantity({"m", "ft", "cm", "in"});
        read_cores(phrase);
        if (to.section.empty()) to.section = phrase.take_quantity({"mm2", "mm²", "AWG"});
        if (const std::string cores = phrase.take_quantity({"cores"}); !cores.empty())
            to.cores = cores.substr(0, cores.find(' '));
        to.type = construction(phrase);
        close("--lead", answers_.lead, phrase, about_lead);
    }

    /// "3G1.5" has a protective core, "3X1.5" none, "14/3" counts all of them; "3x1.5" does not say which it
    /// is.
    void read_cores(Phrase& phrase) {
        Outline::Cord& to = outline_.lead;
        const std::string metric = phrase.take_if([](std::string_view word) {
            const auto at = word.find_first_of("GgXx");
            return at != std::string_view::npos && at > 0 && at + 1 < word.size() &&
                   word.substr(0, at).find_first_not_of("0123456789") == std::string_view::npos &&
                   word.substr(at + 1).find_first_not_of("0123456789.") == std::string_view::npos;
        });
        if (const auto at = metric.find_first_of("GgXx"); at != std::string::npos) {
            to.cores = metric.substr(0, at);
            to.section = metric.substr(at + 1) + " mm2";
            to.protective = metric[at] == 'x' ? "" : metric[at] == 'X' ? "false" : "true";
            if (to.protective.empty())
                fault("--lead", fmt::format("\"{}\" does not say whether one core is protective", metric),
                      fmt::format("{0}G{1} if one core is green-yellow, {0}X{1} if none is: look at the end "
                                  "of the cord",
                                  to.cores, metric.substr(at + 1)));
        }
        const std::string gauge = phrase.take_if([](std::string_view word) {
            const auto at = word.find('/');
            return at != std::string_view::npos && at > 0 && at + 1 < word.size() &&
                   word.find_first_not_of("0123456789/") == std::string_view::npos;
        });
        if (const auto at = gauge.find('/'); at != std::string::npos) {
            to.section = gauge.substr(0, at) + " AWG";
            to.cores = gauge.substr(at + 1);
        }
    }

    /// A type of the plan by its own name, or by what shops call it.
    std::string construction(Phrase& phrase) const {
        struct Names {
            tables::Key table, called, word;
        };
        for (const Names& names : {Names{"cable-constructions", "construction", "construction"},
                                   Names{"trade-names", "called", "word"}}) {
            const tables::Table* table = tables_.table(names.table);
            for (std::size_t row = 0; table && row < table->rows.size(); ++row)
                if (phrase.take(table->text(row, names.called)))
                    return std::string(table->text(row, names.word));
        }
        return "";
    }

    void read_load(std::string_view option, const std::string& answer, const std::string& kind) {
        Phrase phrase(answer);
        Outline::Load load;
        load.kind = kind.empty() ? take_word<plan::LoadKind>(phrase) : kind;
        if (load.kind.empty()) load.kind = "other";
        load.starts_with = small(phrase.take_behind("starts with"));
        load.current = phrase.take_quantity({"A"});
        load.voltage = phrase.take_quantity({"V"});
        load.horsepower = phrase.take_quantity({"hp"});
        (phrase.take("shaft") ? load.power_out : load.power_in) = phrase.take_quantity({"W", "kW"});
        load.soft_start = phrase.take("soft start") || phrase.take("soft-start");
        load.no_volt = phrase.take("no-volt") || phrase.take("no volt");
        load.three_phase = has_three_lines() && (phrase.take("three-phase") || phrase.take("three phase") ||
                                                 phrase.take("3-phase") || phrase.take("3 phase"));
        load.motor = take_word<plan::Motor>(phrase);
        if (load.motor.empty() && phrase.take("brushless")) load.motor = "electronic";
        static_cast<void>(phrase.take("motor"));
        name(load, phrase.take_name(), kind.empty() ? load.kind : kind);
        close(option, answer, phrase, about_load);
        outline_.loads.push_back(std::move(load));
    }

    /// Benches on three lines are usual in the region.
    [[nodiscard]] bool has_three_lines() const {
        const tables::Table* table = tables_.table("usual-parts");
        const auto row = table ? table->row_of("region", answers_.region) : std::nullopt;
        if (!row) return false;
        const std::string_view outlet = table->text(*row, "outlet_three");
        return !outlet.empty() && outlet != "-";
    }

    /// "table saw" is table-saw to the plan and the table saw to people; a second one gets a number.
    void name(Outline::Load& load, const std::string& words, const std::string& otherwise) const {
        for (const char c : small(words.empty() ? otherwise : words)) {
            const bool fits = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
            if (fits) load.name += c;
            if (c == ' ' && !load.name.ends_with('-')) load.name += '-';
        }
        if (load.name.empty() || load.name.size() > 36) load.name = otherwise;
        if (words.find(' ') != std::string::npos || small(words) != load.name)
            load.label = words.empty() ? "" : "the " + words;
        const std::string base = load.name;
        const auto taken = [&] {
            return std::any_of(outline_.loads.begin(), outline_.loads.end(),
                               [&](const Outline::Load& other) { return other.name == load.name; });
        };
        for (int n = 2; taken(); ++n) load.name = fmt::format("{}-{}", base, n);
    }

    /// A plan has at least one load; of this one everything is open.
    static Outline::Load some_tool() {
        Outline::Load load;
        load.name = load.kind = "tool";
        return load;
    }

    void read_switch(const std::string& answer) {
        Phrase phrase(answer);
        Outline::Switch to;
        to.standard = take_word<plan::SwitchStandard>(phrase);
        const std::string poles = phrase.take_quantity({"poles", "pole"});
        to.poles = poles.substr(0, poles.find(' '));
        const std::string marked = phrase.take_if([](std::string_view word) {
            return word.find('(') != std::string_view::npos && word.ends_with(") A");
        });
        if (const auto at = marked.find('('); at != std::string::npos) {
            to.rating = marked.substr(0, at) + " A";
            to.motor_rating = marked.substr(at + 1, marked.find(')') - at - 1) + " A";
        }
        if (to.rating.empty()) to.rating = phrase.take_quantity({"A"});
        if (to.motor_rating.empty()) to.motor_rating = phrase.take_quantity({"hp"});
        to.no_volt = phrase.take("no-volt") || phrase.take("no volt");
        to.coil = phrase.take_behind("coil");
        to.kind = take_word<plan::SwitchKind>(phrase);
        static_cast<void>(phrase.take("release"));
        close("--switch", answer, phrase, about_switch);
        outline_.switches.push_back(std::move(to));
    }

    /// Answers that belong to each other.
    void hold_together() {
        const auto switched = static_cast<std::size_t>(std::count_if(
            outline_.loads.begin(), outline_.loads.end(),
            [](const Outline::Load& load) { return load.kind == "tool" || load.kind == "extractor"; }));
        if (outline_.switches.size() > 1 && outline_.switches.size() != switched)
            fault("--switch",
                  fmt::format("{} switches for {} tools and extractors", outline_.switches.size(), switched),
                  "one switch for all of them, or one for each, in their order");
        for (const Outline::Load& load : outline_.loads) {
            const auto is_there = [&](const Outline::Load& other) { return other.name == load.starts_with; };
            if (!load.starts_with.empty() &&
                std::none_of(outline_.loads.begin(), outline_.loads.end(), is_there))
                fault("--" + (load.kind == "other" ? std::string("load") : load.kind),
                      fmt::format("{} starts with {}, which is no load of this bench", load.name,
                                  load.starts_with),
                      "the name of a tool");
        }
    }

    const Answers& answers_;
    const tables::Catalogue& tables_;
    Outline outline_;
    Diagnostics faults_;
};

}  // namespace

std::variant<Outline, Diagnostics> read_outline(const Answers& answers, const tables::Catalogue& tables) {
    return Reader(answers, tables).read();
}

}  // namespace benchfeed::advice
