#include "tests/tries.hpp"

#include <algorithm>
#include <cstdlib>

namespace wetsleeve::test {

int tries(int usual) {
    const char* most = std::getenv("WETSLEEVE_TRIES"); // NOLINT(concurrency-mt-unsafe)
    return most == nullptr ? usual : std::min(usual, std::atoi(most)); // NOLINT(cert-err34-c)
}

} // namespace wetsleeve::test
