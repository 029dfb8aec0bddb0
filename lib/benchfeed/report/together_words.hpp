#pragma once
// Sets of loads in words, for the report of `together` and for the card.
#include <string>

#include <benchfeed/advice/together.hpp>

namespace benchfeed::report {

/// "the saw, the lamp" with "any 3 of ..." where loads stand for each other.
[[nodiscard]] std::string choices_words(const rules::Situation& s, const advice::ChosenSet& set);
/// "; not while the compressor can start by itself": what takes turns with others and would be too much
/// beside the set. Empty where nothing is.
[[nodiscard]] std::string not_beside_words(const rules::Situation& s, const advice::ChosenSet& set);
/// "the bench plug: 20.9 A of 16 A (heat, heat.plug-overloaded)".
[[nodiscard]] std::string reason_words(const rules::Situation& s, const rules::Judgement& judgement,
                                       const advice::Broken& broken);
/// "12.3 A of 16 A at the bench plug, 3.7 A (850 W) left" for each circuit of a set, the weakest first; empty
/// where nothing is known. What is left is told of an allowed set alone.
[[nodiscard]] std::string figures_words(const rules::Situation& situation, const rules::Judgement& judgement,
                                        const advice::PlanSet& set);
/// What to say where no set is forbidden and yet not all of them can be said to be allowed; empty where all
/// may run.
[[nodiscard]] std::string none_forbidden_words(const rules::Situation& situation,
                                               const rules::Judgement& judgement,
                                               const advice::TogetherAnswer& answer);
/// "Sawing: may run; 12.3 A of 16 A at the bench plug, 3.7 A (848 W) left."
[[nodiscard]] std::string set_line(const rules::Situation& s, const rules::Judgement& judgement,
                                   const advice::PlanSet& set);

}  // namespace benchfeed::report
