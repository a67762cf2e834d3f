// How calls reply: what they give, as JSON.
#pragma once

#include "core/page/calls.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>

namespace wetsleeve::page {

// JSON already.
struct Json {
    std::string text;
};

Reply reply(Json json);
Reply reply(bool yes);
Reply reply(std::uint32_t number);
Reply reply(std::string_view text);
inline Reply reply(Reply made) { return made; }
inline Reply refused(std::string problem) { return {.json = {}, .problem = std::move(problem)}; }

} // namespace wetsleeve::page
