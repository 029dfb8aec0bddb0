#include <benchfeed/advice/cutting.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <map>

namespace benchfeed::advice {

namespace {

using Tenths = std::int64_t;  ///< tenths of a millimetre: a foot is 3048

constexpr Length tenth = 1e-4 * unit::metre;
Tenths rounded_up(Length length) {
    return static_cast<Tenths>(std::ceil(in(tenth, length) - 1e-6));
}
Tenths rounded_down(Length length) {
    return static_cast<Tenths>(std::floor(in(tenth, length) + 1e-6));
}

/// Pieces of one length.
struct Alike {
    Tenths length = 0;
    std::vector<std::size_t> pieces;
    std::size_t weight = 1;  ///< of this kind in the number of a multiset
};

/// A multiset of pieces is a number: the sum of count times weight over the kinds.
using Multiset = std::size_t;

struct Best {
    Tenths bought = std::numeric_limits<Tenths>::max();
    std::size_t packs = 0;
    Multiset last = 0;  ///< what the pack that was added holds
    Tenths sold = 0;
};
bool better(const Best& a, const Best& b) {
    return a.bought != b.bought ? a.bought < b.bought : a.packs < b.packs;
}

class Packing {
public:
    Packing(std::vector<Alike> kinds, std::vector<Tenths> sold)
        : kinds_(std::move(kinds)), sold_(std::move(sold)) {
        std::size_t all = 1;
        for (Alike& kind : kinds_) {
            kind.weight = all;
            all *= kind.pieces.size() + 1;
        }
        best_.resize(all);
    }

    [[nodiscard]] std::vector<Best> packs() {
        best_[0] = {0, 0, 0, 0};
        for (Multiset set = 1; set < best_.size(); ++set) {
            std::size_t longest = 0;
            while (count(set, longest) == 0) ++longest;
            // The longest is in some pack: that one is looked for.
            fill(set, longest, kinds_[longest].weight, kinds_[longest].length, count(set, longest) - 1);
        }
        std::vector<Best> chosen;
        for (Multiset set = best_.size() - 1; set != 0; set -= best_[set].last) chosen.push_back(best_[set]);
        return chosen;
    }

    [[nodiscard]] std::size_t count(Multiset set, std::size_t kind) const {
        return set / kinds_[kind].weight % (kinds_[kind].pieces.size() + 1);
    }
    [[nodiscard]] const std::vector<Alike>& kinds() const { return kinds_; }

private:
    /// Every way to go on with a pack that holds `held`: `more` further pieces of this kind are there, then
    /// those of the kinds behind it.
    void fill(Multiset set, std::size_t kind, Multiset held, Tenths length, std::size_t more) {
        if (kind + 1 == kinds_.size()) {
            for (std::size_t taken = 0; taken <= more && length <= sold_.back(); ++taken) {
                close(set, held, length);
                held += kinds_[kind].weight;
                length += kinds_[kind].length;
            }
            return;
        }
        for (std::size_t taken = 0; taken <= more && length <= sold_.back(); ++taken) {
            fill(set, kind + 1, held, length, count(set, kind + 1));
            held += kinds_[kind].weight;
            length += kinds_[kind].length;
        }
    }
    void close(Multiset set, Multiset held, Tenths length) {
        const Tenths sold = *std::lower_bound(sold_.begin(), sold_.end(), length);
        const Best& rest = best_[set - held];
        const Best found{rest.bought + sold, rest.packs + 1, held, sold};
        if (better(found, best_[set])) best_[set] = found;
    }

    std::vector<Alike> kinds_;  ///< longest first
    std::vector<Tenths> sold_;
    std::vector<Best> best_;
};

}  // namespace

Cutting cut_from(std::span<const Length> pieces, std::span<const Length> sold,
                 const CuttingOptions& options) {
    std::vector<Tenths> lengths;
    for (const Length& length : sold) lengths.push_back(rounded_down(length));
    std::sort(lengths.begin(), lengths.end());
    Cutting cutting;
    std::map<Tenths, Alike, std::greater<>> by_length;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const Tenths length = rounded_up(pieces[i]);
        if (lengths.empty() || length > lengths.back()) {
            cutting.too_long.push_back(i);
            continue;
        }
        Alike& kind = by_length[length];
        kind.length = length;
        kind.pieces.push_back(i);
    }
    double ways = 1;
    std::vector<Alike> kinds;
    for (auto& [length, kind] : by_length) {
        const auto n = static_cast<double>(kind.pieces.size());
        ways *= (n + 1) * (n + 2) / 2;
        kinds.push_back(std::move(kind));
    }
    if (ways > options.most_ways) {
        cutting.searched = false;
        return cutting;
    }
    if (kinds.empty()) return cutting;
    Packing search(std::move(kinds), std::move(lengths));
    std::vector<std::size_t> used(search.kinds().size(), 0);
    for (const Best& best : search.packs()) {
        Pack pack;
        pack.sold = static_cast<double>(best.sold) * tenth;
        pack.left = pack.sold;
        for (std::size_t k = 0; k < used.size(); ++k)
            for (std::size_t n = search.count(best.last, k); n > 0; --n) {
                const std::size_t piece = search.kinds()[k].pieces[used[k]++];
                pack.pieces.push_back(piece);
                pack.left -= pieces[piece];
            }
        cutting.bought += pack.sold;
        cutting.left += pack.left;
        cutting.packs.push_back(std::move(pack));
    }
    std::stable_sort(cutting.packs.begin(), cutting.packs.end(),
                     [](const Pack& a, const Pack& b) { return a.sold > b.sold; });
    return cutting;
}

}  // namespace benchfeed::advice
