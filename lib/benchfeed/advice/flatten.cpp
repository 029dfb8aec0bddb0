#include <benchfeed/advice/flatten.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include <benchfeed/advice/edit_text.hpp>
#include <benchfeed/plan/fields.hpp>
#include <benchfeed/rules/summary.hpp>
#include <benchfeed/text/beside.hpp>

namespace benchfeed::advice {

namespace {

using text::Table;

/// As written; lists over several lines on one.
std::string written(const text::Document& document, const Span& span) {
    if (span.line == span.end_line) return std::string(document.slice(span));
    std::string out(document.slice({span.line, span.column, span.line, 1u << 20}));
    for (std::uint32_t line = span.line + 1; line <= span.end_line; ++line) {
        std::string_view text = document.line(line);
        if (line == span.end_line) text = text.substr(0, document.byte_of(text, span.end_column));
        const auto from = text.find_first_not_of(' ');
        // A remark inside a list would swallow what follows on the same line.
        if (from != std::string_view::npos && text[from] != '#') out += " " + std::string(text.substr(from));
    }
    return out;
}

/// The remark behind a value on its line, with a space before it; "" for none.
std::string remark(const text::Document& document, const Span& span) {
    std::string_view rest = document.line(span.end_line);
    rest = rest.substr(std::min(document.byte_of(rest, span.end_column), rest.size()));
    const auto from = rest.find_first_not_of(" \t");
    return from == std::string_view::npos || rest[from] != '#' ? "" : "  " + std::string(rest.substr(from));
}

/// A value; a table with a header of its own as one in braces.
std::string value_of(const text::Document& document, const text::Entry& entry) {
    const auto* table = entry.node.as<Table>();
    if (!table || table->is_inline) return written(document, entry.node.span);
    std::string out;
    for (const text::Entry& inner : table->entries)
        out += (out.empty() ? "" : ", ") + inner.key + " = " + value_of(document, inner);
    return "{ " + out + " }";
}

/// Remarks that stand directly above a line.
std::string remarks_above(const text::Document& document, std::uint32_t line) {
    const auto is_remark = [&](std::uint32_t number) {
        const std::string_view text = document.line(number);
        const auto from = text.find_first_not_of(" \t");
        return from != std::string_view::npos && text[from] == '#';
    };
    std::uint32_t first = line;
    while (first > 1 && is_remark(first - 1)) --first;
    std::string out;
    for (; first < line; ++first) out += std::string(document.line(first)) + "\n";
    return out;
}

class Flattening {
public:
    Flattening(const text::Document& document, const plan::Plan& plan)
        : document_(document), plan_(plan), own_(text::parse_toml(document)) {}

    std::string text() {
        remove_common();
        for (const plan::Element& e : plan_.elements)
            if (e.like.known() && !stands_beside(e.header)) replace_like(e.path(), *e.like);
        for (const plan::Stock& s : plan_.stocks)
            if (s.like.known() && !stands_beside(s.header)) replace_like(s.path(), stock_path(*s.like));
        std::string tail = local() + taken();
        std::string out = with_edits();
        if (!tail.empty() && !out.empty() && out.back() != '\n') out += '\n';
        return out + tail;
    }

private:
    /// A stretch of the plan's text replaced: from a place to a place, or whole lines.
    struct Replaced {
        Span span;
        std::string text;
        bool lines = false;
    };

    static std::string stock_path(const std::string& like) {
        return like.starts_with("stock.") ? like : "stock." + like;
    }
    [[nodiscard]] const text::Entry* find_own(const std::string& path) const {
        const auto dot = path.find('.');
        const text::Entry* kind = own_.root.find(path.substr(0, dot));
        const auto* table = kind ? kind->node.as<Table>() : nullptr;
        return table ? table->find(path.substr(dot + 1)) : nullptr;
    }
    [[nodiscard]] const text::Entry* find_beside(const std::string& path) const {
        for (const auto& text : document_.beside())
            if (const auto it = text->named.find(path); it != text->named.end()) return it->second;
        return nullptr;
    }
    /// The key is the first thing on its line, so that the line can go.
    [[nodiscard]] bool begins_its_line(const Span& key) const {
        const std::string_view text = document_.line(key.line);
        return text.find_first_not_of(" \t") == document_.byte_of(text, key.column);
    }

