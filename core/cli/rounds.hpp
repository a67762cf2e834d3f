// Commands over a book's rounds, histories, due dates and tanks to build. Texts in, texts out, as
// records.hpp.
#pragma once

#include "core/cli/records.hpp"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace wetsleeve::cli {

// Options as they were typed, in their order: "--stored" and "300 L".
using Options = std::vector<std::pair<std::string, std::string>>;

// Whether the command has an option of this name; all take a value but --ical and --csv.
bool knows_option(std::string_view command, std::string_view option);
bool takes_value(std::string_view option);

// `today` is "2026-05-04", `now` as in visits().
Said round_of(std::string_view text, const Options& options, std::string_view today);
Said history_of(std::string_view text, const std::string& tank, const std::string& quantity,
                const Options& options);
// What to get for a new tank and how to build it; `csv`: what to get as a table.
Said build_of(std::string_view text, const std::string& tank, const Options& options);
Said due_of(std::string_view text, const Options& options, std::string_view today,
            std::string_view now);

} // namespace wetsleeve::cli
