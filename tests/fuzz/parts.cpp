// A list of sold lengths, a NUL and the text of a plan: the shopping list in one format for each input.
#include <benchfeed/advice/parts.hpp>

#include <numeric>

#include <benchfeed/report/parts_list.hpp>
#include "door.hpp"

using namespace benchfeed;

namespace {

/// Every piece is in one pack or too long for all; no pack holds more than it is long.
void must_add_up(const advice::CableLine& line) {
    if (!line.packs || !line.packs->searched) return;
    std::vector<int> cut(line.pieces.size());
    for (const advice::Pack& pack : line.packs->packs) {
        Length used{};
        for (const std::size_t piece : pack.pieces) {
            ++cut.at(piece);
            used += *line.cuts.at(line.pieces.at(piece)).cut;
        }
        fuzz::must(in(unit::metre, used) <= in(unit::metre, pack.sold) + 1e-6);
    }
    for (const std::size_t piece : line.packs->too_long) ++cut.at(piece);
    fuzz::must(std::all_of(cut.begin(), cut.end(), [](int times) { return times == 1; }));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes = fuzz::text_of(data, size);
    const auto texts =
        fuzz::split(bytes).value_or(std::pair{std::string_view("others = [\"5 m\", \"10 m\"]"), bytes});
    const text::Document list("a list", std::string(texts.first));
    const auto sold = advice::read_sold_lengths(list);
    if (const auto* problems = std::get_if<Diagnostics>(&sold)) {
        fuzz::must(!problems->empty());
        fuzz::must_be_printable(list, *problems);
        return 0;
    }
    const auto result =
        check(text::Document("a plan", std::string(texts.second)), fuzz::catalogue(), fuzz::words());
    const auto* judged = std::get_if<Judged>(&result);
    if (!judged) return 0;
    const auto s = judged->situation();
    const auto shopping =
        advice::shopping_list(s, judged->judgement(), {.sold = &std::get<advice::SoldLengths>(sold)});
    for (const advice::CableLine& line : shopping.cables) must_add_up(line);
    fuzz::must(shopping.warning.empty() == !fails(judged->judgement(), FailOn::fail));
    switch (std::accumulate(data, data + size, std::size_t{0}) % 3) {
        case 0:
            fuzz::must_be_clean(report::parts_text(s, shopping, {}, {80, false}));
            break;
        case 1: {
            std::string rows = report::parts_csv(s, shopping, {});
            std::erase(rows, '\r');  // lines end in CR LF
            fuzz::must_be_clean(rows);
            break;
        }
        default:
            fuzz::must_be_clean(report::parts_json(s, shopping, {}, {"fuzz", "0"}));
            break;
    }
    return 0;
}
