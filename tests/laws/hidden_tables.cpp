// One table of the catalogue hidden at a time, and every plan that asks for it judged again: the whole table,
// then one half of its rows and the other. A figure that is not there must never turn a fail into a pass, nor
// end the program. What the build makes sure of (facts, and rows that an enumeration names) is always there.
// A plan that no longer fails and asks instead, for something that was judged before, is as it should be; one
// that asks nothing new passes. What passes today stands in hidden_tables.txt, which may only shrink:
// BENCHFEED_APPROVE=1 strikes off what no longer happens.
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <sys/wait.h>
#include <unistd.h>

#include <map>
#include <memory>
#include <set>

#include <benchfeed/tables/typed.hpp>

#include "plans/expectations.hpp"
#include "support/approved.hpp"
#include "support/rounds.hpp"

namespace {

/// What of the hidden table is not there.
enum class Hides : std::uint8_t { all, even_rows, odd_rows };

std::string hidden;  ///< id of the table of which something is not there
Hides hides = Hides::all;
std::set<std::string, std::less<>> asked{};  ///< ids that were asked for

}  // namespace

// In place of the library's own.
namespace benchfeed::tables {

namespace {

/// A table with some of its rows.
struct Thinned {
    std::vector<Row> rows;
    std::vector<Cell> cells;
    std::vector<Words> written;
    std::vector<CellGrade> grades;
    Table table;

    Thinned(const Table& whole, Hides what) : table(whole) {
        for (std::size_t row = 0; row < whole.rows.size(); ++row) {
            if (what == Hides::all || (row % 2 == 1) == (what == Hides::odd_rows)) continue;
            for (const CellGrade& grade : whole.cell_grades)
                if (grade.row == row) grades.push_back({rows.size(), grade.column, grade.grade});
            rows.push_back(whole.rows[row]);
            const std::size_t from = row * whole.columns.size(), to = from + whole.columns.size();
            for (std::size_t cell = from; cell < to; ++cell) {
                cells.push_back(whole.cells[cell]);
                written.push_back(whole.cells_written[cell]);
            }
        }
        table.rows = rows;
        table.cells = cells;
        table.cells_written = written;
        table.cell_grades = grades;
    }
};

const Table* there(std::string_view id) {
    for (const Table& table : all())
        if (table.id == id) return &table;
    return nullptr;
}
const Table& thinned(const Table& whole) {
    static std::map<std::pair<std::string_view, Hides>, std::unique_ptr<Thinned>> kept;
    auto& one = kept[{whole.id, hides}];
    if (!one) one = std::make_unique<Thinned>(whole, hides);
    return one->table;
}

}  // namespace

const Table* Catalogue::table(Key id) const {
    asked.emplace(id.text);
    const Table* whole = there(id.text);
    if (!whole || id.text != hidden) return whole;
    return hides == Hides::all ? nullptr : &thinned(*whole);
}
const Table& sure(const Catalogue&, Key id) {
    asked.emplace(id.text);
    return *there(id.text);
}
const Table& searched(const Catalogue& tables, Key id) {
    const Table& whole = sure(tables, id);
    return id.text == hidden ? thinned(whole) : whole;
}
std::vector<std::string_view> Catalogue::ids() const {
    std::vector<std::string_view> ids;
    for (const Table& table : all()) ids.push_back(table.id);
    return ids;
}

}  // namespace benchfeed::tables

using namespace benchfeed;

