#pragma once
// What to look up, in the order of what it decides.
#include <string>
#include <vector>

#include <benchfeed/base/api.hpp>
#include <benchfeed/rules/judge.hpp>

namespace benchfeed::rules {

/// One question about a field, of like elements once.
struct Asked {
    std::vector<std::string> paths;  ///< fields that answer it: "load.saw.plate.current"; none: no field does
    std::string ask, look;           ///< of the first of them
    std::vector<Index> decides;      ///< outcomes that it keeps open, positions in the judgement; rising
    std::size_t grave = 0;           ///< so many of them count as a fail
};

/// Every question of a plan: first the fewest that settle the most of what counts as a fail, then what else
/// is open, last what decides nothing now.
///
/// Method  an outcome is settled when everything that it asks is answered. The next question is the one that
///         settles most; of equals the one with the greatest share in what is not settled yet: a half of an
///         outcome where one more is needed, and so on.
[[nodiscard]] BENCHFEED_API std::vector<Asked> questions(const Situation& situation,
                                                         const Judgement& judgement);

/// "heat: the saw switch and the bench plug; restart: the saw": what an answer decides, by harm; at most so
/// many places are named for each. Empty where it decides nothing.
[[nodiscard]] BENCHFEED_API std::string decides_words(const Situation& situation, const Judgement& judgement,
                                                      const Asked& asked, std::size_t most_named);

}  // namespace benchfeed::rules