    void remove_common() {
        const text::Entry* common = find_own("plan.common");
        if (!common) return;
        if (begins_its_line(common->key_span))
            edits_.push_back({{common->key_span.line, 1, common->node.span.end_line, 1}, "", true});
        else
            edits_.push_back({common->node.span, "[]", false});
    }

    /// "key = value" of what a pattern has and `table` does not say itself.
    struct Field {
        std::string text, remark;
    };
    [[nodiscard]] std::vector<Field> fields_of(const text::Entry& pattern, const Table& table) const {
        std::vector<Field> list;
        for (const text::Entry& field : pattern.node.as<Table>()->entries) {
            if (field.key == "from" || field.key == "label" || field.key == "like" || table.find(field.key))
                continue;
            list.push_back(
                {field.key + " = " + value_of(document_, field), remark(document_, field.node.span)});
        }
        return list;
    }

    void replace_like(const std::string& path, const std::string& like) {
        const text::Entry* pattern = find_own(like) ? nullptr : find_beside(like);
        const text::Entry* own = find_own(path);
        const auto* table = own ? own->node.as<Table>() : nullptr;
        const text::Entry* field = table ? table->find("like") : nullptr;
        if (!pattern || !field) return;
        if (kept(like)) return;  // it is added as an element of its own
        std::string text;
        if (table->is_inline) {
            for (const Field& one : fields_of(*pattern, *table))
                text += (text.empty() ? "" : ", ") + one.text;
            edits_.push_back({{field->key_span.line, field->key_span.column, field->node.span.end_line,
                               field->node.span.end_column},
                              text,
                              false});
            return;
        }
        // "load.saw.like = ..." has its path before the key.
        const std::string_view line = document_.line(field->key_span.line);
        const std::string before(line.substr(0, document_.byte_of(line, field->key_span.column)));
        for (const Field& one : fields_of(*pattern, *table)) text += before + one.text + one.remark + "\n";
        edits_.push_back({{field->key_span.line, 1, field->node.span.end_line, 1}, text, true});
    }

    [[nodiscard]] bool kept(const std::string& path) const {
        const auto is = [&](const auto& one) { return one.path() == path; };
        return std::any_of(plan_.elements.begin(), plan_.elements.end(), is) ||
               std::any_of(plan_.stocks.begin(), plan_.stocks.end(), is);
    }

    /// An element or stock of a common file as a table of its own.
    [[nodiscard]] std::string block(const std::string& path) const {
        const text::Entry* entry = find_beside(path);
        if (!entry) return "";
        const Span header = entry->node.span.nowhere() ? entry->key_span : entry->node.span;
        const text::Document::Place place = document_.place(header);
        std::string out = "\n" + remarks_above(place.document, place.span.line) + "[" + path + "]\n";
        const Table& table = *entry->node.as<Table>();
        const text::Entry* like = table.find("like");
        const auto* name = like ? like->node.as<std::string>() : nullptr;
        std::string of = name ? *name : "";
        if (path.starts_with("stock.") && name) of = stock_path(of);
        const text::Entry* pattern = name && !kept(of) ? find_beside(of) : nullptr;
        for (const text::Entry& field : table.entries)
            if (&field != like || !pattern)
                out += field.key + " = " + value_of(document_, field) + remark(document_, field.node.span) +
                       "\n";
        if (pattern)
            for (const Field& field : fields_of(*pattern, table)) out += field.text + field.remark + "\n";
        return out;
    }

