#include "core/model/search.hpp"

#include <algorithm>

namespace wetsleeve {

namespace {

// À to ÿ as they are written without marks; ß is two letters, and × and ÷ are none.
constexpr std::string_view latin = "aaaaaaaceeeeiiiidnooooo ouuuuyps";

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); }

// Whether a word of the text begins so.
bool has_word(std::string_view text, std::string_view word) {
    for (std::size_t at = text.find(word); at != std::string_view::npos;
         at = text.find(word, at + 1))
        if (at == 0 || !is_letter(text[at - 1])) return true;
    return false;
}

} // namespace

std::string plain_letters(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto c = static_cast<unsigned char>(text[i]);
        if (c < 0x80) {
            out += static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
            continue;
        }
        const auto next = static_cast<unsigned char>(i + 1 < text.size() ? text[i + 1] : 0);
        const auto last = static_cast<unsigned char>(i + 2 < text.size() ? text[i + 2] : 0);
        if (c == 0xC3 && next >= 0x80) {
            out += latin[next & 0x1FU];
            if (next == 0x9F) out += 's'; // ß
        } else if (c == 0xC5 && (next == 0x92 || next == 0x93)) {
            out += "oe";
        } else if (c == 0xC5 && (next == 0x90 || next == 0x91)) {
            out += 'o'; // ő
        } else if (c == 0xC5 && (next == 0xB0 || next == 0xB1)) {
            out += 'u'; // ű
        } else if (c == 0xE2 && next == 0x82 && last >= 0x80 && last <= 0x89) {
            out += static_cast<char>('0' + (last - 0x80)); // ₂
        } else {
            out += ' ';
        }
        while (i + 1 < text.size() && (static_cast<unsigned char>(text[i + 1]) & 0xC0U) == 0x80U)
            ++i;
    }
    return out;
}

std::vector<const Line*> find_lines(const Session& session, std::string_view query) {
    std::vector<std::string> wanted;
    const std::string asked = plain_letters(query);
    for (std::size_t i = 0; i < asked.size(); ++i) {
        const bool letter = is_letter(asked[i]);
        if (letter && (i == 0 || !is_letter(asked[i - 1]))) wanted.emplace_back();
        if (letter) wanted.back() += asked[i];
    }

    std::vector<const Line*> found[3];
    for (const Line* line : session.catalogue()) {
        std::string text[3] = {plain_letters(session.say(line->about.title)),
                               plain_letters(session.keywords(*line)),
                               {}};
        for (const char* sentence : line->about.sentences)
            text[2] += plain_letters(session.say(sentence)) + ' ';
        for (const Slot& slot : line->slots) text[2] += plain_letters(session.say(slot.name)) + ' ';
        std::size_t best = 3;
        const bool all = std::all_of(wanted.begin(), wanted.end(), [&](const std::string& word) {
            for (std::size_t i = 0; i < 3; ++i)
                if (has_word(text[i], word)) {
                    best = std::min(best, i);
                    return true;
                }
            return false;
        });
        if (all) found[std::min(best, std::size_t{2})].push_back(line);
    }
    std::vector<const Line*> lines;
    for (const auto& some : found) lines.insert(lines.end(), some.begin(), some.end());
    return lines;
}

} // namespace wetsleeve
