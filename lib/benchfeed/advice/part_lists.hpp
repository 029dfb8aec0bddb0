#pragma once
// The steps of shopping_list(), one file for each kind of part. Not for use outside this folder.
#include <benchfeed/advice/parts.hpp>

namespace benchfeed::advice {

/// It has to be bought: not of the house, not there already, no tool.
[[nodiscard]] bool is_bought(const rules::Situation& s, Index element);
/// Its cable has to be bought and cut: no cord of a tool as sold, no lead or reel that is bought whole.
[[nodiscard]] bool cable_is_bought(const rules::Situation& s, Index element);
/// A lead, strip or reel that comes whole: a reel, or a cord set with a listing mark.
[[nodiscard]] bool comes_whole(const rules::Situation& s, Index element);
/// The stock of an element's cable. Pre: it has one.
[[nodiscard]] const plan::Stock& stock_of_cable(const rules::Situation& s, Index element);
/// Lines that say the same of different places are one line.
class PartLines {
public:
    /// A line; equal ones are counted together.
    void add(PartLine line);
    /// All lines, in the order in which they came.
    [[nodiscard]] std::vector<PartLine> take() { return std::move(lines_); }

private:
    std::vector<PartLine> lines_;
};

[[nodiscard]] std::vector<CableLine> cable_lines(const rules::Situation& s, const Allowances& allowances,
                                                 const SoldLengths* sold);
void add_plugs(const rules::Situation& s, PartLines& lines);
void add_outlets(const rules::Situation& s, PartLines& lines);
void add_switches(const rules::Situation& s, PartLines& lines);
void add_devices(const rules::Situation& s, PartLines& lines);
void add_boxes(const rules::Situation& s, PartLines& lines);
void add_enclosures(const rules::Situation& s, PartLines& lines);
void add_terminals(const rules::Situation& s, const Allowances& allowances, PartLines& lines);
void add_ends(const rules::Situation& s, const Allowances& allowances, PartLines& lines);
void add_entries(const rules::Situation& s, PartLines& lines);
void add_fixing(const rules::Situation& s, const Allowances& allowances, PartLines& lines);
void add_labels(const rules::Situation& s, PartLines& lines);

}  // namespace benchfeed::advice
