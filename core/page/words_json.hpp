// The words of workings and for searching, kept apart from the lines: {"water.change": {"keywords":
// "…", "formula": ["…"], "assumes": ["…"], "sources": ["…"]}, …}, as the terminal face writes them.
#pragma once

#include "core/model/session.hpp"

#include <string>
#include <string_view>

namespace wetsleeve {

// Returns one sentence when the text is not such words; then nothing has changed.
std::string learn_words(Session& session, std::string_view text);
std::string words_json(std::span<const Line* const> lines, const Messages* messages);

} // namespace wetsleeve
