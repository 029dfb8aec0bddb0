#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include <benchfeed/base/quantity_text.hpp>
#include <benchfeed/plan/reading.hpp>

namespace benchfeed::plan {

namespace {

/// Edits between two words (insert, delete, replace, swap neighbours).
std::size_t distance(std::string_view a, std::string_view b) {
    std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
    for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i)
        for (std::size_t j = 1; j <= b.size(); ++j) {
            d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] != b[j - 1])});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
        }
    return d[a.size()][b.size()];
}

std::string lower(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

std::string either(const std::vector<std::string>& words) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) out += i + 1 == words.size() ? " or " : ", ";
        out += "\"" + words[i] + "\"";
    }
    return out;
}

template <class T>
void accept(Field<T>& field, T value, const Span& span) {
    field.value = std::move(value);
    field.span = span;
    field.origin = Origin::plan;
    field.stated_unknown = false;
}

std::string digits_in(std::string_view text) {
    std::string digits;
    std::copy_if(text.begin(), text.end(), std::back_inserter(digits),
                 [](char c) { return c >= '0' && c <= '9'; });
    return digits;
}

/// The word that was meant: one that goes on where the written one ends, else the nearest with the same
/// digits. A name that differs in a digit is another thing: CEE 7/3 has the earth that CEE 7/1 lacks.
std::string near_in_meaning(std::string_view written, const std::vector<std::string>& known) {
    std::vector<std::string> alike;
    for (const std::string& word : known) {
        if (word.starts_with(std::string(written) + " ")) return word;
        if (digits_in(word) == digits_in(written)) alike.push_back(word);
    }
    return nearest(written, alike);
}

/// Reads one node into one field; the visitor of FieldRef.
struct ValueReader {
    Context& context;
    const text::Node& node;
    const FieldInfo& info;
    std::string_view table, key;

    [[nodiscard]] std::string path() const {
        return key.empty() ? std::string(table) : fmt::format("{}.{}", table, key);
    }
    void fault(std::string message, std::string help = "") const {
        context.fault(path(), std::move(message), {{node.span, ""}}, std::move(help));
        context.excused.insert(path());
    }
    [[nodiscard]] const std::string* as_text(std::string_view wanted) const {
        const auto* value = node.as<std::string>();
        if (!value)
            fault(fmt::format("{} is {}, not {}", info.key, wanted, text::kind_name(node)),
                  node.as<text::DateTime>()                          ? "it in quotes: \"2026-05-02\""
                  : node.as<text::Array>() || node.as<text::Table>() ? "one text in quotes"
                                                                     : "it in quotes");
        return value;
    }
    template <class T>
    bool unknown(Field<T>& field) const {
        const auto* value = node.as<std::string>();
        if (!value || *value != "unknown") return false;
        if (!info.may_be_unknown) {
            fault(fmt::format("{} cannot be unknown", info.key), "what it is");
            return true;
        }
        field.value.reset();
        field.span = node.span;
        field.origin = Origin::plan;
        field.stated_unknown = true;
        return true;
    }

