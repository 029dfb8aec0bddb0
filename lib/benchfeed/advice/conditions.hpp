#pragma once
// Limits of rules as conditions on the loads that run.
#include <vector>

#include <benchfeed/advice/company.hpp>
#include <benchfeed/advice/family.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::advice {

/// Conditions of every limit that can fail; `mark` is the position of the limit in the judgement.
///
/// Method  A current is at most the plain sum of what its loads draw and at least their projection on one
///         direction; volts are at least what is left in the direction of the sending voltage. Where these
///         two do not decide, rules::evaluate (amps) or rules::smallest_remaining (volts) does.
/// Check   tests/reference: every subset, by rules::evaluate and by a second implementation.
[[nodiscard]] std::vector<Condition> conditions_of(const rules::Situation& situation,
                                                   const rules::Judgement& judgement, const Company& company);

/// A limit that a set breaks; value and edge at its worst subset.
struct Broken {
    Index limit = plan::nowhere;  ///< position in the judgement
    rules::Evaluated evaluated;
};
/// Of these limits the one that says most about a set: the worst harm first, then how far it is beyond its
/// edge. Nothing if none of them fails.
[[nodiscard]] std::optional<Broken> worst_broken(const rules::Situation& situation,
                                                 const rules::Judgement& judgement,
                                                 const std::vector<std::size_t>& limits,
                                                 std::span<const Index> loads);

/// For each load of the company: nobody can say of a set with it that it is allowed, since an essential rule
/// lacks a fact or a verified figure about the load or about something on its way.
struct Doubt {
    bool open = false;
    Index outcome = plan::nowhere;  ///< position in the judgement's outcomes of one that asks; nowhere: the
                                    ///< load itself, or a limit that rests on memory
    Index limit = plan::nowhere;
};
[[nodiscard]] std::vector<Doubt> doubts_of(const rules::Situation& situation,
                                           const rules::Judgement& judgement, const Company& company);

}  // namespace benchfeed::advice
