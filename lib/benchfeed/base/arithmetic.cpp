#include <benchfeed/base/arithmetic.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace benchfeed {

namespace {

struct NamedUnit {
    std::string_view word;
    double scale;
    std::array<int, 5> powers;  // V A m s K
};
constexpr std::array named_units{
    NamedUnit{"V", 1, {1, 0, 0, 0, 0}},        NamedUnit{"mV", 1e-3, {1, 0, 0, 0, 0}},
    NamedUnit{"A", 1, {0, 1, 0, 0, 0}},        NamedUnit{"mA", 1e-3, {0, 1, 0, 0, 0}},
    NamedUnit{"kA", 1e3, {0, 1, 0, 0, 0}},     NamedUnit{"W", 1, {1, 1, 0, 0, 0}},
    NamedUnit{"kW", 1e3, {1, 1, 0, 0, 0}},     NamedUnit{"VA", 1, {1, 1, 0, 0, 0}},
    NamedUnit{"hp", 746, {1, 1, 0, 0, 0}},     NamedUnit{"ohm", 1, {1, -1, 0, 0, 0}},
    NamedUnit{"mohm", 1e-3, {1, -1, 0, 0, 0}}, NamedUnit{"m", 1, {0, 0, 1, 0, 0}},
    NamedUnit{"km", 1e3, {0, 0, 1, 0, 0}},     NamedUnit{"mm", 1e-3, {0, 0, 1, 0, 0}},
    NamedUnit{"cm", 1e-2, {0, 0, 1, 0, 0}},    NamedUnit{"ft", 0.3048, {0, 0, 1, 0, 0}},
    NamedUnit{"kft", 304.8, {0, 0, 1, 0, 0}},  NamedUnit{"in", 0.0254, {0, 0, 1, 0, 0}},
    NamedUnit{"mm2", 1e-6, {0, 0, 2, 0, 0}},   NamedUnit{"s", 1, {0, 0, 0, 1, 0}},
    NamedUnit{"ms", 1e-3, {0, 0, 0, 1, 0}},    NamedUnit{"degC", 1, {0, 0, 0, 0, 1}},
    NamedUnit{"K", 1, {0, 0, 0, 0, 1}},        NamedUnit{"%", 1e-2, {}},
    NamedUnit{"A2s", 1, {0, 2, 0, 1, 0}},      NamedUnit{"in3", 1.6387064e-5, {0, 0, 3, 0, 0}},
};

Dimensioned times(Dimensioned a, const Dimensioned& b, int sign) {
    a.si = sign > 0 ? a.si * b.si : a.si / b.si;
    for (std::size_t i = 0; i < a.powers.size(); ++i) a.powers[i] += sign * b.powers[i];
    return a;
}

class Reader {
public:
    Reader(std::string_view text, std::span<const Dimensioned> operands) : text_(text), operands_(operands) {}

    std::optional<Dimensioned> whole() {
        auto value = sum();
        skip();
        if (!value || at_ != text_.size()) return std::nullopt;
        return value;
    }

private:
    void skip() {
        while (at_ < text_.size() && text_[at_] == ' ') ++at_;
    }
    bool take(char c) {
        skip();
        if (at_ >= text_.size() || text_[at_] != c) return false;
        ++at_;
        return true;
    }

    std::optional<Dimensioned> sum() {
        if (++depth_ > 50) return std::nullopt;
        auto value = product();
        for (;;) {
            const bool plus = take('+'), minus = !plus && take('-');
            if (!plus && !minus) break;
            const auto next = product();
            if (!value || !next || value->powers != next->powers) return std::nullopt;
            value->si += plus ? next->si : -next->si;
        }
        --depth_;
        return value;
    }
    std::optional<Dimensioned> product() {
        auto value = power();
        for (;;) {
            const bool by = take('*'), over = !by && take('/');
            if (!by && !over) return value;
            const auto next = power();
            if (!value || !next) return std::nullopt;
            value = times(*value, *next, by ? 1 : -1);
        }
    }
    std::optional<Dimensioned> power() {
        auto value = atom();
        if (!take('^')) return value;
        const auto exponent = atom();
        if (!value || !exponent || exponent->powers != std::array<int, 5>{}) return std::nullopt;
        value->si = std::pow(value->si, exponent->si);
        for (int& p : value->powers) p *= static_cast<int>(exponent->si);
        return value;
    }
    std::optional<Dimensioned> atom() {
        skip();
        if (text_.substr(at_).starts_with("sqrt(")) {
            at_ += 5;
            auto inner = sum();
            if (!inner || !take(')')) return std::nullopt;
            inner->si = std::sqrt(inner->si);
            for (int& p : inner->powers) {
                if (p % 2 != 0) return std::nullopt;
                p /= 2;
            }
            return inner;
        }
        if (text_.substr(at_).starts_with("{}")) {
            at_ += 2;
            if (next_operand_ >= operands_.size()) return std::nullopt;
            return operands_[next_operand_++];
        }
        if (take('(')) {
            auto inner = sum();
            if (!inner || !take(')')) return std::nullopt;
            return inner;
        }
        return number_with_unit();
    }
    std::optional<Dimensioned> number_with_unit() {
        skip();
        Dimensioned value;
        const char* const begin = text_.data() + at_;
        const auto [end, error] =
            std::from_chars(begin, text_.data() + text_.size(), value.si, std::chars_format::fixed);
        if (error != std::errc{} || end == begin) return std::nullopt;
        at_ += static_cast<std::size_t>(end - begin);
        if (at_ + 1 >= text_.size() || text_[at_] != ' ') return value;
        const std::string_view rest = text_.substr(at_ + 1);
        const std::string_view word = rest.substr(0, rest.find_first_of(" )^"));
        const bool unit = !word.empty() && (std::isalpha(static_cast<unsigned char>(word.front())) ||
                                            word.front() == '%' || (word.size() > 1 && word.front() == '/'));
        if (!unit) return value;
        const auto size = unit_size(word);
        if (!size) return std::nullopt;
        at_ += 1 + word.size();
        return times(value, *size, 1);
    }

    std::string_view text_;
    std::span<const Dimensioned> operands_;
    std::size_t at_ = 0, next_operand_ = 0;
    int depth_ = 0;
};

}  // namespace

std::optional<Dimensioned> unit_size(std::string_view unit) {
    Dimensioned size{1, {}};
    int sign = 1;
    if (unit.starts_with('/')) {
        sign = -1;
        unit.remove_prefix(1);
    }
    while (!unit.empty()) {
        const std::size_t slash = std::min(unit.find('/'), unit.size());
        const std::string_view word = unit.substr(0, slash);
        const auto it = std::find_if(named_units.begin(), named_units.end(),
                                     [&](const NamedUnit& u) { return u.word == word; });
        if (it == named_units.end()) return std::nullopt;
        size = times(size, {it->scale, it->powers}, sign);
        unit = slash < unit.size() ? unit.substr(slash + 1) : std::string_view{};
        sign = -1;
    }
    return size;
}

std::optional<Dimensioned> evaluate(std::string_view text, std::span<const Dimensioned> operands) {
    return Reader(text, operands).whole();
}

}  // namespace benchfeed
