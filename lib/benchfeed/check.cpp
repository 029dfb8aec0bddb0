#include <benchfeed/check.hpp>

#include <algorithm>
#include <utility>

namespace benchfeed {

Judged::Judged(plan::Plan plan, const tables::Catalogue& tables)
    : plan_(std::make_unique<const plan::Plan>(std::move(plan))),
      tables_(&tables),
      network_(std::make_unique<const network::Network>(network::build(*plan_, tables))),
      best_(rules::best_end({*plan_, *network_, *tables_})),
      judgement_(rules::judge(situation())) {}

namespace {

template <class E>
E word_of(std::string_view word, E otherwise) {
    const auto words = plan::words_of<E>();
    const auto it = std::find(words.begin(), words.end(), word);
    return it == words.end() ? otherwise : static_cast<E>(it - words.begin());
}

plan::Words::Region region_of(const tables::Table& t, std::size_t row) {
    using plan::DeviceStandard;
    plan::Words::Region region;
    region.name = t.text(row, "region");
    region.voltage = t.number(row, "voltage").value_or(0) * unit::volt;
    region.frequency = t.number(row, "frequency").value_or(0) * unit::hertz;
    region.usual_switch = word_of(t.text(row, "usual_switch"), region.usual_switch);
    region.breaker = word_of(t.text(row, "breaker"), region.breaker);
    region.breaker_residual = word_of(t.text(row, "breaker_residual"), region.breaker_residual);
    region.fuse = word_of(t.text(row, "fuse"), region.fuse);
    region.residual_device = word_of(t.text(row, "residual_device"), region.residual_device);
    const auto earthing = t.text(row, "earthing");
    if (!earthing.empty()) region.earthing = word_of(earthing, plan::Earthing::none);
    return region;
}

}  // namespace

plan::Words plan_words(const tables::Catalogue& tables) {
    plan::Words words;
    if (const auto* t = tables.table("regions"))
        for (std::size_t row = 0; row < t->rows.size(); ++row) words.regions.push_back(region_of(*t, row));
    if (const auto* t = tables.table("plug-patterns"))
        for (std::size_t row = 0; row < t->rows.size(); ++row) {
            const auto gender = t->text(row, "gender");
            words.patterns.push_back({std::string(t->text(row, "pattern")), gender != "outlet",
                                      gender != "plug", std::string(t->text(row, "poles")),
                                      t->flag(row, "fused").value_or(false)});
        }
    if (const auto* t = tables.table("cable-constructions"))
        for (std::size_t row = 0; row < t->rows.size(); ++row)
            words.constructions.push_back({std::string(t->text(row, "construction")),
                                           t->text(row, "use") == "cord",
                                           word_of(t->text(row, "strands"), plan::Strands::solid),
                                           t->flag(row, "flat_pvc").value_or(false)});
    if (const auto* t = tables.table("trade-names"))
        for (std::size_t row = 0; row < t->rows.size(); ++row)
            words.trade_names.push_back(
                {std::string(t->text(row, "called")), std::string(t->text(row, "word"))});
    if (const auto* t = tables.table("plug-mating"))
        for (std::size_t row = 0; row < t->rows.size(); ++row)
            words.matings.push_back({std::string(t->text(row, "plug")), std::string(t->text(row, "outlet")),
                                     t->flag(row, "polarised").value_or(false),
                                     t->flag(row, "earth").value_or(false)});
    if (const auto* t = tables.table("device-functions"))
        for (std::size_t row = 0; row < t->rows.size(); ++row)
            words.devices.push_back({word_of(t->text(row, "standard"), plan::DeviceStandard::iec_60898),
                                     word_of(t->text(row, "kind"), plan::DeviceKind::circuit_breaker),
                                     t->flag(row, "curve").value_or(false),
                                     t->text(row, "residual") == "yes"});
    if (const auto* t = tables.table("uk-flat-protective"))
        for (std::size_t row = 0; row < t->rows.size(); ++row) {
            const auto live = t->section(row, "section"), protective = t->section(row, "protective");
            if (live && protective) words.flat_pvc.push_back({live->value, protective->value});
        }
    return words;
}

std::variant<Judged, Diagnostics> check(const text::Document& document, const tables::Catalogue& tables,
                                        const plan::Words& words, std::span<const plan::Override> overrides) {
    plan::Reading reading = plan::read_plan(document, words, overrides);
    if (!reading.problems.empty()) return std::move(reading.problems);
    return Judged(std::move(reading.plan), tables);
}

std::variant<Judged, Diagnostics> check(const text::Document& document, const tables::Catalogue& tables,
                                        std::span<const plan::Override> overrides) {
    return check(document, tables, plan_words(tables), overrides);
}

std::variant<Judged, Diagnostics> check(text::Document& document, const tables::Catalogue& tables,
                                        const plan::Words& words, plan::CommonFiles& common,
                                        std::span<const plan::Override> overrides) {
    Diagnostics problems = common.join(document);
    if (problems.empty()) return check(std::as_const(document), tables, words, overrides);
    // Its other mistakes at the same time, but not that names of a file that is missing are missing.
    for (Diagnostic& problem : plan::read_written(document, words).problems)
        if (problem.path != "plan.common") problems.push_back(std::move(problem));
    return problems;
}

bool reaches(const rules::Outcome& outcome, FailOn level) {
    using rules::Verdict;
    if (outcome.accepted != plan::nowhere) return false;
    switch (outcome.verdict) {
        case Verdict::fail:
            return true;
        case Verdict::cannot_judge:
            return level >= FailOn::unknown || rules::is_grave_question(outcome);
        case Verdict::caution:
            return level >= FailOn::caution;
        case Verdict::ok:
            break;
    }
    return false;
}

bool fails(const rules::Judgement& judgement, FailOn level) {
    return std::any_of(judgement.outcomes.begin(), judgement.outcomes.end(),
                       [&](const rules::Outcome& o) { return reaches(o, level); });
}

}  // namespace benchfeed