    void operator()(Field<std::string>* field) const {
        if (unknown(*field)) return;
        const auto* value = as_text("a text");
        if (!value) return;
        if (from_data(info.vocabulary) && !known_word(*value)) return;
        accept(*field, *value, node.span);
    }
    /// The word of the plan for what shops call so; "" for any other name.
    std::string meant_in_shops(const std::string& value) const {
        if (info.vocabulary != Vocabulary::construction) return "";
        for (const Words::TradeName& name : context.words.trade_names)
            if (lower(name.called) == lower(value)) return name.word;
        return "";
    }
    bool known_word(const std::string& value) const {
        const auto has = [&](const auto& words) {
            return std::any_of(words.begin(), words.end(), [&](const auto& w) { return w.name == value; });
        };
        if (info.vocabulary == Vocabulary::construction ? has(context.words.constructions)
            : info.vocabulary == Vocabulary::region     ? has(context.words.regions)
                                                        : has(context.words.patterns))
            return true;
        std::vector<std::string> known;
        const auto take = [&](const auto& words) {
            for (const auto& w : words) known.push_back(w.name);
        };
        if (info.vocabulary <= Vocabulary::outlet) take(context.words.patterns);
        if (info.vocabulary == Vocabulary::construction) take(context.words.constructions);
        if (info.vocabulary == Vocabulary::region) take(context.words.regions);
        const std::string_view listed_in =
            info.vocabulary == Vocabulary::construction ? "cables" : "patterns";
        const std::string of_shops = meant_in_shops(value);
        const std::string near = of_shops.empty() ? near_in_meaning(value, known) : of_shops;
        // Two-pole outlets of old houses are in no table: the plan says of a like one that it has no earth.
        const std::string_view without_earth = info.vocabulary == Vocabulary::outlet
                                                   ? "; for an old outlet without earth contacts: one that "
                                                     "takes the same plugs, and earth = \"none\""
                                                   : "";
        fault(fmt::format("there is no {} \"{}\"", info.key, value),
              !near.empty() ? "\"" + near + "\"" +
                                  (of_shops.empty() ? "" : " (what is printed along the sheath counts)")
              : known.size() <= 12 ? either(known)
                                   : fmt::format("one of the {} that `benchfeed tables {}` lists{}",
                                                 known.size(), listed_in, without_earth));
        return false;
    }
    void operator()(Field<bool>* field) const {
        if (unknown(*field)) return;
        if (const auto* value = node.as<bool>()) return accept(*field, *value, node.span);
        fault(fmt::format("{} is true or false, not {}", info.key, text::kind_name(node)),
              info.may_be_unknown ? "true, false or \"unknown\"" : "true or false");
    }
    template <class Integer>
    void whole_number(Field<Integer>* field) const {
        if (unknown(*field)) return;
        const auto* value = node.as<std::int64_t>();
        if (!value)
            return fault(fmt::format("{} is a whole number, not {}", info.key,
                                     node.is_number() ? "one with a point" : text::kind_name(node)),
                         node.is_number() ? "digits without a point" : "digits without quotes");
        if (info.key != "format" && (*value < 1 || *value > 1000))
            return fault(fmt::format("{} cannot be {}", info.key, *value), "a number from 1 to 1000");
        accept(*field, static_cast<Integer>(*value), node.span);
    }
    void operator()(Field<int>* field) const { whole_number(field); }
    void operator()(Field<std::int64_t>* field) const { whole_number(field); }
    void operator()(const ChoiceRef& choice) const {
        if (unknown(*choice.field)) return;
        const auto* value = as_text("a word");
        if (!value) return;
        const auto it = std::find(choice.words.begin(), choice.words.end(), *value);
        if (it == choice.words.end()) {
            const std::vector<std::string> known(choice.words.begin(), choice.words.end());
            const std::string near = near_in_meaning(*value, known);
            return fault(fmt::format("{} is {}, not \"{}\"", info.key, either(known), *value),
                         near.empty() ? "one of these words" : "\"" + near + "\"");
        }
        accept(*static_cast<Field<std::uint8_t>*>(choice.field),
               static_cast<std::uint8_t>(it - choice.words.begin()), node.span);
    }
    void operator()(Field<Conductors>* field) const {
        if (unknown(*field)) return;
        const auto* value = as_text("a text");
        if (!value) return;
        const auto known = conductor_words();
        // What opens may be the protective conductor too: a fact that a plan must be able to state.
        const bool with_earth = info.key == "opens" && value->ends_with("-PE");
        const std::string live = with_earth ? value->substr(0, value->size() - 3) : *value;
        if (std::find(known.begin(), known.end(), live) == known.end())
            return fault(fmt::format("{} cannot be \"{}\"", info.key, *value),
                         "L-N, L1-N, L1-L2, L1-L2-N, L1-L2-L3 or L1-L2-L3-N");
        Conductors conductors;
        for (std::size_t at = 0; at < value->size();) {
            const std::size_t end = std::min(value->find('-', at), value->size());
            const std::string_view part = std::string_view(*value).substr(at, end - at);
            conductors.add(part == "N"    ? Conductor::n
                           : part == "PE" ? Conductor::pe
                           : part == "L2" ? Conductor::l2
                           : part == "L3" ? Conductor::l3
                                          : Conductor::l1);
            at = end + 1;
        }
        accept(*field, conductors, node.span);
    }
    void operator()(Field<std::vector<std::string>>* field) const {
        if (unknown(*field)) return;
        const auto* array = node.as<text::Array>();
        if (!array)
            return fault(fmt::format("{} is a list of names, not {}", info.key, text::kind_name(node)),
                         info.vocabulary == Vocabulary::feeder ? "[\"switch.NAME\"]" : "[\"saw\", \"lamp\"]");
        std::vector<std::string> names;
        for (const auto& item : array->items) {
            const auto* name = item.as<std::string>();
            if (!name) {
                context.excused.insert(path());
                return context.fault(path(), fmt::format("a name in {} is a text", info.key),
                                     {{item.span, ""}}, "it in quotes");
            }
            names.push_back(*name);
        }
        accept(*field, std::move(names), node.span);
    }
    void operator()(Field<Ratio>* field) const {
        // Power factor and efficiency are plain numbers up to 1; limits are percentages.
        if (!is_plain_number(info)) return quantity(field);
        if (unknown(*field)) return;
        if (!node.is_number())
            return fault(fmt::format("{} is a number, not {}", info.key, text::kind_name(node)), "0.85");
        const double value = node.number();
        if (!(value > 0.05 && value <= 1))
            return fault(fmt::format("{} cannot be {}", info.key, value), "a number up to 1, such as 0.85");
        accept(*field, value * unit::one, node.span);
    }
    template <class Q>
    void quantity(Field<Q>* field) const {
        if (unknown(*field)) return;
        if (node.is_number()) {
            const std::string units = units_of<Q>();
            const double size = std::abs(node.number());
            return fault(fmt::format("{} needs a unit: a bare number could be {}", info.key, units),
                         size > 1e-6 && size < 1e6 ? fmt::format("\"{} {}\"", node.number(),
                                                                 units.substr(0, units.find_first_of(", ")))
                                                   : "a number and its unit, in quotes");
        }
        const auto* value = as_text("a text with a unit");
        if (!value) return;
        auto read = read_quantity<Q>(*value, info.key);
        if (auto* bad = std::get_if<QuantityFault>(&read))
            return fault(std::move(bad->message), std::move(bad->help));
        accept(*field, std::get<Q>(std::move(read)), node.span);
    }
    template <class Q>
    void operator()(Field<Q>* field) const {
        quantity(field);
    }
};

}  // namespace

