// refused: sentence_names_a_slot_twice
#include "tests/refused/small_line.hpp"

namespace wetsleeve {
struct Line1 : test::Small {
    static constexpr About about =
        test::about("Of {whole} the share {share} is {part}, yes {part}.");
};
WETSLEEVE_LINE(Line1);
} // namespace wetsleeve
