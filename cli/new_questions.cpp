// benchfeed new --ask: one question at a time, plain lines, over a pipe as well.
#include <fmt/format.h>

#include <iostream>
#include <string>

#include <benchfeed/advice/phrase.hpp>
#include <benchfeed/report/outline_toml.hpp>
#include <benchfeed/report/starter.hpp>
#include "cli/commands.hpp"
#include "cli/files.hpp"

namespace benchfeed::cli {

namespace {

/// A question, and where the answer is found.
struct Asked {
    const char* question;
    const char* look;
    std::string advice::Answers::*one;                ///< an answer, or
    std::vector<std::string> advice::Answers::*many;  ///< as many as there are
};

constexpr Asked questions[]{
    {"What feeds the outlet? For example: 230 V, or 230/400 V TN-S",
     "the outlet: one line and neutral, or several lines; TN-S, TN-C-S or TT is on the supply bill",
     &advice::Answers::supply, nullptr},
    {"What is printed on the breaker or fuse before it? For example: B16 30 mA type A 6 kA",
     "the panel of the house; \"without RCD\" if nothing there has a test button", &advice::Answers::device,
     nullptr},
    {"Which pattern is the outlet in the wall? For example: CEE 7/3, BS 1363, 5-15",
     "benchfeed tables patterns; not known is the usual one of the region", &advice::Answers::outlet,
     nullptr},
    {"Which plug does the bench have?",
     "the plug of its cord; in a BS 1363 plug the amps of the fuse, too: BS 1363 13 A",
     &advice::Answers::plug, nullptr},
    {"What is the cord of the bench? For example: 3 m H07RN-F 3G1.5, or 10 ft SJOOW 14/3",
     "what is printed along its sheath; a tape measure", &advice::Answers::lead, nullptr},
    {"A tool: its name and what its plate says. For example: saw 1600 W 7.0 A universal",
     "the plate; brushes and whine: universal; hum, heavy: induction; brushless: electronic", nullptr,
     &advice::Answers::tools},
    {"An extractor? For example: 1200 W, or 1200 W starts with saw", "its plate", nullptr,
     &advice::Answers::extractors},
    {"Anything else that is plugged in? For example: lamp 20 W light", "its plate", nullptr,
     &advice::Answers::loads},
    {"The switch before each tool? For example: 2 poles 16(10) A no-volt",
     "stamped on its side; the figure in brackets is for motors", nullptr, &advice::Answers::switches},
};

/// "", "?" and "don't know" are the same: it stays open.
bool is_open(const std::string& line) {
    const std::string word = advice::small(line);
    return word.find_first_not_of(" \t\r") == std::string::npos || word == "?" || word == "don't know" ||
           word == "dont know" || word == "unknown" || word == "no" || word == "none";
}

/// A line from standard input; false at its end.
bool read_line(std::string& line) {
    if (!std::getline(std::cin, line)) return false;
    while (!line.empty() && (line.back() == '\r' || line.back() == ' ')) line.pop_back();
    return true;
}

/// Why an answer cannot be taken; "" if it can.
std::string why_not(advice::Answers answers, const Asked& asked, const std::string& line,
                    const tables::Catalogue& tables, const report::Style& style) {
    advice::Answers alone;
    alone.region = answers.region;
    alone.tools = answers.tools;  // an extractor may start with one of them
    if (asked.one)
        alone.*asked.one = line;
    else
        (alone.*asked.many).push_back(line);
    if (asked.many == &advice::Answers::switches)
        alone.tools.resize(std::min<std::size_t>(1, alone.tools.size()));
    std::string out;
    const auto read = advice::read_outline(alone, tables);
    if (const auto* faults = std::get_if<Diagnostics>(&read))
        for (const Diagnostic& fault : *faults) out += report::answer_fault(fault, style);
    return out;
}

bool ask_region(advice::Answers& answers, const report::Style& style) {
    std::string known;
    for (const auto one : report::starter_regions()) known += (known.empty() ? "" : ", ") + std::string(one);
    for (std::string line; answers.region.empty();) {
        print_error(report::wrapped("Where is the bench? One of " + known, "", "  ", style) + "> ");
        if (!read_line(line)) return false;
        for (const auto one : report::starter_regions())
            if (advice::small(one) == advice::small(line)) answers.region = one;
        if (answers.region.empty())
            print_error(report::wrapped("without that nothing can be judged; write one of " + known, "", "  ",
                                        style));
    }
    return true;
}

/// Asks until the answer is understood, or open; of things that may be several until one is open.
bool ask(const Asked& asked, std::size_t number, advice::Answers& answers, const tables::Catalogue& tables,
         const report::Style& style) {
    if (asked.one ? !(answers.*asked.one).empty() : !(answers.*asked.many).empty()) return true;
    bool again = true;
    while (again) {
        print_error("\n" + report::wrapped(asked.question,
                                           fmt::format("{} of {}. ", number, std::size(questions)), "  ",
                                           style));
        print_error(report::wrapped(asked.look, "  Look: ", "  ", style));
        print_error(report::wrapped(asked.one ? "Enter alone: not known." : "Enter alone: none, or no more.",
                                    "  ", "  ", style) +
                    "> ");
        std::string line;
        if (!read_line(line)) return false;
        if (is_open(line)) return true;
        if (const std::string fault = why_not(answers, asked, line, tables, style); !fault.empty()) {
            print_error(fault);
            continue;
        }
        if (asked.one)
            answers.*asked.one = line;
        else
            (answers.*asked.many).push_back(line);
        again = asked.many && asked.many != &advice::Answers::switches;
    }
    return true;
}

}  // namespace

std::optional<advice::Answers> asked(advice::Answers answers, const tables::Catalogue& tables,
                                     const report::Style& style) {
    print_error(report::wrapped(
        "One question at a time. What you do not know stays open and is asked for by check.", "", "", style));
    if (!ask_region(answers, style)) return std::nullopt;
    std::size_t number = 0;
    for (const Asked& question : questions)
        if (!ask(question, ++number, answers, tables, style)) return std::nullopt;
    return answers;
}

}  // namespace benchfeed::cli
