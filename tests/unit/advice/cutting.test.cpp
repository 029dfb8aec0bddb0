// Packs of cut lengths: worked by hand, then against every partition of small random lists.
#include <benchfeed/advice/cutting.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <set>

using namespace benchfeed;

namespace {

std::vector<Length> metres(const std::vector<double>& numbers) {
    std::vector<Length> lengths;
    for (const double n : numbers) lengths.push_back(n * unit::metre);
    return lengths;
}

struct Least {
    long bought = -1;
    std::size_t packs = 0;
};

/// Every partition: piece by piece into each pack that is open, or into a new one.
void try_all(const std::vector<long>& pieces, const std::vector<long>& sold, std::size_t next,
             std::vector<long>& open, Least& least) {
    if (next == pieces.size()) {
        long bought = 0;
        for (const long filled : open) {
            long cheapest = -1;
            for (const long length : sold)
                if (length >= filled && (cheapest < 0 || length < cheapest)) cheapest = length;
            if (cheapest < 0) return;
            bought += cheapest;
        }
        if (least.bought < 0 || bought < least.bought ||
            (bought == least.bought && open.size() < least.packs))
            least = {bought, open.size()};
        return;
    }
    for (std::size_t i = 0; i < open.size(); ++i) {
        open[i] += pieces[next];
        try_all(pieces, sold, next + 1, open, least);
        open[i] -= pieces[next];
    }
    open.push_back(pieces[next]);
    try_all(pieces, sold, next + 1, open, least);
    open.pop_back();
}

/// Every piece in one pack, none longer than it was sold, and the sums true.
void check_packs(const advice::Cutting& cutting, const std::vector<Length>& pieces) {
    std::multiset<std::size_t> seen(cutting.too_long.begin(), cutting.too_long.end());
    Length bought{}, left{};
    for (const advice::Pack& pack : cutting.packs) {
        Length cut{};
        for (const std::size_t piece : pack.pieces) {
            seen.insert(piece);
            cut += pieces[piece];
        }
        CHECK(in(unit::metre, cut) <= in(unit::metre, pack.sold) + 1e-9);
        CHECK(in(unit::metre, pack.sold) - in(unit::metre, cut) ==
              doctest::Approx(in(unit::metre, pack.left)));
        bought += pack.sold;
        left += pack.left;
    }
    CHECK(in(unit::metre, bought) == doctest::Approx(in(unit::metre, cutting.bought)));
    CHECK(in(unit::metre, left) == doctest::Approx(in(unit::metre, cutting.left)));
    CHECK(seen.size() == pieces.size());
    for (std::size_t i = 0; i < pieces.size(); ++i) CHECK(seen.count(i) == 1);
}

}  // namespace

TEST_CASE("packs worked by hand") {
    // 6.27 + 3.5 fit into 10; two lengths of 5 hold only one of 3.5 each and none of 6.27.
    const auto pieces = metres({3.5, 6.27, 3.5});
    const auto cutting = advice::cut_from(pieces, metres({5, 10}));
    check_packs(cutting, pieces);
    REQUIRE(cutting.packs.size() == 2);
    CHECK(in(unit::metre, cutting.bought) == doctest::Approx(15));
    CHECK(in(unit::metre, cutting.left) == doctest::Approx(1.73));
    CHECK(cutting.packs[0].pieces == std::vector<std::size_t>{1, 0});
    CHECK(in(unit::metre, cutting.packs[0].left) == doctest::Approx(0.23));
}

TEST_CASE("of equal bought lengths the fewest packs") {
    const auto pieces = metres({5, 5});
    const auto cutting = advice::cut_from(pieces, metres({5, 10}));
    check_packs(cutting, pieces);
    CHECK(cutting.packs.size() == 1);
}

TEST_CASE("a piece that no sold length holds is told, the others are packed") {
    const auto pieces = metres({30, 2});
    const auto cutting = advice::cut_from(pieces, metres({25}));
    check_packs(cutting, pieces);
    CHECK(cutting.too_long == std::vector<std::size_t>{0});
    CHECK(cutting.packs.size() == 1);
    const auto none = advice::cut_from(pieces, {});
    CHECK(none.too_long.size() == 2);
    CHECK(none.packs.empty());
}

TEST_CASE("exact fits in feet are fits") {
    const std::vector<Length> pieces(10, 2.5 * unit::foot), sold{25.0 * unit::foot};
    const auto cutting = advice::cut_from(pieces, sold);
    check_packs(cutting, pieces);
    CHECK(cutting.packs.size() == 1);
}

TEST_CASE("beyond the bound there are no packs, and that is said") {
    std::vector<Length> unlike, alike(60, 2.2 * unit::metre);
    for (int i = 0; i < 17; ++i) unlike.push_back((1.0 + 0.01 * i) * unit::metre);
    const auto refused = advice::cut_from(unlike, metres({5}));
    CHECK_FALSE(refused.searched);
    CHECK(refused.packs.empty());
    unlike.pop_back();
    const auto sixteen = advice::cut_from(unlike, metres({5}));
    CHECK(sixteen.searched);
    check_packs(sixteen, unlike);
    CHECK(sixteen.packs.size() == 4);  // 17.2 m: four lengths of 5 m at least
    const auto sixty = advice::cut_from(alike, metres({5, 25}));
    CHECK(sixty.searched);
    check_packs(sixty, alike);
    // Eleven fit into 25 m, two into 5 m: 5 * 25 m hold 55, and 5 more take 3 * 5 m.
    CHECK(in(unit::metre, sixty.bought) == doctest::Approx(140));
}

TEST_CASE("equal to every partition") {
    for (unsigned seed = 1; seed <= 600; ++seed) {
        std::mt19937 random(seed);
        const auto pick = [&](long from, long to) {
            return from + static_cast<long>(random() % static_cast<unsigned long>(to - from + 1));
        };
        std::vector<long> pieces, sold;
        const long many = pick(1, 8);
        for (long i = 0; i < many; ++i)
            pieces.push_back(pick(0, 3) == 0 && i > 0 ? pieces.front() : pick(5, 120));
        for (long i = pick(1, 3); i > 0; --i) sold.push_back(pick(1, 6) * 50);
        Least least;
        std::vector<long> open, fitting;
        const long longest = *std::max_element(sold.begin(), sold.end());
        std::copy_if(pieces.begin(), pieces.end(), std::back_inserter(fitting),
                     [&](long piece) { return piece <= longest; });
        try_all(fitting, sold, 0, open, least);
        std::vector<Length> of_pieces, of_sold;
        for (const long piece : pieces) of_pieces.push_back(static_cast<double>(piece) * 0.1 * unit::metre);
        for (const long length : sold) of_sold.push_back(static_cast<double>(length) * 0.1 * unit::metre);
        CAPTURE(seed);
        const auto cutting = advice::cut_from(of_pieces, of_sold);
        check_packs(cutting, of_pieces);
        CHECK(cutting.too_long.size() == pieces.size() - fitting.size());
        CHECK(in(unit::metre, cutting.bought) == doctest::Approx(0.1 * static_cast<double>(least.bought)));
        CHECK(cutting.packs.size() == least.packs);
    }
}
