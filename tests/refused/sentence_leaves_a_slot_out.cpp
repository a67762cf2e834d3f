// refused: sentence_leaves_a_slot_out
#include "tests/refused/small_line.hpp"

namespace wetsleeve {
struct Line1 : test::Small {
    static constexpr About about = test::about("Of {whole} the share {share} is.");
};
WETSLEEVE_LINE(Line1);
} // namespace wetsleeve
