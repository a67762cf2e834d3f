// How often what is random is tried, and by which seed.
#pragma once

#include <cstdint>

namespace wetsleeve::test {

// `usual` times; or fewer, where each try takes long, as under Valgrind: WETSLEEVE_TRIES in the
// environment is the most.
int tries(int usual);

// What is random comes out the same on every run and machine: of this seed, which is 0 unless
// WETSLEEVE_SEED in the environment says otherwise (`tests/run fresh` does).
std::uint64_t seed();

// A seed that once found something, as long as it lives: then seed() is that one.
class Seeded {
  public:
    explicit Seeded(std::uint64_t seed);
    ~Seeded();
    Seeded(const Seeded&) = delete;
    Seeded& operator=(const Seeded&) = delete;
};

} // namespace wetsleeve::test
