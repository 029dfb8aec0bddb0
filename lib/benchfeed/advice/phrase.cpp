#include <benchfeed/advice/phrase.hpp>

#include <algorithm>
#include <array>

namespace benchfeed::advice {

namespace {

constexpr std::array<std::string_view, 23> units{"A",   "mA",  "kA",   "V",  "W",     "kW",   "VA",   "kVA",
                                                 "hp",  "m",   "cm",   "mm", "ft",    "in",   "mm2",  "mm²",
                                                 "AWG", "ohm", "mohm", "Hz", "poles", "pole", "cores"};

std::vector<std::string> split(std::string_view text) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : text) {
        if (c != ' ' && c != ',' && c != '\t') {
            word += c;
        } else if (!word.empty()) {
            words.push_back(std::move(word));
            word.clear();
        }
    }
    if (!word.empty()) words.push_back(std::move(word));
    return words;
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// "7.0", "1/2", "220-240", "16(10)", "230/400".
bool is_number(std::string_view word) {
    return !word.empty() && is_digit(word.front()) &&
           word.find_first_not_of("0123456789./-()") == std::string_view::npos;
}

/// The unit as a plan writes it, whatever the case of "w" and "HP"; "" for no unit. mA and MA differ.
std::string_view unit_of(std::string_view word) {
    const auto exact = std::find(units.begin(), units.end(), word);
    if (exact != units.end()) return *exact;
    const auto alike = std::find_if(units.begin(), units.end(), [&](std::string_view unit) {
        return unit.size() > 1 && !unit.starts_with('m') && small(unit) == small(word);
    });
    return alike == units.end() ? std::string_view{} : *alike;
}

/// "30mA" parted in "30" and "mA"; a word alone for any other.
std::vector<std::string> parted(const std::string& word) {
    const auto end = word.find_first_not_of("0123456789./-()");
    if (end == 0 || end == std::string::npos || !is_digit(word.front())) return {word};
    std::string number = word.substr(0, end), unit = word.substr(end);
    if (number.ends_with('-')) number.pop_back();  // "2-pole"
    if (unit_of(unit).empty() || number.empty()) return {word};
    return {number, unit};
}

}  // namespace

std::string small(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return out;
}

Phrase::Phrase(std::string_view text) {
    std::vector<std::string> parts;
    for (const std::string& word : split(text))
        for (std::string& part : parted(word)) parts.push_back(std::move(part));
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const std::string_view unit =
            i + 1 < parts.size() && is_number(parts[i]) ? unit_of(parts[i + 1]) : "";
        words_.push_back({unit.empty() ? parts[i] : parts[i] + " " + std::string(unit)});
        if (!unit.empty()) ++i;
    }
}

std::string Phrase::take_quantity(std::initializer_list<std::string_view> wanted) {
    for (Word& word : words_) {
        const auto space = word.text.find(' ');
        if (word.taken || space == std::string::npos) continue;
        const std::string_view unit = std::string_view(word.text).substr(space + 1);
        if (std::find(wanted.begin(), wanted.end(), unit) == wanted.end()) continue;
        word.taken = true;
        return word.text;
    }
    return "";
}

std::size_t Phrase::find(const std::vector<std::string>& wanted) const {
    for (std::size_t i = 0; i + wanted.size() <= words_.size(); ++i) {
        std::size_t same = 0;
        while (same < wanted.size() && !words_[i + same].taken &&
               small(words_[i + same].text) == small(wanted[same]))
            ++same;
        if (same == wanted.size()) return i;
    }
    return words_.size();
}

bool Phrase::take(std::string_view words) {
    // The words are read as the answer is: a number in them joins its unit.
    std::vector<std::string> wanted;
    for (const Word& word : Phrase(words).words_) wanted.push_back(word.text);
    const std::size_t at = find(wanted);
    if (at == words_.size() || wanted.empty()) return false;
    for (std::size_t i = 0; i < wanted.size(); ++i) words_[at + i].taken = true;
    return true;
}

std::string Phrase::take_behind(std::string_view words) {
    const std::vector<std::string> wanted = split(words);
    const std::size_t at = find(wanted), behind = at + wanted.size();
    if (at == words_.size() || behind >= words_.size() || words_[behind].taken) return "";
    for (std::size_t i = at; i <= behind; ++i) words_[i].taken = true;
    return words_[behind].text;
}

std::string Phrase::take_if(bool (*fits)(std::string_view)) {
    const auto it = std::find_if(words_.begin(), words_.end(),
                                 [&](const Word& word) { return !word.taken && fits(word.text); });
    if (it == words_.end()) return "";
    it->taken = true;
    return it->text;
}

std::string Phrase::take_name() {
    std::string name;
    for (Word& word : words_) {
        const bool counted = !name.empty() || is_digit(word.text.front());  // "t1" is a name, "16 A" is none
        if (word.taken || (counted && std::any_of(word.text.begin(), word.text.end(), is_digit))) break;
        word.taken = true;
        name += (name.empty() ? "" : " ") + word.text;
    }
    return name;
}

std::vector<std::string> Phrase::left() const {
    std::vector<std::string> words;
    for (const Word& word : words_)
        if (!word.taken) words.push_back(word.text);
    return words;
}

}  // namespace benchfeed::advice
