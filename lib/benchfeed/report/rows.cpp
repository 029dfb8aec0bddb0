#include <benchfeed/report/rows.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include <benchfeed/report/told.hpp>
#include <benchfeed/rules/support.hpp>

namespace benchfeed::report {

using rules::Explanation;
using rules::Finding;
using rules::Outcome;
using rules::Remedy;
using rules::Situation;
using rules::Verdict;

namespace {

/// What is in brackets is an aside, or the option that tries the cure.
std::string without_asides(std::string_view text) {
    std::string out;
    int depth = 0;
    for (const char c : text) {
        if (c == '(' || c == '[') {
            if (depth++ == 0 && out.ends_with(' ')) out.pop_back();
        } else if (c == ')' || c == ']') {
            --depth;
        } else if (depth == 0) {
            out += c;
        }
    }
    return out;
}

bool for_the_meantime(const Remedy& remedy) {
    return remedy.text.starts_with("for now");
}

/// The remedy as far as its first stop: what to do, and not what that brings.
std::string first_clause(const Remedy& remedy) {
    std::string text = without_asides(remedy.text);
    if (text.starts_with("or ")) text.erase(0, 3);
    text = text.substr(0, text.find(';'));
    const std::size_t from = for_the_meantime(remedy) || text.starts_with("stock.") ? text.find(':') + 1 : 0;
    text = text.substr(0, text.find(": ", from));
    if (const auto end = text.rfind(" cures it"); end != std::string::npos) text.erase(end);
    return text;
}

/// The cheapest that is more than what to do until then.
const Remedy* cheapest(const std::vector<Remedy>& remedies) {
    const auto cure =
        std::find_if(remedies.begin(), remedies.end(), [](const Remedy& r) { return !for_the_meantime(r); });
    if (cure != remedies.end()) return &*cure;
    return remedies.empty() ? nullptr : &remedies.front();
}

void set_cure(Row& row, const std::vector<Remedy>& remedies) {
    const Remedy* cure = cheapest(remedies);
    if (!cure) return;
    row.cure_head = fmt::format("Cure ({}):", rules::words(cure->cost));
    row.cure = first_clause(*cure);
    row.meanwhile = for_the_meantime(*cure);
}

bool has_digit(std::string_view text) {
    return std::any_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// " (20.9 A, at most 16 A)"; "" where the finding has no two figures of one kind.
std::string figures(const Outcome& o) {
    const bool none = std::holds_alternative<std::monostate>(o.edge);
    const Measure& edge = none ? o.caution : o.edge;
    if (std::holds_alternative<std::monostate>(edge) || edge.index() != o.value.index()) return "";
    const char* between = o.bound == rules::Bound::at_most ? ", at most " : ", at least ";
    return " (" + range_text(o.least, o.value) + between + to_text(edge) + ")";
}

std::string where_words(const Situation& s, const Outcome& o) {
    return o.at.kind == rules::At::Kind::plan ? "" : rules::words(s, o.at, o.part);
}

/// Without its clauses and examples: only the question.
std::string question_words(const std::string& ask) {
    const auto mark = ask.find('?');
    return mark == std::string::npos ? ask : ask.substr(0, mark + 1);
}

/// "What is the line to neutral impedance at the panel?" as people ask it in a list.
std::string brief_question(std::string ask) {
    for (const std::string_view opening : {"What is the ", "What is "})
        if (ask.starts_with(opening)) {
            ask.erase(0, opening.size());
            break;
        }
    if (const auto end = ask.find(", and "); end != std::string::npos) ask = ask.substr(0, end) + "?";
    return rules::capital(std::move(ask));
}

/// What is found, in few words. A title says what fails: of a caution the sentence stays, since it may only
/// be so.
std::string brief_words(const Outcome& o, const Explanation& e) {
    const std::string& words =
        o.verdict == Verdict::fail && !e.short_words.empty() ? e.short_words : e.headline;
    return has_digit(words) ? words : words + figures(o);
}

/// A caution at one end of what nobody gave alone.
bool is_possible(const Outcome& o) {
    if (o.verdict != Verdict::caution) return false;
    if (o.open) return true;
    if (std::holds_alternative<std::monostate>(o.caution) || o.caution.index() != o.value.index())
        return false;
    const double value = number(o.value), caution = number(o.caution);
    return o.bound == rules::Bound::at_most ? value <= caution : value >= caution;
}

/// It is shown as the question that decides it.
bool asks(const Outcome& o, const Explanation& e) {
    return !e.questions.empty() && (o.verdict == Verdict::cannot_judge || is_possible(o));
}

Row row_of(const Situation& s, const Outcome& o, const Explanation& e) {
    Row row;
    row.verdict = o.verdict;
    row.where = o.at.kind == rules::At::Kind::plan ? "" : path_of(s.plan, o.at);
    row.brief = rules::capital(brief_words(o, e));
    row.what = o.verdict == Verdict::fail && !e.short_words.empty() ? row.brief : e.headline;
    if (asks(o, e)) {
        const rules::Question& q = e.questions.front();
        row.what = question_words(q.ask);
        row.brief = brief_question(row.what);
        row.look = q.look;
        if (!q.path.empty()) row.where = q.path;
        if (o.open)
            if (const std::string amounts = figures(o); !amounts.empty())
                row.what += " It decides " + where_words(s, o) + amounts;
    }
    return row;
}

/// What two findings share if they are one line.
std::string kind_of_row(const Situation& s, const Outcome& o, const Row& row, bool asked) {
    if (o.at.kind == rules::At::Kind::plan && rules::registry()[o.rule].harm == rules::Harm::plan)
        return fmt::format("plan {}", static_cast<int>(o.verdict));  // what the plan leaves open is one line
    const auto dot = row.where.find('.'), field = row.where.find('.', dot + 1);
    // "load.saw.overload" and "load.router.overload" are one question, whichever rule asks.
    if (asked && !row.look.empty() && field != std::string::npos)
        return "? " + row.where.substr(0, dot) + row.where.substr(field);
    const int kind = o.at.kind == rules::At::Kind::element && o.part == rules::Part::whole
                         ? static_cast<int>(s.plan[o.at.index].kind)
                         : -1;
    return fmt::format("{} {} {} {} {} {} {}", o.rule, static_cast<int>(o.verdict),
                       static_cast<int>(o.at.kind), kind, static_cast<int>(o.part), o.variant,
                       static_cast<int>(o.basis));
}

/// A part more of which the same is true. Nobody reads a hundred names in a line: the rest is counted.
void add_once(Row& row, const std::string& words) {
    constexpr std::size_t most_named = 20;
    if (words.empty() || std::find(row.like.begin(), row.like.end(), words) != row.like.end()) return;
    if (row.like.size() < most_named) row.like.push_back(words);
    ++row.alike;
}

/// The element that is asked about; "" where it is the one of the row.
std::string asked_about(const Situation& s, const Row& row, const Row& other, const Outcome& o) {
    if (row.where == other.where) return "";
    if (other.look.empty() || other.where.starts_with(path_of(s.plan, o.at) + ".")) return where_words(s, o);
    return other.where.substr(0, other.where.find('.', other.where.find('.') + 1));
}

/// No cure is known yet, and not so many parts were tried that another one would find it.
bool wants_cure(const Row& row) {
    constexpr std::size_t most_tried = 4;
    return row.findings < most_tried && (row.cure.empty() || row.meanwhile);
}

void join(const Situation& s, Row& row, const Row& other, const Finding& f, bool asked) {
    const Outcome& o = *f.outcome;
    if (o.at.kind == rules::At::Kind::plan) {
        row.what += "; " + other.what;
        row.brief += "; " + other.brief;
    }
    add_once(row, asked ? asked_about(s, row, other, o) : where_words(s, o) + figures(o));
    for (const std::string& part : other.like) add_once(row, part);
    // The first that is more than what to do until then speaks for all.
    if (!other.cure.empty() && wants_cure(row)) {
        row.cure_head = other.cure_head;
        row.cure = other.cure;
        row.meanwhile = other.meanwhile;
    }
    row.follow += other.follow;
    row.findings += other.findings;
}

}  // namespace

Ink ink_of(Verdict verdict) {
    switch (verdict) {
        case Verdict::fail:
            return Ink::bad;
        case Verdict::cannot_judge:
        case Verdict::caution:
            return Ink::doubtful;
        case Verdict::ok:
            return Ink::good;
    }
    return Ink::plain;
}

std::vector<Row> rows_of(const Situation& s, const rules::Judgement& judgement,
                         const std::vector<Finding>& found, const Remedies& remedies) {
    std::vector<Row> rows;
    std::map<std::string, std::size_t> places;
    for (const Finding& f : found) {
        const Outcome& o = *f.outcome;
        const Explanation e = rules::explain(s, judgement, o);
        Row row = row_of(s, o, e);
        const bool asked = o.verdict == Verdict::cannot_judge || asks(o, e);
        const auto [place, fresh] = places.try_emplace(kind_of_row(s, o, row, asked), rows.size());
        if (!asked && (fresh || wants_cure(rows[place->second])))
            set_cure(row, remedies ? remedies(o) : e.remedies);
        row.follow = f.follows.size();
        row.findings += f.follows.size();
        if (fresh)
            rows.push_back(std::move(row));
        else
            join(s, rows[place->second], row, f, asked);
    }
    return rows;
}

namespace {

/// How many words a row is given.
struct Shortness {
    bool count_alike = false, half_of_cure = false, brief = false;
};

/// Of what is found each finding counts, so that the rows add up to the totals; of questions each element
/// that is asked about.
std::string like_words(const Row& row, bool count) {
    if (row.where.empty()) return "";  // of the plan as a whole: each of them is in the words
    const std::size_t others = row.look.empty() ? row.findings - row.follow - 1 : row.alike;
    std::string words;
    if (others > 0 && (count || others > row.like.size()))
        words = fmt::format("; {} more like it", others);
    else if (others > 0)
        words = "; the same: " + rules::list(row.like);
    if (row.follow > 0)
        words += fmt::format("; {} more follow{} from it", row.follow, row.follow == 1 ? "s" : "");
    return words;
}

std::string what_words(const Row& row, const Shortness& shortness) {
    const std::string what = shortness.brief ? row.brief : row.what;
    const std::string like = like_words(row, shortness.count_alike);
    if (like.empty() || !what.ends_with('?')) return sentence(what + like);
    return what + like.substr(1) + ".";
}

/// A row as it is composed: what is found and where, then the cure, whose first words are inked.
struct Composed {
    std::string what, where, cure_head, cure;
};

Composed composed(const Row& row, const Shortness& shortness) {
    Composed parts{harmless(what_words(row, shortness)),
                   row.where.empty() ? "" : "[" + harmless(row.where) + "]", "", ""};
    if (row.cure.empty()) return parts;
    parts.cure_head = row.cure_head;
    parts.cure = harmless(row.cure);
    if (shortness.half_of_cure && !row.meanwhile) parts.cure = parts.cure.substr(0, parts.cure.find(", "));
    parts.cure += ".";
    return parts;
}

std::string written(const Row& row, const Composed& parts, const Style& style) {
    const std::string level = inked(level_words(row.verdict), ink_of(row.verdict), style) + ": ";
    std::string text = parts.what;
    if (!parts.where.empty()) text += " " + inked(parts.where, Ink::place, style);
    if (!parts.cure.empty()) text += " " + inked(parts.cure_head, Ink::good, style) + " " + parts.cure;
    return wrapped(text, level, "  ", style);
}

/// One word less, with a sign that there was more; false where none is left.
bool shorten(std::string& words) {
    if (words.ends_with(" ...")) words.erase(words.size() - 4);
    const auto space = words.find_last_of(' ');
    if (space == std::string::npos) return false;
    words.erase(space);
    words += " ...";
    return true;
}

/// What surely does not fit goes at once: word by word a row that joins thousands of findings takes the
/// square of their words. Still too long afterwards, and as shorten() would leave it.
void shorten_ahead(Composed& parts, std::size_t room) {
    if (columns(parts.what) <= room) return;
    parts.cure.clear();  // it goes before a word of what is found does
    std::size_t byte = 0;
    for (std::size_t seen = 0; seen <= room; ++seen)
        byte += std::max<std::size_t>(character_length(std::string_view(parts.what).substr(byte)), 1);
    const auto space = parts.what.find(' ', byte);
    if (space == std::string::npos) return;
    parts.what.erase(space);
    parts.what += " ...";
}

}  // namespace

std::string_view level_words(Verdict verdict) {
    return verdict == Verdict::cannot_judge ? "unknown" : rules::words(verdict);
}

std::string row_text(const Row& row, const Style& style) {
    const std::size_t most = style.width >= 60 ? 2 : 3;
    const auto fits = [](const std::string& text, std::size_t lines) {
        return lines_of(text).size() <= lines;
    };
    if (row.cure.empty())  // what fits one line in fewer words is one line
        for (const Shortness& shortness : {Shortness{}, Shortness{.count_alike = true, .brief = true}})
            if (auto text = written(row, composed(row, shortness), style); fits(text, 1)) return text;
    for (const Shortness& shortness :
         {Shortness{}, Shortness{.half_of_cure = true}, Shortness{.count_alike = true},
          Shortness{.count_alike = true, .half_of_cure = true}})
        if (auto text = written(row, composed(row, shortness), style); fits(text, most)) return text;
    Composed parts = composed(row, {.count_alike = true, .half_of_cure = true, .brief = true});
    shorten_ahead(parts, most * style.width);
    std::string text = written(row, parts, style);
    while (!fits(text, most)) {
        const bool says_little = std::count(parts.cure.begin(), parts.cure.end(), ' ') < 4;
        if (!parts.cure.empty() && (says_little || !shorten(parts.cure)))
            parts.cure.clear();
        else if (parts.cure.empty() && !shorten(parts.what))
            break;
        text = written(row, parts, style);
    }
    return text;
}

}  // namespace benchfeed::report
