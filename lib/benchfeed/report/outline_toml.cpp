#include <benchfeed/report/outline_toml.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>
#include <string_view>
#include <vector>

namespace benchfeed::report {

namespace {

using advice::Outline;

constexpr std::string_view usual = "usual here: write what is there";

/// The usual parts of a region.
class Usual {
public:
    Usual(const tables::Catalogue& tables, const std::string& region) : table_(tables.table("usual-parts")) {
        if (table_) row_ = table_->row_of("region", region);
    }
    [[nodiscard]] bool is_known() const { return row_.has_value(); }
    [[nodiscard]] std::string operator()(tables::Key column) const {
        return row_ ? std::string(table_->text(*row_, column)) : "";
    }

private:
    const tables::Table* table_;
    std::optional<std::size_t> row_;
};

/// A text as TOML writes it.
std::string in_quotes(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') out += '\\';
        if (static_cast<unsigned char>(c) >= 0x20) out += c;
    }
    return out + "\"";
}

/// Lines of one table, their values under each other and their remarks too.
class Block {
public:
    explicit Block(std::string header) : out_(std::move(header) + "\n") {}
    /// The value as TOML, with its remark.
    Block& raw(std::string_view key, const std::string& value, std::string_view remark = "") {
        const std::string line = fmt::format("{:<14} = {}", key, value);
        out_ += remark.empty() ? line + "\n" : fmt::format("{:<40}  # {}\n", line, remark);
        return *this;
    }
    /// A word, or "unknown" with where to look.
    Block& asked(std::string_view key, const std::string& value, std::string_view look) {
        return raw(key, in_quotes(value.empty() ? "unknown" : value), value.empty() ? look : "");
    }
    /// A word that is left out where nobody said it.
    Block& given(std::string_view key, const std::string& value) {
        return value.empty() ? *this : raw(key, in_quotes(value));
    }
    Block& remark(std::string_view words) {
        out_ += fmt::format("# {}\n", words);
        return *this;
    }
    [[nodiscard]] std::string text() const { return out_ + "\n"; }

private:
    std::string out_;
};

/// The number at the front of "230 V" or "220-240 V".
double volts_of(const std::string& text) {
    double volts = 0;
    std::from_chars(text.data(), text.data() + text.size(), volts);
    return volts;
}

class Writer {
public:
    Writer(const Outline& outline, const Usual& usual_parts, bool nec)
        : o_(outline), usual_(usual_parts), nec_(nec) {
        for (const Outline::Load& load : o_.loads) {
            two_ |= runs_on(load) == Run::two;
            three_ |= runs_on(load) == Run::three;
            single_ |= runs_on(load) == Run::single;
        }
    }

    [[nodiscard]] std::string text() {
        std::string out = head() + supply() + device() + wall() + lead() + box();
        std::vector<std::string> switched;
        std::size_t line = 0;
        for (const Outline::Load& load : o_.loads) {
            const std::string conductors = conductors_of(load, line);
            std::string from = "box.bench";
            if (is_switched(load)) {
                out += switch_before(load, switched, conductors);
                switched.push_back(load.name);
                from = "switch." + load.name;
            }
            out += outlet_for(load, from, is_switched(load) ? "" : conductors) + written(load);
        }
        return out + tail();
    }

private:
    /// The conductors that a load runs between.
    enum class Run : std::uint8_t { single, two, three };

