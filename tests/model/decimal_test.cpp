// Decimal digits, held against the C++ library's: std::from_chars ([charconv.from.chars]) gives the
// nearest double, and the GNU C library's printf rounds right whatever the number (its
// manual, 12.12).
#include "core/model/decimal.hpp"

#include "tests/support.hpp"

#include <catch2/catch_test_macros.hpp>

#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <limits>
#include <string>

namespace wetsleeve {

namespace {

enum class How : std::uint8_t { with_decimals, with_exponent };
std::string printed(How how, int digits, double value) {
    std::array<char, 400> text{};
    if (how == How::with_decimals) std::snprintf(text.data(), text.size(), "%.*f", digits, value);
    else std::snprintf(text.data(), text.size(), "%.*e", digits, value);
    return text.data();
}
double any_double(test::Dice& dice) {
    const auto bits = static_cast<std::uint64_t>(std::ldexp(dice.unit(), 32)) << 32U |
                      static_cast<std::uint64_t>(std::ldexp(dice.unit(), 32));
    const double value = std::bit_cast<double>(bits);
    return std::isfinite(value) ? value : 0;
}

void check_read(const std::string& text) {
    double wanted = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), wanted);
    double value = 0;
    const bool read = read_decimal(text, value);
    CAPTURE(text, value, wanted);
    CHECK(read == (error == std::errc{}));
    if (read) CHECK(std::bit_cast<std::uint64_t>(value) == std::bit_cast<std::uint64_t>(wanted));
}
void check_written(double value) {
    CAPTURE(value);
    for (int decimals = 0; decimals <= 9; ++decimals)
        CHECK(write_decimals(value, decimals) == printed(How::with_decimals, decimals, value));
}

} // namespace

TEST_CASE("decimals are those that the C library writes") {
    for (const double value : {0.0,
                               0.5,
                               1.5,
                               2.5,
                               0.125,
                               0.375,
                               0.05,
                               0.15,
                               0.25,
                               1e-9,
                               5e-10,
                               1.5e-9,
                               2.5e-9,
                               1e15,
                               1e22,
                               0x1p53,
                               0.999999999949,
                               9.9999999995,
                               4294967295.5,
                               4294967296.5,
                               std::numeric_limits<double>::max(),
                               std::numeric_limits<double>::min(),
                               std::numeric_limits<double>::denorm_min()}) {
        check_written(value);
        check_written(-value);
    }
    test::Dice dice(7);
    for (int i = 0; i < test::tries(20000); ++i) {
        // Of any size, near those that people read, and halves.
        check_written(any_double(dice));
        check_written((dice.unit() - 0.5) * std::pow(10, static_cast<double>(dice.below(12)) - 4));
        check_written(static_cast<double>(dice.below(100000)) / 1024);
    }
}

TEST_CASE("what is read is the nearest double") {
    for (const char* text :
         {"0", "0.0", "0e5", "0e999999999", "1", "10", "1e22", "1e23", "0.5e-5", "9007199254740993",
          "9007199254740992.5", "123456789012345678901234567890",
          // The largest, and what is nearest to it or to infinity.
          "1.7976931348623157e308", "1.7976931348623158e308", "1.7976931348623159e308", "1e309",
          "1e400", "1e99999", "1e999999999",
          // The smallest, and what is nearest to it or to nought.
          "4.9e-324", "2.4703282292062327e-324", "2.4703282292062328e-324", "2.5e-324", "1e-400",
          "1e-999999999", "2.2250738585072011e-308", "2.2250738585072014e-308"}) {
        check_read(text);
        check_read(std::string("-") + text);
    }
    test::Dice dice(8);
    for (int i = 0; i < test::tries(20000); ++i) {
        check_read(printed(How::with_exponent, static_cast<int>(dice.below(20)), any_double(dice)));
        // Midway between two doubles, and a little more: far behind, too.
        const std::uint64_t odd =
            (std::uint64_t{1} << 53U | static_cast<std::uint64_t>(std::ldexp(dice.unit(), 53))) |
            1U;
        const std::string middle = std::to_string(odd);
        check_read(middle);
        check_read(middle + ".5");
        check_read(middle + "." + std::string(850, '0') + "1");
        check_read(middle + std::string(dice.below(280), '0'));
    }
}

TEST_CASE("what is no number in JSON is not read") {
    for (const char* text : {"", "-", ".5", "5.", "1x", "1e", "1e+", "1e-", "+1", "1.e5", "--1",
                             "1 ", " 1", "0x1p3", "nan", "inf", "1.5.2", "1,5"}) {
        CAPTURE(text);
        double value = 0;
        CHECK_FALSE(read_decimal(text, value));
    }
}

} // namespace wetsleeve
