// refused: slot_needs_a_range
#include "tests/refused/small_line.hpp"

namespace wetsleeve {
struct Line1 : test::Small {
    static constexpr About about = test::about("Of {whole} the share {share} is {part}.");
    static constexpr std::tuple slots{
        given<&In::whole>({.id = "whole", .name = "the whole"}),
        given<&In::share>({.id = "share", .name = "the share", .range = {0, 100}}),
        answer<&Out::part>(
            {.id = "part", .name = "the part", .range = {0, 10}, .gives_way = {"share"}})};
};
WETSLEEVE_LINE(Line1);
} // namespace wetsleeve
