// What several tests need: random but repeatable inputs for any line, and files of the test folder.
#pragma once

#include "core/model/line.hpp"
#include "tests/tries.hpp"

#include <array>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

namespace wetsleeve::test {

// Repeatable on every machine and library, which the standard's own distributions are not. `place`
// tells the dice of one test from those of another; all of them hang on seed() of tries.hpp.
class Dice {
  public:
    explicit Dice(std::uint64_t place) : engine_(place + 0x9e3779b97f4a7c15 * seed()) {}
    // For a sample that is meant to be one and the same: no other seed changes it.
    static Dice always(std::uint64_t place) { return Dice(std::mt19937_64(place)); }
    double unit() { return static_cast<double>(engine_() >> 11U) * 0x1p-53; } // 0 <= x < 1
    std::size_t below(std::size_t n) {
        return static_cast<std::size_t>(unit() * static_cast<double>(n));
    }

  private:
    explicit Dice(std::mt19937_64 engine) : engine_(engine) {}
    std::mt19937_64 engine_;
};

// All lines; with WETSLEEVE_ONLY set in the environment, those whose id begins with it, so that a
// domain can be worked on without waiting for the others.
std::vector<const Line*> lines();

// How often a property is tried on a line: 100,000 times, or fewer where reckoning is slow
// (`seconds` is about what the line may take in all), but never less than 2,000 times. As often on
// every machine, however busy it is: else what is found would be chance.
int cases(const Line& line, double seconds = 4.0);

// A value of a slot's range: now an end of it, now the usual value, else evenly in size or in
// ratio.
double roll(const Slot& slot, Dice& dice);
std::array<double, Line::max_slots> roll_givens(const Line& line, Dice& dice);

// Bits of the slots that the sentence picked by these givens asks for.
std::uint32_t live_slots(const Line& line, const double* given);

// Throws when the file cannot be read: a missing table must not look like an empty one.
std::string read_file(const std::string& path_in_tests);
std::vector<std::string> split(const std::string& text, char at);
std::string trim(const std::string& text);

} // namespace wetsleeve::test
