// What is wrong between tables: looked at before any constant is written.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "make_names.hpp"

namespace benchfeed {

using tables::Draft;
using tables::DraftCell;
using tables::DraftColumn;
using tables::DraftFact;

namespace {

void fault(Diagnostics& faults, const Draft& draft, std::string message) {
    faults.push_back({draft.id, draft.id + ": " + std::move(message), {}, ""});
}

std::string word_of(const DraftCell& cell) {
    const auto* word = std::get_if<std::string>(&cell);
    return word ? *word : "-";
}

constexpr std::string_view row_of = "row of ";

void look_at_row_names(const Draft& draft, std::size_t column, const Drafts& drafts, Diagnostics& faults) {
    const std::string id = draft.columns[column].names.substr(row_of.size());
    const auto table = drafts.find(id);
    if (table == drafts.end())
        return fault(faults, draft, fmt::format("{} is to be a table and is none", id));
    for (const auto& row : draft.rows) {
        const std::string word = word_of(row.cells[column]);
        const auto& there = table->second.rows;
        if (word != "-" && std::none_of(there.begin(), there.end(),
                                        [&](const auto& one) { return word_of(one.cells.front()) == word; }))
            fault(faults, draft, fmt::format("table {} has no row {}", id, word));
    }
}

void look_at_names(const Draft& draft, const Drafts& drafts, Diagnostics& faults) {
    for (std::size_t c = 0; c < draft.columns.size(); ++c) {
        const DraftColumn& column = draft.columns[c];
        if (column.names.empty()) continue;
        if (column.names.starts_with(row_of)) {
            look_at_row_names(draft, c, drafts, faults);
            continue;
        }
        const auto table = table_column(draft, column);
        if (!table && column.names != "table")
            fault(faults, draft,
                  fmt::format("column {} names \"{}\": write table, fact of COLUMN, or row of TABLE",
                              column.name, column.names));
        std::set<std::string_view> quantities;
        for (std::size_t row = 0; row < draft.rows.size(); ++row) {
            const std::string word = word_of(draft.rows[row].cells[c]);
            if (word == "-") continue;
            if (!table && !drafts.contains(word))
                fault(faults, draft, fmt::format("{} is to be a table and is none", word));
            if (!table) continue;
            const DraftFact* fact = fact_named(draft, row, *table, c, drafts);
            if (!fact)
                fault(faults, draft,
                      fmt::format("table {} has no fact {}", word_of(draft.rows[row].cells[*table]), word));
            else
                quantities.insert(quantity_of(fact->unit));
        }
        if (table && (quantities.size() != 1 || quantities.contains("")))
            fault(faults, draft,
                  fmt::format("the facts that column {} names are no one quantity", column.name));
    }
}

void look_at_rows(const Draft& draft, const Drafts& drafts, Diagnostics& faults) {
    if (draft.for_each.empty()) return;
    const auto other = drafts.find(draft.for_each);
    if (other == drafts.end())
        return fault(faults, draft, fmt::format("for_each: there is no table {}", draft.for_each));
    for (const auto& wanted : other->second.rows)
        if (std::none_of(draft.rows.begin(), draft.rows.end(),
                         [&](const auto& row) { return row.cells.front() == wanted.cells.front(); }))
            fault(
                faults, draft,
                fmt::format("has no row for {} of table {}", word_of(wanted.cells.front()), draft.for_each));
}

/// No two of them make one name.
void look_at_words(const Draft& draft, std::string_view what, const std::vector<std::string>& words,
                   Diagnostics& faults) {
    std::set<std::string> names;
    for (const std::string& word : words)
        if (!names.insert(name_of(word)).second)
            fault(faults, draft, fmt::format("{} {} makes a name that another makes too", what, word));
}

}  // namespace

Diagnostics faults_between(const Drafts& drafts) {
    Diagnostics faults;
    for (const auto& [id, draft] : drafts) {
        look_at_names(draft, drafts, faults);
        look_at_rows(draft, drafts, faults);
        std::vector<std::string> columns, facts;
        for (const Shown& shown : columns_of(draft)) {
            columns.push_back(shown.column->name);
            if (shown.column->closed) look_at_words(draft, "word", shown.words, faults);
        }
        for (const DraftFact& fact : draft.facts) facts.push_back(fact.name);
        look_at_words(draft, "column", columns, faults);
        look_at_words(draft, "fact", facts, faults);
    }
    return faults;
}

}  // namespace benchfeed
