#include "tests/tries.hpp"

#include <algorithm>
#include <cstdlib>

namespace wetsleeve::test {

namespace {

std::uint64_t told_seed() {
    const char* told = std::getenv("WETSLEEVE_SEED"); // NOLINT(concurrency-mt-unsafe)
    return told == nullptr ? 0 : std::strtoull(told, nullptr, 10);
}

std::uint64_t& present_seed() {
    static std::uint64_t seed = told_seed();
    return seed;
}

} // namespace

int tries(int usual) {
    const char* most = std::getenv("WETSLEEVE_TRIES"); // NOLINT(concurrency-mt-unsafe)
    return most == nullptr ? usual : std::min(usual, std::atoi(most)); // NOLINT(cert-err34-c)
}

std::uint64_t seed() { return present_seed(); }

Seeded::Seeded(std::uint64_t seed) { present_seed() = seed; }
Seeded::~Seeded() { present_seed() = told_seed(); }

} // namespace wetsleeve::test
