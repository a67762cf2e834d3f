#include "core/export/sentence.hpp"

namespace wetsleeve::record {

std::string sentence_in_words(const Session& session, std::size_t line) {
    const LineView view = session.view(line);
    std::string text;
    for (const Piece& piece : view.pieces) {
        if (piece.quiet) continue;
        if (piece.slot == Line::npos) {
            text += piece.words;
            continue;
        }
        const std::string value = view.slots[piece.slot].shown.both();
        text +=
            value.empty()
                ? compose("({0})", {session.say(session.slip().line(line).slots[piece.slot].name)})
                : value;
    }
    return text;
}

} // namespace wetsleeve::record
