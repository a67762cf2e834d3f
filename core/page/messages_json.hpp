// A language as presets/messages/*.json hold it: {"name": "Deutsch", "water.change": {"Water
// change": "Wasserwechsel", …}, …}. The groups are for those who read the file; texts count by
// themselves.
#pragma once

#include "core/model/messages.hpp"

#include <string>
#include <string_view>

namespace wetsleeve {

// Returns one sentence when the text is no such file.
std::string read_messages(std::string_view text, Messages& messages);
// The same file as the rows that Messages::add takes.
std::string messages_rows(std::string_view text, std::string& problem);

} // namespace wetsleeve