namespace {

/// Tables that have a field of this name: "load" or "load.NAME.plate".
std::vector<std::string> owners_of(std::string_view key) {
    std::vector<std::string> owners;
    const auto look = [&](const std::string& table, const std::vector<Slot>& slots) {
        if (std::any_of(slots.begin(), slots.end(), [&](const Slot& s) { return s.info.key == key; }))
            owners.push_back("[" + table + "]");
    };
    Cable cable;
    Residual residual;
    Measured measured;
    Plate plate;
    Stock stock;
    Head head;
    Site site;
    look("plan", slots(head));
    look("site", slots(site));
    look("stock.NAME", slots(stock));
    for (const Kind kind : element_kinds) {
        Element element;
        element.kind = kind;
        element.what = empty_of(kind);
        look(std::string(word(kind)) + ".NAME", slots(element));
        if (key == "cable" && kind != Kind::supply)
            owners.push_back("[" + std::string(word(kind)) + ".NAME]");
    }
    look("KIND.NAME.cable", slots(cable));
    look("device.NAME.residual", slots(residual));
    look("outlet.NAME.measured", slots(measured));
    look("load.NAME.plate", slots(plate));
    return owners;
}

/// Where a field that is unknown here would be known.
std::string other_place(std::string_view key) {
    const std::vector<std::string> owners = owners_of(key);
    if (owners.empty() || owners.size() > 6) return "";
    std::string out = "it where it belongs: ";
    for (std::size_t i = 0; i < owners.size(); ++i)
        out += (i == 0 ? "" : i + 1 == owners.size() ? " or " : ", ") + owners[i];
    return out;
}

}  // namespace

std::string nearest(std::string_view written, const std::vector<std::string>& known) {
    std::string best;
    std::size_t least = std::max<std::size_t>(1, written.size() / 3) + 1;
    if (written.size() > 60) return best;
    for (const std::string& word : known) {
        const std::size_t d = std::min(distance(written, word), distance(lower(written), lower(word)));
        if (d < least) {
            least = d;
            best = word;
        }
    }
    return best;
}

void read_value(Context& context, const text::Node& node, Slot& slot, std::string_view table,
                std::string_view key) {
    std::visit(ValueReader{context, node, slot.info, table, key}, slot.ref);
}

namespace {

/// The fields that there are, when these are few enough to choose from, or where one of that name belongs.
std::string other_field(std::string_view key, const std::vector<std::string>& known) {
    constexpr std::size_t easily_read = 12;
    std::string elsewhere = other_place(key);
    if (known.empty() || known.size() > easily_read) return elsewhere;
    return fmt::format("{}{}{}{}", known.size() > 1 ? "one of " : "", fmt::join(known, ", "),
                       elsewhere.empty() ? "" : "; or ", elsewhere);
}

}  // namespace

void read_fields(Context& context, const text::Table& table, std::vector<Slot> slots, const std::string& path,
                 std::initializer_list<std::string_view> inner) {
    for (const text::Entry& entry : table.entries) {
        if (std::find(inner.begin(), inner.end(), entry.key) != inner.end()) continue;
        const auto slot =
            std::find_if(slots.begin(), slots.end(), [&](const Slot& s) { return s.info.key == entry.key; });
        if (slot != slots.end()) {
            read_value(context, entry.node, *slot, path, entry.key);
            continue;
        }
        std::vector<std::string> known(inner.begin(), inner.end());
        for (const Slot& s : slots) known.emplace_back(s.info.key);
        const std::string near = nearest(entry.key, known);
        if (!near.empty()) context.excused.insert(fmt::format("{}.{}", path, near));
        context.fault(
            path + "." + entry.key, fmt::format("{} has no field {}", path, entry.key),
            {{entry.key_span, ""}},
            near.empty() ? other_field(entry.key, known) : fmt::format("{}, if that was meant", near));
    }
}

}  // namespace benchfeed::plan