    [[nodiscard]] std::string taken() const {
        std::string out;
        for (const plan::Stock& s : plan_.stocks)
            if (stands_beside(s.header)) out += block(s.path());
        for (const plan::Element& e : plan_.elements)
            if (stands_beside(e.header)) out += block(e.path());
        return out;
    }

    /// The limits of common files that are the tighter ones, in the plan's own [local] or in a new one.
    std::string local() {
        std::string lines;
        const text::Entry* own = own_.root.find("local");
        const auto* table = own ? own->node.as<Table>() : nullptr;
        plan::Local effective = plan_.local;
        for (const plan::Slot& slot : plan::slots(effective)) {
            const Span span = plan::span_of(slot.ref);
            if (!plan::is_written(slot.ref) || !stands_beside(span)) continue;
            const std::string value = written(document_, span), key(slot.info.key);
            const text::Entry* there = table ? table->find(key) : nullptr;
            if (there)
                edits_.push_back({there->node.span, value, false});
            else if (table && table->is_inline)
                edits_.push_back({{own->node.span.end_line, own->node.span.end_column - 1,
                                   own->node.span.end_line, own->node.span.end_column - 1},
                                  fmt::format("{}{} = {} ", table->entries.empty() ? "" : ", ", key, value),
                                  false});
            else
                lines +=
                    fmt::format("{} = {}{}\n", key, value,
                                key == "source" ? "" : fmt::format("  # by {}", plan_.local.source_of(span)));
        }
        if (lines.empty()) return "";
        if (!table) return "\n[local]\n" + lines;
        // Behind the last of its fields, where a table header or the end of the text follows.
        const Span last = table->entries.back().node.span;
        const bool at_end = last.end_line >= document_.line_count();
        edits_.push_back({{last.end_line + 1, 1, last.end_line + 1, 1}, (at_end ? "\n" : "") + lines, false});
        return "";
    }

    [[nodiscard]] std::size_t offset(std::uint32_t line, std::uint32_t column) const {
        if (line > document_.line_count()) return document_.content().size();
        const std::string_view text = document_.line(line);
        return static_cast<std::size_t>(text.data() - document_.content().data()) +
               document_.byte_of(text, column);
    }
    [[nodiscard]] std::string with_edits() {
        std::sort(edits_.begin(), edits_.end(), [](const Replaced& a, const Replaced& b) {
            return std::pair(a.span.line, a.span.column) > std::pair(b.span.line, b.span.column);
        });
        std::string out = document_.content();
        for (const Replaced& edit : edits_) {
            const std::size_t from = offset(edit.span.line, edit.span.column);
            const std::size_t to = edit.lines ? offset(edit.span.end_line + 1, 1)
                                              : offset(edit.span.end_line, edit.span.end_column);
            out.replace(from, to - from, edit.text);
        }
        return out;
    }

    const text::Document& document_;
    const plan::Plan& plan_;
    text::Parsed own_;
    std::vector<Replaced> edits_;
};

/// What is said of every place, by names.
std::vector<std::string> said(const plan::Plan& plan, const rules::Judgement& judgement) {
    std::vector<std::string> list;
    for (const rules::Outcome& o : judgement.outcomes)
        list.push_back(fmt::format("{}/{}/{}/{}/{}/{}/{}", rules::registry()[o.rule].id,
                                   rules::path_of(plan, o.at), rules::words(o.part),
                                   rules::set_name(plan, o.set), rules::words(o.verdict), to_text(o.value),
                                   to_text(o.edge)));
    std::sort(list.begin(), list.end());
    return list;
}

}  // namespace

bool judged_alike(const plan::Plan& one, const rules::Judgement& of_one, const plan::Plan& other,
                  const rules::Judgement& of_other) {
    return said(one, of_one) == said(other, of_other);
}

std::string flattened(const text::Document& document, const plan::Plan& plan) {
    return Flattening(document, plan).text();
}

}  // namespace benchfeed::advice
