#pragma once
// An answer in the words of plates and shops, taken apart by whoever knows its words: "saw 1600 W 7.0 A".
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace benchfeed::advice {

/// The words of one answer. A number and its unit are one word, however they are spaced: "30mA" is "30 mA".
class Phrase {
public:
    /// Commas and spaces part words.
    explicit Phrase(std::string_view text);

    /// The first quantity with one of these units, as a plan writes it; "" where there is none.
    [[nodiscard]] std::string take_quantity(std::initializer_list<std::string_view> units);
    /// These words, one after the other, in whatever case. Whether they were there.
    bool take(std::string_view words);
    /// The word behind these words: "saw" of "starts with saw"; "" where they are not there.
    [[nodiscard]] std::string take_behind(std::string_view words);
    /// The first word that fits; "" where none does.
    [[nodiscard]] std::string take_if(bool (*fits)(std::string_view));
    /// Words before the first one that was taken or holds a digit: the name of a thing. Its first word may
    /// hold digits behind a letter.
    [[nodiscard]] std::string take_name();
    /// What nobody has taken.
    [[nodiscard]] std::vector<std::string> left() const;

private:
    /// One word and whether somebody has taken it.
    struct Word {
        std::string text;
        bool taken = false;
    };
    /// Where these words begin among those that are left; words_.size() where they do not.
    [[nodiscard]] std::size_t find(const std::vector<std::string>& wanted) const;
    std::vector<Word> words_;
};

/// Letters of ASCII made small.
[[nodiscard]] std::string small(std::string_view text);

}  // namespace benchfeed::advice
