#include <benchfeed/plan/common.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include <benchfeed/plan/plan_reader.hpp>

namespace benchfeed::plan {

/// A name in a list of common files, with its place.
struct CommonFiles::Named {
    std::string name;
    Span span;
};

/// A common file, or why it is none.
struct CommonFiles::File {
    std::string fault;                         ///< in words that begin with a verb; "" for none
    std::shared_ptr<const text::Beside> text;  ///< nothing where there is a fault
    Diagnostics problems;                      ///< mistakes in it
    std::vector<Named> common;                 ///< those that it names itself
};

/// What is put beside one document.
struct CommonFiles::Joining {
    std::vector<std::shared_ptr<const text::Beside>> beside;
    std::vector<std::string> paths, open;  ///< of all of them; of those that are being followed
    Diagnostics problems;
};

namespace {

/// The texts of a list; what is no text is told by the reader of the field.
template <class Named>
std::vector<Named> names_in(const text::Table& root, std::string_view table) {
    std::vector<Named> names;
    const text::Entry* entry = root.find(table);
    const auto* head = entry ? entry->node.as<text::Table>() : nullptr;
    const text::Entry* list = head ? head->find("common") : nullptr;
    const auto* items = list ? list->node.as<text::Array>() : nullptr;
    if (!items) return names;
    for (const text::Node& item : items->items)
        if (const auto* name = item.as<std::string>()) names.push_back({*name, item.span});
    return names;
}

}  // namespace

bool is_common(const text::Table& root) {
    const text::Entry* entry = root.find("common");
    return entry && entry->node.as<text::Table>();
}

bool is_common(const text::Document& document) {
    const std::string& text = document.content();
    const auto has = [&](const char* words) { return text.find(words) != std::string::npos; };
    const bool headed = has("[common") || has("[ common"), dotted = has("common."),
               inline_one = has("common") && has("{");
    if (!headed && !dotted && !(inline_one && !has("[plan]"))) return false;
    return is_common(text::parse_toml(document).root);
}

Diagnostics common_faults(const text::Beside& text, const Words& words) {
    Plan alone;
    Context context{words, text.parsed.problems, {}};
    PlanReader(context, alone).read_common(text.parsed.root);
    return std::move(context.problems);
}

CommonFiles::CommonFiles(CommonSource source, const Words& words)
    : source_(std::move(source)), words_(words) {}

std::size_t CommonFiles::parsed() const {
    const std::lock_guard lock(mutex_);
    return static_cast<std::size_t>(std::count_if(
        files_.begin(), files_.end(), [](const auto& file) { return file.second->text != nullptr; }));
}

const CommonFiles::File& CommonFiles::file_of(const std::string& path) {
    const std::lock_guard lock(mutex_);
    auto& known = files_[path];
    if (known) return *known;
    auto file = std::make_shared<File>();
    Asked asked = source_.text(path);
    file->fault = asked.fault;
    if (file->fault.empty() && asked.text.size() > most_bytes)
        file->fault = fmt::format("has more than {} MiB", most_bytes >> 20);
    if (file->fault.empty() && asked.text.size() > std::numeric_limits<std::uint32_t>::max() - next_line_)
        file->fault = "is one common file too many";
    if (file->fault.empty()) {
        auto text =
            std::make_shared<const text::Beside>(text::Document(path, std::move(asked.text)), next_line_);
        // Of a file that is meant to be none, nothing is shown.
        if (is_common(text->parsed.root)) {
            next_line_ = text::lines_through(*text);
            file->problems = common_faults(*text, words_);
            file->common = names_in<Named>(text->parsed.root, "common");
            file->text = std::move(text);
        } else {
            file->fault = "is no common file: it has no [common]";
        }
    }
    known = std::move(file);
    return *known;
}

void CommonFiles::add(Joining& to, const std::string& from, const std::vector<Named>& names,
                      const Label& because) {
    if (names.size() > most_files) {
        to.problems.push_back(
            {"plan.common",
             fmt::format("{} common files are named here; at most {} are read", names.size(), most_files),
             {{names[most_files].span, ""}},
             "fewer of them"});
        return;
    }
    for (const Named& named : names) {
        const auto fault = [&](const std::string& words, std::string help) {
            std::vector<Label> labels{{named.span, ""}};
            if (!because.span.nowhere()) labels.push_back(because);
            to.problems.push_back(
                {"plan.common", "\"" + named.name + "\" " + words, std::move(labels), std::move(help)});
        };
        const Asked path = source_.path(named.name, from);
        if (!path.fault.empty()) {
            fault(path.fault, "the path of a common file, from the folder of this one");
            continue;
        }
        if (std::find(to.open.begin(), to.open.end(), path.text) != to.open.end()) {
            fault("leads back to itself: common files name each other in a circle", "each of them once");
            continue;
        }
        if (to.open.size() == deepest) {
            fault(fmt::format("is more than {} common files deep", deepest), "it in the [plan] itself");
            continue;
        }
        if (std::find(to.paths.begin(), to.paths.end(), path.text) != to.paths.end()) continue;
        if (to.paths.size() == most_files) {
            fault(fmt::format("is one of more than {} common files", most_files), "fewer of them");
            return;
        }
        to.paths.push_back(path.text);
        const File& file = file_of(path.text);
        if (!file.fault.empty()) {
            fault(file.fault, "a file with format = 1, [common] and what plans share");
            continue;
        }
        to.beside.push_back(file.text);
        const Label reader = because.span.nowhere() ? Label{named.span, "which this plan reads"} : because;
        for (Diagnostic problem : file.problems) {
            problem.labels.push_back(reader);
            to.problems.push_back(std::move(problem));
        }
        to.open.push_back(path.text);
        add(to, path.text, file.common, reader);
        to.open.pop_back();
    }
}

Diagnostics CommonFiles::join(text::Document& document) {
    // Most plans name none, and need not be parsed twice for it.
    if (document.content().find("common") == std::string::npos) return {};
    const text::Parsed parsed = text::parse_toml(document);
    if (!parsed.problems.empty()) return {};  // told when the plan is read
    const std::vector<Named> names = names_in<Named>(parsed.root, "plan");
    Joining joining;
    add(joining, document.path(), names, {});
    document.put_beside(std::move(joining.beside));
    return std::move(joining.problems);
}

}  // namespace benchfeed::plan
