// refused: needs_a_source
#include "tests/refused/small_line.hpp"

namespace wetsleeve {
struct Line1 : test::Small {
    static constexpr About about{.id = "test.small",
                                 .title = "Small",
                                 .keywords = "small",
                                 .sentences = {"Of {whole} the share {share} is {part}."},
                                 .formula = {"{part} = {whole} × {share}"},
                                 .assumes = {"Nothing."}};
};
WETSLEEVE_LINE(Line1);
} // namespace wetsleeve