    static bool is_switched(const Outline::Load& load) {
        return load.kind == "tool" || load.kind == "extractor";
    }
    /// By the volts on the plate: those between the lines of the systems of the region.
    [[nodiscard]] Run runs_on(const Outline::Load& load) const {
        // Between two lines stand 1.73 or 2 times the volts of one; a plate differs from its supply by less.
        constexpr double clearly_more = 1.4;
        if (load.three_phase) return Run::three;
        if (volts_of(load.voltage) < clearly_more * volts_of(usual_("system"))) return Run::single;
        return usual_("outlet_three").empty() ? Run::two : Run::three;
    }
    [[nodiscard]] std::string system() const {
        if (!o_.supply.system.empty()) return o_.supply.system;
        return three_ ? usual_("system_three") : two_ ? usual_("system_two") : usual_("system");
    }
    [[nodiscard]] bool several_lines() const { return system().find('/') != std::string::npos; }
    [[nodiscard]] std::string outlet_of(Run run) const {
        if (run == Run::three) return usual_("outlet_three");
        return run == Run::two ? usual_("outlet_two") : usual_("outlet");
    }
    /// At the wall: what carries every load of the bench.
    [[nodiscard]] std::string wall_pattern() const {
        if (!o_.outlet.empty()) return o_.outlet;
        if (three_) return outlet_of(Run::three);
        if (two_) return single_ ? usual_("outlet_split") : outlet_of(Run::two);
        return usual_("outlet");
    }
    [[nodiscard]] std::string plug_pattern() const {
        if (!o_.plug.empty()) return o_.plug;
        const std::string wall = wall_pattern();
        return wall == usual_("outlet") ? usual_("plug") : wall;
    }
    /// All lines arrive at the bench.
    [[nodiscard]] bool all_lines() const { return three_ || (two_ && single_); }

    /// A single-phase load of a bench with several lines is fed from the next one in turn.
    [[nodiscard]] std::string conductors_of(const Outline::Load& load, std::size_t& line) const {
        if (!all_lines() || runs_on(load) == Run::three) return "";
        if (runs_on(load) == Run::two) return "L1-L2";
        return fmt::format("L{}-N", line++ % (three_ ? 3 : 2) + 1);
    }

    [[nodiscard]] std::string head() const {
        Block block("[plan]");
        block.raw("title", in_quotes("My bench"))
            .raw("region", in_quotes(o_.region))
            .raw("mounting", in_quotes("mobile"),
                 "plug and cord; \"fastened\": the same, screwed down; \"fixed\": wired");
        Block site("[site]");
        site.asked("use", "", "dwelling, school or workplace")
            .asked("room", "", "garage, basement, outbuilding, workshop, habitable, outdoors");
        return "# A plan for benchfeed: one bench, from the panel to the tools. Check it with: benchfeed "
               "check FILE\n"
               "# \"unknown\" is an honest value: it becomes a question, and nothing is guessed.\n"
               "format = 1\n\n" +
               block.text() + site.text();
    }

    [[nodiscard]] std::string supply() const {
        Block block("[supply.panel]");
        block.raw("system", in_quotes(system()), o_.supply.system.empty() ? usual : "")
            .asked("earthing", o_.supply.earthing, "the supply bill or the test report: TN-S, TN-C-S, TT")
            .asked("loop_impedance", o_.supply.loop_impedance, "an electrician's meter, line to earth")
            .asked("line_impedance", o_.supply.line_impedance, "the same, line to neutral")
            .asked("fault_current", o_.supply.fault_current, "the same meter, or the network operator")
            .asked("circuit", o_.supply.circuit,
                   "individual: one outlet alone on its circuit; shared: several");
        return block.text();
    }

    [[nodiscard]] std::string device() const {
        const Outline::Device& d = o_.device;
        const bool lines_differ = several_lines() && !all_lines();
        Block block("[device.breaker]");
        block.raw("from", in_quotes("supply.panel"))
            .raw("kind", in_quotes(d.kind.empty() ? "circuit breaker" : d.kind), "before the wall outlet")
            .given("standard", d.standard)
            .asked("rating", d.rating, "printed on its handle: B16 is curve B, 16 A");
        if (takes_curve()) block.asked("curve", d.curve, "the letter before the amps: B16 is curve B");
        if (!d.poles.empty()) block.raw("poles", d.poles);
        block.asked("breaking", d.breaking, "printed in a frame: 6000 is \"6 kA\"");
        if (lines_differ) block.raw("conductors", in_quotes(two_ ? "L1-L2" : "L1-N"));
        if (d.residual) {
            const std::string trip = in_quotes(d.trip.empty() ? "unknown" : d.trip);
            const std::string wave =
                nec_ ? "" : fmt::format(", wave = {}", in_quotes(d.wave.empty() ? "unknown" : d.wave));
            block.raw("residual", "{ trip = " + trip + wave + " }", "take the line out if there is none");
        }
        return block.text();
    }
    /// A letter stands before the amps of European breakers alone.
    [[nodiscard]] bool takes_curve() const {
        const Outline::Device& d = o_.device;
        if (!d.curve.empty()) return true;
        return d.kind != "fuse" && !nec_ &&
               (d.standard.empty() || d.standard == "IEC 60898" || d.standard == "IEC 61009");
    }

