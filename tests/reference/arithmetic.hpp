#pragma once
// A second, slow and obvious reader of printed arithmetic, for tests only: it shares nothing with the
// library. Numbers with units become numbers in SI base units; + - * / ^ ( ) sqrt are worked by recursion on
// the text.
#include <cmath>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

namespace benchfeed::reference {

inline double unit_scale(const std::string& unit) {
    static const std::map<std::string, double> scales{
        {"", 1},  {"V", 1},    {"mV", 1e-3},   {"A", 1},       {"mA", 1e-3},         {"kA", 1e3},
        {"W", 1}, {"kW", 1e3}, {"hp", 746},    {"VA", 1},      {"ohm", 1},           {"mohm", 1e-3},
        {"m", 1}, {"km", 1e3}, {"ft", 0.3048}, {"kft", 304.8}, {"mm2", 1e-6},        {"A2s", 1},
        {"s", 1}, {"degC", 1}, {"K", 1},       {"%", 0.01},    {"in3", 1.6387064e-5}};
    double scale = 1;
    std::string word;
    bool over = false;
    for (const char c : unit + "/") {
        if (c != '/') {
            word += c;
            continue;
        }
        const auto it = scales.find(word);
        if (it == scales.end()) throw std::runtime_error("unknown unit " + unit);
        scale = over ? scale / it->second : scale * it->second;
        over = true;
        word.clear();
    }
    return scale;
}

inline std::vector<std::string> words_of(const std::string& text) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : text + " ") {
        if (c == ' ' || c == '(' || c == ')') {
            if (!word.empty()) words.push_back(word);
            word.clear();
            if (c != ' ') words.emplace_back(1, c);
        } else {
            word += c;
        }
    }
    return words;
}

class Calculator {
public:
    explicit Calculator(const std::string& text) : words_(words_of(text)) {}
    double value() {
        const double v = sum();
        if (at_ != words_.size()) throw std::runtime_error("something is left over");
        return v;
    }

private:
    bool is(const char* word) const { return at_ < words_.size() && words_[at_] == word; }
    double sum() {
        double v = product();
        while (is("+") || is("-")) {
            const bool plus = is("+");
            ++at_;
            const double w = product();
            v = plus ? v + w : v - w;
        }
        return v;
    }
    double product() {
        double v = power();
        while (is("*") || is("/")) {
            const bool by = is("*");
            ++at_;
            const double w = power();
            v = by ? v * w : v / w;
        }
        return v;
    }
    double power() {
        const double v = atom();
        if (!is("^")) return v;
        ++at_;
        return std::pow(v, atom());
    }
    double atom() {
        if (at_ >= words_.size()) throw std::runtime_error("an operand is missing");
        if (is("sqrt")) {
            ++at_;
            return std::sqrt(atom());
        }
        if (is("(")) {
            ++at_;
            const double v = sum();
            if (!is(")")) throw std::runtime_error("a bracket is not closed");
            ++at_;
            return v;
        }
        const double number = std::stod(words_[at_++]);
        const bool unit =
            at_ < words_.size() && std::string("+-*/^()").find(words_[at_]) == std::string::npos;
        return unit ? number * unit_of(words_[at_++]) : number;
    }
    static double unit_of(const std::string& unit) { return unit_scale(unit); }

    std::vector<std::string> words_;
    std::size_t at_ = 0;
};

/// "2 * 13.3 ohm/km * 5 m" -> 0.133
inline double compute(const std::string& text) {
    return Calculator(text).value();
}

/// True when the numbers, worked as printed, give the result as printed.
inline bool recomputes(const std::string& numbers, const std::string& result) {
    const auto space = result.find(' ');
    const std::string digits = result.substr(0, space);
    const double scale = space == std::string::npos ? 1 : unit_scale(result.substr(space + 1));
    const auto dot = digits.find('.');
    const double decimals = dot == std::string::npos ? 0 : static_cast<double>(digits.size() - dot - 1);
    return std::abs(compute(numbers) / scale - std::stod(digits)) <=
           0.5 * std::pow(10.0, -decimals) * (1 + 1e-6);
}

/// True when a printed comparison holds as printed.
inline bool holds(const std::string& comparison) {
    for (const char* relation : {" <= ", " >= ", " > ", " < "}) {
        const auto at = comparison.find(relation);
        if (at == std::string::npos) continue;
        const std::string word = relation;
        const double left = compute(comparison.substr(0, at)),
                     right = compute(comparison.substr(at + word.size()));
        if (word == " > ") return left > right;
        if (word == " < ") return left < right;
        if (word == " <= ") return left <= right * (1 + 1e-12);
        return left >= right * (1 - 1e-12);
    }
    throw std::runtime_error("no comparison: " + comparison);
}

}  // namespace benchfeed::reference
