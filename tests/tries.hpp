// How often what is random is tried.
#pragma once

namespace wetsleeve::test {

// `usual` times; or fewer, where each try takes long, as under Valgrind: WETSLEEVE_TRIES in the
// environment is the most.
int tries(int usual);

} // namespace wetsleeve::test