    [[nodiscard]] std::string wall() const {
        Block block("[outlet.wall]");
        block.raw("from", in_quotes("device.breaker"))
            .raw("pattern", in_quotes(wall_pattern()), o_.outlet.empty() ? usual : "")
            .asked("earth", "", "\"tested\" with a tester, \"present\" or \"none\"")
            .raw("existing", "true")
            .remark("The cable in the wall, where you know it. ring = true: a ring, all the way round.")
            .remark("cable = { stock = \"house\", length = \"15 m\", method = \"C\" }");
        return block.text();
    }

    [[nodiscard]] std::string lead() const {
        const Outline::Cord& c = o_.lead;
        const std::string section = c.section.empty() ? usual_("section") : c.section;
        const std::string cores = !c.cores.empty() ? c.cores : three_ ? "5" : two_ && single_ ? "4" : "3";
        Block block("[stock.cord]");
        block.raw("type", in_quotes(c.type.empty() ? usual_("cord") : c.type), c.type.empty() ? usual : "")
            .raw("section", in_quotes(section), c.section.empty() ? usual : "")
            .raw("cores", cores, "all of them, the protective one included");
        if (c.protective == "false")
            block.raw("protective", "false", "none of them is green-yellow, green or bare");
        return block.text();
    }

    [[nodiscard]] std::string box() const {
        const Outline::Cord& c = o_.lead;
        Block block("[box.bench]");
        block.raw("from", in_quotes("outlet.wall"))
            .raw("plug", in_quotes(plug_pattern()), o_.plug.empty() ? usual : "");
        if (plug_pattern() == "BS 1363") block.asked("fuse", o_.fuse, "printed on the fuse in the plug");
        const std::string length = in_quotes(c.length.empty() ? "unknown" : c.length);
        block
            .raw("cable",
                 "{ stock = \"cord\", length = " + length + ", grip = \"unknown\", ends = \"unknown\" }")
            .remark("reel = \"wound\" and wound_limit = \"1000 W\" in it: the cord stays on a reel.")
            .remark("grip: a clamp holds its sheath, true or false; ends: bare, ferrule, ring or tinned.")
            .asked("material", "", "plastic or metal")
            .asked("terminals", "", "lever, push-in, screw, cage, twist-on or tab");
        if (nec_)
            block.asked("volume", "", "stamped inside: \"21 in3\"").asked("clamps", "", "inside or outside");
        return block.text();
    }

    [[nodiscard]] std::string switch_before(const Outline::Load& load, const std::vector<std::string>& before,
                                            const std::string& conductors) const {
        Block block("[switch." + load.name + "]");
        block.raw("from", in_quotes("box.bench"));
        // Where all are alike, those behind the first take its words over.
        const bool alike = o_.switches.size() < 2 && !before.empty();
        if (alike) block.raw("like", in_quotes("switch." + before.front()), "all of it but from and label");
        if (!conductors.empty()) block.raw("conductors", in_quotes(conductors));
        if (alike) return block.text();
        const Outline::Switch sw = o_.switches.empty()
                                       ? Outline::Switch{}
                                       : o_.switches[std::min(before.size(), o_.switches.size() - 1)];
        block.given("kind", sw.kind)
            .asked("standard", sw.standard, "stamped on its side")
            .asked("rating", sw.rating, "stamped on its side: 16(4) A is rating 16 A, motor_rating 4 A");
        if (!sw.motor_rating.empty() || sw.rating.empty())
            block.asked("motor_rating", sw.motor_rating, "the figure in brackets, or hp");
        if (sw.poles.empty())
            block.asked("poles", "", "count the terminals: two for each pole");
        else
            block.raw("poles", sw.poles);
        if (sw.no_volt)
            block.raw("no_volt", "true").asked("coil", sw.coil, "the volts on its coil or its label");
        else
            block.raw("no_volt", o_.switches.empty() ? in_quotes("unknown") : "false",
                      "does it stay off when power returns?");
        return block.text();
    }

