// The smallest line there is; each test spoils one thing in it.
#pragma once

#include "core/model/line.hpp"

namespace wetsleeve::test {

struct Small {
    struct In {
        Litres whole;
        Percent share;
    };
    struct Out {
        Litres part;
    };
    static constexpr std::tuple slots{
        given<&In::whole>({.id = "whole", .name = "the whole", .range = {0, 10}}),
        given<&In::share>({.id = "share", .name = "the share", .range = {0, 100}}),
        answer<&Out::part>(
            {.id = "part", .name = "the part", .range = {0, 10}, .gives_way = {"share"}})};
    static Result<Out> reckon(const In& in) {
        return Out{.part = {in.whole.value * in.share.value / 100}};
    }
};

constexpr About about(const char* sentence) {
    return {.id = "test.small",
            .title = "Small",
            .keywords = "small",
            .sentences = {sentence},
            .formula = {"{part} = {whole} × {share}"},
            .sources = {{"test", "A test."}},
            .assumes = {"Nothing."}};
}

} // namespace wetsleeve::test