namespace {

const tables::Catalogue catalogue;

/// What is said of a plan.
struct Said {
    bool fails = false;
    std::set<std::string> questions;  ///< rule, place, part and set of what cannot be judged
    bool endless = false;  ///< a figure is infinite: something was divided by a row that is not there
};

struct Plan {
    std::string name;
    std::unique_ptr<text::Document> document;
    std::set<std::string, std::less<>> tables;  ///< that it asks for
    Said said;
};

/// Nothing: it cannot be read.
std::optional<Said> said_now(const text::Document& document) {
    const auto answer = check(document, catalogue);
    const auto* judged = std::get_if<Judged>(&answer);
    if (!judged) return std::nullopt;
    Said said;
    said.fails = fails(judged->judgement(), FailOn::fail);
    for (const rules::Outcome& o : judged->judgement().outcomes) {
        said.endless = said.endless || std::isinf(number(o.value)) || std::isinf(number(o.edge));
        if (o.verdict == rules::Verdict::cannot_judge && o.accepted == plan::nowhere)
            said.questions.insert(fmt::format("{} {} {} {}", rules::registry()[o.rule].id,
                                              rules::path_of(judged->plan(), o.at), rules::words(o.part),
                                              rules::set_name(judged->plan(), o.set)));
    }
    return said;
}

/// It failed, and now nobody would learn that anything is missing.
bool passes(const Said& before, const Said& now) {
    return before.fails && !now.fails &&
           std::includes(before.questions.begin(), before.questions.end(), now.questions.begin(),
                         now.questions.end());
}

std::vector<Plan> all_plans() {
    const std::string tests = BENCHFEED_TESTS_DIR, data = BENCHFEED_DATA_DIR;
    std::vector<Plan> plans;
    for (const std::string& folder :
         {std::string(BENCHFEED_RULE_PLANS), tests + "/plans/scenarios", data + "/plans"})
        for (const auto& path : test::plans_in(folder)) {
            Plan plan;
            plan.name = path.filename().string();
            plan.document = std::make_unique<text::Document>(path.string(), test::read_text(path));
            asked.clear();
            plan.said = said_now(*plan.document).value();
            plan.tables = asked;
            plans.push_back(std::move(plan));
        }
    return plans;
}

/// Names of those that failed and pass now, or have a figure without end, written to a file; false where it
/// did not come to an end.
bool judge_without(const std::string& table, Hides what, const std::vector<Plan>& plans, int file) {
    hidden = table;
    hides = what;
    std::string told;
    try {
        for (const Plan& plan : plans) {
            if (!plan.tables.contains(table)) continue;
            const std::optional<Said> now = said_now(*plan.document);
            if (now && passes(plan.said, *now)) told += plan.name + " passes\n";
            if (now && now->endless && !plan.said.endless) told += plan.name + " has a figure without end\n";
        }
    } catch (const std::exception&) {
        return false;
    }
    return write(file, told.data(), told.size()) == static_cast<ssize_t>(told.size());
}

std::string_view words(Hides what) {
    return what == Hides::all ? "" : what == Hides::even_rows ? " (even rows)" : " (odd rows)";
}

/// In a process of its own, which may end as it likes: "TABLE: plan.toml passes" for each that no longer
/// fails.
std::set<std::string> without(const std::string& table, Hides what, const std::vector<Plan>& plans) {
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) _exit(judge_without(table, what, plans, ends[1]) ? 0 : 1);
    close(ends[1]);
    std::string told;
    char buffer[4096];
    for (ssize_t got = 0; (got = read(ends[0], buffer, sizeof buffer)) > 0;)
        told.append(buffer, static_cast<std::size_t>(got));
    close(ends[0]);
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0)
        return {fmt::format("{}{}: ends the program", table, words(what))};
    std::set<std::string> passing;
    std::istringstream lines(told);
    for (std::string line; std::getline(lines, line);)
        passing.insert(fmt::format("{}{}: {}", table, words(what), line));
    return passing;
}

}  // namespace

TEST_CASE("a plan that asks something new does not pass") {
    const Said failing{true, {"a"}, false}, asking{false, {"a", "b"}, false}, silent{false, {"a"}, false},
        nothing{false, {}, false};
    CHECK(passes(failing, silent));
    CHECK(passes(failing, nothing));
    CHECK_FALSE(passes(failing, asking));
    CHECK_FALSE(passes(failing, failing));
    CHECK_FALSE(passes(silent, nothing));  // it was in order before
}

TEST_CASE(
    "a table or a row that is not there turns no fail into a pass, no figure into one without end and ends "
    "no program, beyond what is "
    "listed") {
    const std::vector<Plan> plans = all_plans();
    std::set<std::string> found;
    const auto ids = catalogue.ids();
    for (std::size_t i = 0; i < ids.size(); i += test::sanitized ? 6 : 1)
        for (const Hides what : {Hides::all, Hides::even_rows, Hides::odd_rows})
            found.merge(without(std::string(ids[i]), what, plans));
    const std::string path = std::string(BENCHFEED_TESTS_DIR) + "/laws/hidden_tables.txt";
    const std::vector<std::string> known = test::lines_of(test::read_text(path));
    CHECK(std::is_sorted(known.begin(), known.end()));
    std::string left;
    for (const std::string& line : known)
        if (found.contains(line)) left += line + "\n";
    for (const std::string& line : found)
        CHECK_MESSAGE(std::find(known.begin(), known.end(), line) != known.end(), line);
    if (!test::sanitized) test::holds_as_approved(path, left);  // what no longer happens is struck off
}
