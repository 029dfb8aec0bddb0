#include "tables/catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <mutex>
#include <optional>

#include "tables/embedded.hpp"
#include "tables/read_sources.hpp"

namespace benchfeed::tables {

struct Catalogue::State {
    struct Slot {
        embedded::Text text;
        std::once_flag once;
        std::optional<Table> table;
        Diagnostics problems;
    };
    std::vector<std::unique_ptr<Slot>> slots;  // sorted by id
    std::once_flag sources_once;
    std::vector<Source> sources;
    Diagnostics source_problems;

    const std::vector<Source>& read_sources_once() {
        std::call_once(sources_once, [this] {
            for (const auto& text : embedded::tables())
                if (text.id == "sources") sources = read_sources(text.text, source_problems);
        });
        return sources;
    }

    Slot* find(std::string_view id) {
        const auto it = std::lower_bound(slots.begin(), slots.end(), id,
                                         [](const std::unique_ptr<Slot>& slot, std::string_view wanted) {
                                             return slot->text.id < wanted;
                                         });
        return it != slots.end() && (*it)->text.id == id ? it->get() : nullptr;
    }

    void load(Slot& slot) {
        std::call_once(slot.once, [&] {
            auto read = read_table(slot.text.id, slot.text.text);
            if (auto* problems = std::get_if<Diagnostics>(&read)) {
                slot.problems = std::move(*problems);
                return;
            }
            Table& table = std::get<Table>(read);
            const auto& all = read_sources_once();
            const auto source = std::find_if(all.begin(), all.end(),
                                             [&](const Source& s) { return s.key == table.source_key; });
            if (source == all.end()) {
                slot.problems.push_back({std::string(slot.text.id),
                                         fmt::format("source {} is not in sources.toml", table.source_key),
                                         {},
                                         ""});
                return;
            }
            table.source_title = source->title;
            slot.table = std::move(table);
        });
    }
};

Catalogue::Catalogue() : state_(std::make_unique<State>()) {
    for (const auto& text : embedded::tables()) {
        if (text.id == "sources") continue;
        state_->slots.push_back(std::make_unique<State::Slot>());
        state_->slots.back()->text = text;
    }
    std::sort(state_->slots.begin(), state_->slots.end(),
              [](const auto& a, const auto& b) { return a->text.id < b->text.id; });
}
Catalogue::~Catalogue() = default;

const Table* Catalogue::table(std::string_view id) const {
    State::Slot* slot = state_->find(id);
    if (!slot) return nullptr;
    state_->load(*slot);
    return slot->table ? &*slot->table : nullptr;
}

std::vector<std::string_view> Catalogue::ids() const {
    std::vector<std::string_view> ids;
    for (const auto& slot : state_->slots) ids.push_back(slot->text.id);
    return ids;
}

const std::vector<Source>& Catalogue::sources() const {
    return state_->read_sources_once();
}

Diagnostics Catalogue::problems() const {
    state_->read_sources_once();
    Diagnostics all = state_->source_problems;
    for (const auto& slot : state_->slots) {
        state_->load(*slot);
        all.insert(all.end(), slot->problems.begin(), slot->problems.end());
    }
    return all;
}

}  // namespace benchfeed::tables
