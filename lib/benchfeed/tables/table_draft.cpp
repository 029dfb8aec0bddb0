#include <benchfeed/tables/table_draft.hpp>

#include <charconv>
#include <utility>

#include <benchfeed/base/quantity_text.hpp>

namespace benchfeed::tables {

std::optional<Awg> gauge_of(const std::string& word) {
    const auto read = read_quantity<Section>(word, "size");
    const auto* section = std::get_if<Section>(&read);
    return section ? section->gauge : std::nullopt;
}

namespace {

/// Digits of a cell as the file has them: the shortest that read back as the same number.
std::string number_text(double value) {
    char buffer[32];
    const auto end = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed).ptr;
    return std::string(buffer, end);
}

std::string cell_text(const DraftCell& cell, std::string_view unit) {
    if (const auto* number = std::get_if<double>(&cell))
        return unit.empty() || unit == "1" ? number_text(*number)
                                           : number_text(*number) + " " + std::string(unit);
    if (const auto* word = std::get_if<std::string>(&cell)) return *word;
    if (const auto* flag = std::get_if<bool>(&cell)) return *flag ? "yes" : "no";
    return "-";
}

/// A draft and the table that shows it. The table points into the rest, so it is never copied or moved.
struct Stored {
    explicit Stored(Draft read) : draft(std::move(read)) {
        for (const std::string& note : draft.notes) notes.push_back(kept(note));
        for (const std::string& seen : draft.seen_in) seen_in.push_back(kept(seen));
        for (const DraftColumn& c : draft.columns)
            columns.push_back({kept(c.name), kept(c.unit), Key(c.name).hash, c.grade});
        for (const DraftRow& row : draft.rows) show(row);
        for (const DraftFact& f : draft.facts)
            facts.push_back({kept(f.name), cell(f.value, f.unit), kept(cell_text(f.value, f.unit)),
                             kept(f.unit), Key(f.name).hash, f.grade});
        table = {draft.id,
                 draft.title,
                 draft.family,
                 draft.topic,
                 draft.source_key,
                 {},
                 draft.edition,
                 draft.place,
                 draft.kept_for,
                 draft.status,
                 draft.grade,
                 words,
                 notes,
                 seen_in,
                 columns,
                 draft.key_columns,
                 rows,
                 cells,
                 written,
                 facts,
                 draft.cell_grades};
    }
    Stored(const Stored&) = delete;
    Stored& operator=(const Stored&) = delete;

    Table table;

private:
    /// Place of a text among the words; what stands there already is not written again.
    Words kept(const std::string& text) {
        auto at = words.find(text);
        if (at == std::string::npos) {
            at = words.size();
            words += text;
        }
        return {static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(text.size())};
    }
    static Cell cell(const DraftCell& from, std::string_view unit) {
        if (const auto* number = std::get_if<double>(&from)) return *number;
        if (const auto* flag = std::get_if<bool>(&from)) return *flag;
        const auto* word = std::get_if<std::string>(&from);
        if (!word) return std::monostate{};
        if (unit == "AWG")
            if (const auto gauge = gauge_of(*word)) return *gauge;
        return InWords{};
    }
    void show(const DraftRow& row) {
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            cells.push_back(cell(row.cells[i], draft.columns[i].unit));
            written.push_back(kept(cell_text(row.cells[i], draft.columns[i].unit)));
        }
        std::string name;
        for (const std::size_t key : draft.key_columns)
            name += (name.empty() ? "" : ", ") + cell_text(row.cells[key], draft.columns[key].unit);
        rows.push_back({kept(name), row.grade});
    }

    Draft draft;
    std::string words;
    std::vector<Words> notes, seen_in;
    std::vector<Column> columns;
    std::vector<Row> rows;
    std::vector<Cell> cells;
    std::vector<Words> written;
    std::vector<Fact> facts;
};

}  // namespace

std::shared_ptr<const Table> shown(Draft draft) {
    const auto stored = std::make_shared<const Stored>(std::move(draft));
    return std::shared_ptr<const Table>(stored, &stored->table);
}

}  // namespace benchfeed::tables
