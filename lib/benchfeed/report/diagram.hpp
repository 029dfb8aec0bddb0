#pragma once
// The one-line diagram: who feeds whom, as a tree of rows that is read from the supply to the tools.
#include <string>
#include <string_view>
#include <vector>

#include <benchfeed/advice/schedule.hpp>
#include <benchfeed/report/drawn.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::report {

using plan::Index;

/// The plain sign of an element, in the manner of IEC 60617.
enum class Sign : std::uint8_t {
    source,
    breaker,
    fuse,
    residual,
    outlet,
    box,
    opener,
    motor,
    lamp,
    heater,
    other
};
inline constexpr double sign_field = 5;  ///< mm: signs are drawn in a square of this
/// Strokes of a sign in its square; `poles` of an opener or a breaker, one stroke for each; `residual` adds
/// the ring of a residual current device.
[[nodiscard]] std::vector<Drawn> sign_strokes(Sign sign, int poles = 1, bool residual = false);
/// A feed of so many conductors: a line with a stroke across it and their number.
[[nodiscard]] std::vector<Drawn> core_stroke(int conductors, double length);

/// A load that is plugged in and feeds nothing itself.
struct PluggedLoad {
    std::string amps, name;  ///< "7 A", "saw"
    Sign sign = Sign::other;
};
/// One element: what it is, how it is fed, what flows there.
struct DiagramNode {
    Index element = plan::nowhere;
    Sign sign = Sign::other;
    int poles = 1;          ///< that an opener or device opens
    bool residual = false;  ///< it opens on a residual current as well
    int conductors = 0;     ///< of its feed, the protective one included; 0: mounted at the same place
    std::string name;       ///< words for people, its key before them: "O1 saw outlet"
    std::string kind;       ///< "switch": where several elements share a row
    std::string feed;       ///< "5 m H07RN-F 3 x 1.5 mm2"; "" where it is mounted at the same place
    std::vector<PluggedLoad> loads;
    std::string figure;    ///< "12.3 of 16 A", of its weakest part in the worst set; "" where nothing flows
    double share = 0;      ///< of that part
    bool weakest = false;  ///< the weakest of the whole plan
    std::vector<std::size_t> children;
};

/// The tree of elements.
struct Diagram {
    std::vector<DiagramNode> nodes;  ///< parents before children
    std::vector<std::size_t> roots;  ///< supplies
};

/// From the connection schedule: its runs are the lines of the diagram; what stands already (from the panel
/// to the wall outlet) is added in front, and what is plugged in behind.
[[nodiscard]] Diagram diagram_of(const rules::Situation& situation, const rules::Judgement& judgement,
                                 const advice::Schedule& schedule);
/// "O1", "O2" for outlets of the bench in plan order; "" for everything else.
[[nodiscard]] std::vector<std::string> outlet_keys(const rules::Situation& situation);

/// A bar beside a row: what flows, of what may flow.
struct DiagramFigure {
    std::string words;  ///< "switch 7 of 10 A"
    double share = 0;
    bool over = false;  ///< more than its rating
    bool weakest = false;
};
/// A branch, or one element of the way that branches hang on.
struct DiagramRow {
    std::vector<std::size_t> nodes;  ///< from the supply outwards
    std::size_t level = 0;
    std::vector<bool> passing;  ///< for each level before that of its line: a line to later rows passes by
    bool first = false;         ///< a supply: nothing above it
    bool in_line = false;       ///< it follows the row above it at the same level
    bool more = false;          ///< a later row hangs on the same line
    bool feeds = false;         ///< rows hang below it
    std::vector<DiagramFigure> figures;  ///< the greatest share, and everything that is over its rating
};
/// Each element once, parents before children; the last elements of a branch share its row.
[[nodiscard]] std::vector<DiagramRow> diagram_rows(const Diagram& diagram);
/// "saw switch, O1 saw outlet: 7 A saw".
[[nodiscard]] std::string row_words(const Diagram& diagram, const DiagramRow& row);
/// "2 m H05VV-F 3 x 1.5 mm2", of each of its elements that has a feed of its own.
[[nodiscard]] std::string row_feeds(const Diagram& diagram, const DiagramRow& row);
/// "131 % OVER", "over 10 times: OVER".
[[nodiscard]] std::string over_words(double share);
/// Signs of a row beside each other, on a line.
struct RowSigns {
    std::vector<Drawn> strokes;
    double width = 0;
};
[[nodiscard]] RowSigns row_signs(const Diagram& diagram, const DiagramRow& row);
/// A bar of that width: hatched up to the rating line, black beyond it.
[[nodiscard]] std::vector<Drawn> share_bar(double share, double width, double height);
/// A drawn sign and its name.
struct SignName {
    std::vector<Drawn> strokes;
    std::string name;
};
/// The signs that a diagram uses, named.
[[nodiscard]] std::vector<SignName> legend(const Diagram& diagram);
/// The same tree in words, for a terminal: each element under what feeds it.
[[nodiscard]] std::string diagram_text(const Diagram& diagram, std::size_t width);

/// A contact, a coil or a terminal in a control circuit, and what may stand beside it.
struct ControlStep {
    /// `opens`: closed at rest; `closes`: open at rest.
    enum class Kind : std::uint8_t { terminal, opens, closes, coil } kind = Kind::terminal;
    std::string words;   ///< "stop button", "terminal L"
    std::string beside;  ///< a contact that bridges it: "holding contact"; or nothing
};
/// What has to be closed so that a contactor pulls in, from one conductor to the other.
struct ControlCircuit {
    std::string name;
    std::vector<ControlStep> steps;
};
/// The circuit drawn to a width: strokes from left to right that fold at the edge.
struct DrawnCircuit {
    std::vector<Drawn> things;
    double height = 0;
};
[[nodiscard]] DrawnCircuit draw(const ControlCircuit& circuit, double width, double type);

}  // namespace benchfeed::report
