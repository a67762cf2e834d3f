// How calls reply: what they give, as JSON.
#pragma once

#include "core/page/calls.hpp"

#include <cstdint>
#include <string>
#include <string_view>

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
// What a function that may refuse has made.
inline Reply reply_unless(std::string problem, std::string json) {
    return problem.empty() ? reply(Json{std::move(json)}) : refused(std::move(problem));
}

} // namespace wetsleeve::page
