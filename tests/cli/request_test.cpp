// The terminal face: what it answers, and what it says when it cannot.
#include "core/cli/request.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

namespace wetsleeve::cli {

namespace {

using Catch::Matchers::ContainsSubstring;

Answer ask(const char* line, const std::vector<std::pair<const char*, const char*>>& entries,
           Style style = {}) {
    Request request{line, {}, style};
    for (const auto& [slot, text] : entries) request.entries.push_back({slot, text, blank});
    return Answer(request);
}

} // namespace

TEST_CASE("a change is answered in a sentence") {
    const Answer answer = ask("water.change", {{"share", "50%"},
                                               {"net_water", "287L"},
                                               {"inside_floor", "0.81"},
                                               {"water_height", "42"}});
    REQUIRE(answer.problem().empty());
    CHECK_THAT(answer.sentences(),
               ContainsSubstring("Drain 50\u00a0% of 287\u00a0L: that is 144\u00a0L"));
    CHECK_THAT(answer.working(), ContainsSubstring("143.5\u00a0L = 50\u00a0% × 287\u00a0L"));
    CHECK_THAT(answer.json(), ContainsSubstring("\"refill\":{\"role\":\"answer\",\"value\":143.5"));
}

TEST_CASE("an answer typed over says what gave way") {
    const Answer answer = ask("water.change", {{"refill", "120L"},
                                               {"net_water", "287L"},
                                               {"inside_floor", "0.81"},
                                               {"water_height", "42"}});
    REQUIRE(answer.problem().empty());
    CHECK_THAT(answer.sentences(),
               ContainsSubstring("What gave way: share to drain, now 41.8\u00a0%"));
    CHECK_THAT(answer.json(), ContainsSubstring("\"gave_way\":\"share\""));
}

TEST_CASE("a wrong name, unit, number or range is one sentence with what is allowed") {
    CHECK_THAT(ask("water.chnage", {}).problem(),
               ContainsSubstring("There is no line “water.chnage”: it can be geometry.box"));
    CHECK_THAT(ask("water.change", {{"percent", "50"}}).problem(),
               ContainsSubstring("it can be share, net_water"));
    CHECK_THAT(ask("water.change", {{"share", "50 L"}}).problem(),
               ContainsSubstring("is not a unit of share: use %"));
    CHECK_THAT(ask("water.change", {{"share", "half"}}).problem(),
               ContainsSubstring("is not a number"));
    CHECK_THAT(ask("water.change", {{"share", "120%"}}).problem(),
               ContainsSubstring("it can be 0\u00a0% to 100\u00a0%"));
    CHECK_THAT(ask("water.change", {}).problem(),
               ContainsSubstring("still needs net_water (net water, 0.1\u00a0L to"));
    CHECK_THAT(ask("water.change", {{"refill", "1"}, {"drop", "1"}}).problem(),
               ContainsSubstring("only one of them"));
    CHECK_THAT(ask("circulation.skimmer", {{"schedule", "1"}}).problem(),
               ContainsSubstring("no slot of circulation.skimmer"));
    CHECK_THAT(ask("water.blend",
                   {{"target", "500"}, {"tap_tds", "400"}, {"ro_tds", "0"}, {"refill", "100"}})
                   .problem(),
               ContainsSubstring("no blend gets there"));
}

TEST_CASE("requests in JSON are read strictly") {
    Request request;
    CHECK(
        read_request(
            R"({"line":"water.change","given":{"share":50,"net_water":"287 L"},"system":"us","id":7})",
            request)
            .empty());
    CHECK(request.line == "water.change");
    CHECK(request.entries.size() == 2);
    CHECK(request.style.system == System::us);
    for (const char* wrong :
         {"", "[]", "{\"line\":1}", "{\"lines\":\"x\"}", "{\"line\":\"x\",\"given\":{\"a\":[]}}",
          "{\"line\":\"x\",\"given\":{\"a\":\"\"}}", "{\"line\":\"x\",\"system\":\"roman\"}"}) {
        Request other;
        INFO(wrong);
        CHECK_FALSE(read_request(wrong, other).empty());
    }
}

} // namespace wetsleeve::cli