    [[nodiscard]] std::string outlet_for(const Outline::Load& load, const std::string& from,
                                         const std::string& conductors) const {
        Block block("[outlet." + load.name + "]");
        block.raw("from", in_quotes(from)).raw("pattern", in_quotes(outlet_of(runs_on(load))), usual);
        if (!conductors.empty()) block.raw("conductors", in_quotes(conductors));
        return block.text();
    }

    [[nodiscard]] std::string written(const Outline::Load& load) const {
        Block block("[load." + load.name + "]");
        if (!load.label.empty()) block.raw("label", in_quotes(load.label));
        block.raw("from", in_quotes("outlet." + load.name)).raw("kind", in_quotes(load.kind));
        if (!load.starts_with.empty()) block.raw("starts_with", in_quotes(load.starts_with));
        if (is_switched(load) || !load.motor.empty())
            block.asked("motor", load.motor,
                        "brushes and whine: universal; hum, heavy: induction; brushless: electronic");
        if (load.three_phase) block.raw("conductors", in_quotes("L1-L2-L3"));
        if (load.soft_start) block.raw("soft_start", "true");
        if (load.no_volt) block.raw("no_volt", "true");
        if (load.kind == "tool") {
            if (!load.no_volt)
                block.asked("latched", "", "does its own switch stay on when you let go? true or false");
            block.raw("cutter", "true", "it can cut or catch somebody");
        }
        const bool any = !(load.current + load.power_in + load.power_out + load.horsepower).empty();
        Block plate("[load." + load.name + ".plate]");
        if (any)
            plate.given("current", load.current)
                .given("power_in", load.power_in)
                .given("power_out", load.power_out);
        else
            plate.asked("current", "", "its plate; amps win over watts");
        if (!load.horsepower.empty())
            plate.raw("horsepower", in_quotes(load.horsepower))
                .asked("horsepower_kind", "", "rated, or peak on the plate of a plug-in tool");
        plate.given("voltage", load.voltage);
        const std::string text = block.text();
        return text.substr(0, text.size() - 1) + plate.text();
    }

    [[nodiscard]] std::string tail() const {
        std::string names;
        for (const Outline::Load& load : o_.loads)
            names += (names.empty() ? "" : ", ") + in_quotes(load.name);
        return "# Tools that run at the same time, one table for each such set. Without any, each tool runs "
               "alone with\n"
               "# the lights and extractors. other_load on the device: what else the circuit feeds.\n"
               "# [[together]]\n"
               "# name  = \"two people\"\n"
               "# loads = [" +
               names + "]\n";
    }

    const Outline& o_;
    const Usual& usual_;
    bool nec_ = false;
    bool two_ = false, three_ = false, single_ = false;  // what the loads run between
};

}  // namespace

std::string outline_toml(const Outline& outline, const tables::Catalogue& tables) {
    const Usual usual_parts(tables, outline.region);
    if (!usual_parts.is_known()) return "";
    const tables::Table* regions = tables.table("regions");
    const auto row = regions ? regions->row_of("region", outline.region) : std::nullopt;
    return Writer(outline, usual_parts, row && regions->text(*row, "family") == "nec").text();
}

std::string answer_fault(const Diagnostic& fault, const Style& style) {
    std::string out = wrapped(harmless(fault.message), "error: " + fault.path + ": ", "       ", style);
    if (!fault.help.empty()) out += wrapped(harmless(fault.help), "  write: ", "         ", style);
    return out;
}

}  // namespace benchfeed::report
