#include <benchfeed/text/toml.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <sstream>

#include <benchfeed/text/scan.hpp>
#include <benchfeed/text/toml_wrapper.hpp>

namespace benchfeed::text {

namespace {

Span span_of(const toml::source_region& region, std::uint32_t line_shift) {
    return {region.begin.line + line_shift, region.begin.column, region.end.line + line_shift,
            region.end.column};
}

Node node_of(const toml::node& from, std::uint32_t shift);

Table table_of(const toml::table& from, std::uint32_t shift) {
    // The parser keeps keys sorted; a plan keeps the order of the file.
    std::vector<std::pair<const toml::key*, const toml::node*>> in_order;
    in_order.reserve(from.size());
    for (const auto& [key, value] : from) in_order.emplace_back(&key, &value);
    std::stable_sort(in_order.begin(), in_order.end(), [](const auto& a, const auto& b) {
        return a.first->source().begin < b.first->source().begin;
    });
    Table table;
    table.is_inline = from.is_inline();
    table.entries.reserve(from.size());
    for (const auto& [key, value] : in_order)
        table.entries.push_back(
            {std::string(key->str()), span_of(key->source(), shift), node_of(*value, shift)});
    return table;
}

Node node_of(const toml::node& from, std::uint32_t shift) {
    Node node;
    node.span = span_of(from.source(), shift);
    from.visit([&](const auto& value) {
        using T = std::decay_t<decltype(value)>;
        if constexpr (toml::is_table<T>) {
            node.value = table_of(value, shift);
        } else if constexpr (toml::is_array<T>) {
            Array array;
            for (const auto& item : value) array.items.push_back(node_of(item, shift));
            node.value = std::move(array);
        } else if constexpr (toml::is_string<T>) {
            node.value = value.get();
        } else if constexpr (toml::is_integer<T>) {
            node.value = value.get();
        } else if constexpr (toml::is_floating_point<T>) {
            node.value = value.get();
        } else if constexpr (toml::is_boolean<T>) {
            node.value = value.get();
        } else {
            std::ostringstream written;
            written << value.get();
            node.value = DateTime{written.str()};
        }
    });
    return node;
}

struct Piece {
    std::optional<Table> table;
    std::optional<Diagnostic> problem;
};

/// Plain words for what the parser says in its own.
std::string plain_words(std::string message) {
    if (message.find("unescaped control characters") != std::string::npos)
        return "the text is not closed: a quote is missing";
    constexpr std::string_view head = "Error while parsing ";
    if (message.starts_with(head)) message = "TOML syntax error in " + message.substr(head.size());
    return message;
}

/// What a person probably meant, by what the parser says and what stands there; "" where nothing is likely.
std::string likely_meant(std::string_view message, std::string_view line, std::string_view there) {
    const auto says = [&](std::string_view words) { return message.find(words) != std::string_view::npos; };
    const auto word_end = std::min(
        there.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_-"), there.size());
    const std::string_view word = there.substr(0, word_end);
    const std::size_t equals = line.find('=');
    if (line.find("\u201c") != std::string_view::npos || line.find("\u201d") != std::string_view::npos ||
        line.find("\u201e") != std::string_view::npos)
        return "plain quotes: \"text\"";
    if (word == "True" || word == "False") return word == "True" ? "true" : "false";
    if (says("saw '/'") && there.starts_with("//")) return "# before a remark";
    if (says("could not determine value type"))
        return there.starts_with('=') ? "one =" : word.empty() ? "" : fmt::format("\"{}\", in quotes", word);
    if (says("expected value, saw")) return "a value behind the =";
    if (says("expected a comment or whitespace") && equals != std::string_view::npos)
        return "one value, in quotes where it is a text, then nothing or a # remark";
    if (says("expected '=', saw")) return "name = value";
    if (says("table header: expected ']'")) return line.starts_with("[[") ? "[[name]]" : "[kind.NAME]";
    if (says("dangling comma")) return "no comma before the }";
    if (says("inline table: expected key or closing '}', saw '\\n'")) return "all from { to } on one line";
    if (says("expected comma or closing '}'")) return "a comma between two fields";
    if (says("expected comma or closing ']'")) return "a comma between two names, each in quotes";
    if (says("leading zeroes")) return "the number without zeros before it";
    if (says("not representable in 64 bits")) return "a smaller number";
    if (says("escape sequence")) return "two backslashes for one, or the text in single quotes";
    if (says("unicode surrogates")) return "the character itself";
    if (says("as dotted key-value pair")) return "the field inside the table that is there already";
    if (says("root table: expected"))
        return there.starts_with('{')   ? "TOML instead of JSON: format = 1, then [plan]"
               : there.starts_with('=') ? "a name before the ="
                                        : "name = value, [kind.NAME], or # before a remark";
    return "";
}

/// Parse one stretch of lines whose first stands `shift` lines down the file.
Piece parse_piece(const Document& document, std::string_view piece, std::uint32_t shift) {
    const auto first_line = shift + 1;
    try {
        const toml::table parsed = toml::parse(piece, std::string_view{});
        return {table_of(parsed, shift), std::nullopt};
    } catch (const toml::parse_error& error) {
        Diagnostic problem;
        Span span = span_of(error.source(), shift);
        // An error at the end of a line or file has no width.
        if (span.end_line == span.line && span.end_column <= span.column) span.end_column = span.column + 1;
        problem.message = plain_words(std::string(error.description()));
        const std::string_view line = document.line(span.line);
        problem.help = likely_meant(problem.message, line, line.substr(document.byte_of(line, span.column)));
        problem.labels.push_back({span, ""});
        return {std::nullopt, std::move(problem)};
    } catch (const ParserGaveUp&) {
        Diagnostic problem;
        problem.message = "this part is not valid TOML";
        problem.labels.push_back({whole_line(document, first_line), "somewhere from here to the next table"});
        problem.help = "[kind.NAME] for a table, key = value below it, \"text in quotes\"";
        return {std::nullopt, std::move(problem)};
    }
}

/// Join tables of blocks that were parsed alone; a header that stands twice is told with both places.
void merge(Table& into, Table&& from, Diagnostics& problems, const std::string& path) {
    for (Entry& entry : from.entries) {
        const auto there = std::find_if(into.entries.begin(), into.entries.end(),
                                        [&](const Entry& e) { return e.key == entry.key; });
        if (there == into.entries.end()) {
            into.entries.push_back(std::move(entry));
            continue;
        }
        auto* old_table = std::get_if<Table>(&there->node.value);
        auto* new_table = std::get_if<Table>(&entry.node.value);
        auto* old_array = std::get_if<Array>(&there->node.value);
        auto* new_array = std::get_if<Array>(&entry.node.value);
        const std::string here = path.empty() ? entry.key : path + "." + entry.key;
        const bool kind_table = path.empty();  // [kind.NAME] of one kind stands in many blocks
        if (old_array && new_array) {
            for (Node& item : new_array->items) old_array->items.push_back(std::move(item));
        } else if (old_table && new_table && (kind_table || there->node.span == entry.node.span)) {
            merge(*old_table, std::move(*new_table), problems, here);
        } else {
            problems.push_back({here,
                                fmt::format("{} is written twice", here),
                                {{entry.key_span, "the second"}, {there->key_span, "the first"}},
                                "it once"});
        }
    }
}

/// The parser gives only the second place of a doubled key or table: find the first in the text.
void add_first_place(const Document& document, Diagnostic& problem) {
    const auto quote = problem.message.find("redefine existing");
    if (quote == std::string::npos || problem.labels.empty()) return;
    const Span second = problem.labels.front().span;
    const auto key = quoted_word(problem.message);
    if (!key) return;
    if (const auto first = first_place_of(document, *key, second)) {
        problem.message = fmt::format("{} is written twice", *key);
        problem.labels.front().text = "the second";
        problem.labels.push_back({*first, "the first"});
        problem.help = "it once";
    }
}

void sort_by_place(Diagnostics& problems) {
    std::stable_sort(problems.begin(), problems.end(), [](const Diagnostic& a, const Diagnostic& b) {
        const auto at = [](const Diagnostic& d) { return d.labels.empty() ? Span{} : d.labels.front().span; };
        return std::pair(at(a).line, at(a).column) < std::pair(at(b).line, at(b).column);
    });
}

}  // namespace

Parsed parse_toml(const Document& document, const Limits& limits) {
    Parsed parsed;
    parsed.problems = scan(document, limits);
    if (!parsed.problems.empty()) return parsed;  // what breaks a limit is not handed to the parser
    Piece whole = parse_piece(document, document.content(), 0);
    if (whole.table) {
        parsed.root = std::move(*whole.table);
        return parsed;
    }
    for (const Block& block : blocks_of(document)) {
        Piece piece = parse_piece(document, block.text, block.first_line - 1);
        if (piece.table) merge(parsed.root, std::move(*piece.table), parsed.problems, "");
        if (piece.problem && parsed.problems.size() < limits.problems)
            parsed.problems.push_back(std::move(*piece.problem));
    }
    // Blocks that read well alone but not together: what the whole said is all there is to say.
    if (parsed.problems.empty()) parsed.problems.push_back(std::move(*whole.problem));
    for (Diagnostic& problem : parsed.problems) add_first_place(document, problem);
    sort_by_place(parsed.problems);
    return parsed;
}

std::string_view kind_name(const Node& node) {
    constexpr std::string_view names[] = {"a text", "a whole number", "a number", "true or false",
                                          "a date", "a list",         "a table"};
    return names[node.value.index()];
}

}  // namespace benchfeed::text
