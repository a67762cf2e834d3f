// CBOR as hand-over links take it.
#include "core/link/cbor.hpp"
#include "tests/support.hpp"
#include "tests/tries.hpp"

#include <catch2/catch_test_macros.hpp>

#include <bit>
#include <cmath>
#include <limits>

namespace wetsleeve::record {

namespace {

std::string hex(std::string_view bytes) {
    static constexpr char digits[] = "0123456789abcdef";
    std::string text;
    for (const char c : bytes) {
        const auto byte = static_cast<unsigned char>(c);
        text += digits[byte >> 4U];
        text += digits[byte & 15U];
    }
    return text;
}

std::string number(double value) {
    cbor::Writer to;
    to.number(value);
    return hex(to.bytes());
}

// The same bits, and nothing left over.
void comes_back(double value) {
    cbor::Writer to;
    to.number(value);
    cbor::Reader from(to.bytes());
    const double back = from.number();
    CAPTURE(value, hex(to.bytes()));
    REQUIRE(std::bit_cast<std::uint64_t>(back) == std::bit_cast<std::uint64_t>(value));
    REQUIRE(!from.bad());
    REQUIRE(from.at_end());
}

bool refused(std::string_view bytes) {
    cbor::Reader from(bytes);
    (void)from.number();
    return from.bad();
}

} // namespace

// From memory: examples of RFC 8949, appendix A. tests/export/read_back.py reads whole links with
// another decoder.
TEST_CASE("numbers are written as the examples of RFC 8949") {
    CHECK(number(0) == "00");
    CHECK(number(23) == "17");
    CHECK(number(24) == "1818");
    CHECK(number(1000) == "1903e8");
    CHECK(number(1000000) == "1a000f4240");
    CHECK(number(1000000000000) == "1b000000e8d4a51000");
    CHECK(number(-1) == "20");
    CHECK(number(-1000) == "3903e7");
    CHECK(number(-0.0) == "f98000");
    CHECK(number(1.5) == "f93e00");
    CHECK(number(5.960464477539063e-8) == "f90001");
    CHECK(number(0.00006103515625) == "f90400");
    CHECK(number(3.4028234663852886e+38) == "fa7f7fffff");
    CHECK(number(1.0e+300) == "fb7e37e43c8800759c");
    CHECK(number(273.15) == "c48221196ab3"); // its example of a decimal fraction
    CHECK(number(0.5) == "f93800");
    CHECK(number(-4.1) == "c482203828");
}

TEST_CASE("any finite number comes back to the last bit") {
    for (const double value : {0.0,
                               -0.0,
                               1e-300,
                               -1e300,
                               std::numeric_limits<double>::min(),
                               std::numeric_limits<double>::denorm_min(),
                               std::numeric_limits<double>::max(),
                               0x1p53,
                               0x1p53 + 2,
                               -0x1p53,
                               65504.0,
                               65519.5,
                               65520.0,
                               65505.5,
                               0.1,
                               0.3,
                               1.0 / 3,
                               26.3,
                               1e22,
                               1e-22})
        comes_back(value);
    test::Dice dice(21);
    for (int i = 0, tries = test::tries(200000); i < tries; ++i) {
        comes_back(std::round(dice.unit() * 1e6) / 1000);
        comes_back((dice.unit() - 0.5) * std::pow(10.0, 40 * dice.unit() - 20));
        comes_back(
            std::ldexp(std::floor(2048 * dice.unit()), static_cast<int>(dice.below(40)) - 30));
        const double bits =
            std::bit_cast<double>(static_cast<std::uint64_t>(dice.unit() * 0x1p32) << 32U |
                                  static_cast<std::uint64_t>(dice.unit() * 0x1p32));
        if (std::isfinite(bits)) comes_back(bits);
    }
}

TEST_CASE("what is not as it should be is refused") {
    using std::string_view_literals::operator""sv;
    CHECK(refused(""));
    CHECK(refused("\x18\x17"sv));           // a longer way to say 23
    CHECK(refused("\x1b\0\0\0\0\0\0\0"sv)); // cut short
    CHECK(refused("\xf9\x7c\0"sv));         // infinity
    CHECK(refused("\xf9\x7e\0"sv));         // no number
    CHECK(refused("\xfb\x7f\xf0\0\0\0\0\0\0"sv));
    CHECK(refused("\x1b\xff\xff\xff\xff\xff\xff\xff\xff"sv)); // more than a double counts
    CHECK(refused("\xc4\x82\x01\x01"sv));                     // ten, said as a fraction
    CHECK(refused("\xc4\x82\x38\x63\x01"sv));                 // 100 decimals
    CHECK(refused("\xc4\x83\x20\x01\x01"sv));
    CHECK(refused("\xc4\x82\x20\xf9\x3c\0"sv));
    CHECK(refused("\x61\x61"sv)); // text

    cbor::Reader more_than_there_is("\x9a\xff\xff\xff\xff"sv);
    CHECK(more_than_there_is.array() == 0);
    CHECK(more_than_there_is.bad());
    cbor::Reader endless("\x9f\x01\xff"sv);
    CHECK(endless.array() == 0);
    CHECK(endless.bad());
    cbor::Reader long_text("\x7b\xff\xff\xff\xff\xff\xff\xff\xff"
                           "a"sv);
    CHECK(long_text.text().empty());
    CHECK(long_text.bad());
}

TEST_CASE("what a reader does not know is passed over, unless it is too deep or cut") {
    using std::string_view_literals::operator""sv;
    for (const auto item : {"\x05"sv, "\x39\x01\0"sv,
                            "\x43"
                            "abc"sv,
                            "\x63"
                            "abc"sv,
                            "\x82\x01\x81\xf6"sv, "\xa1\x01\xa1\x02\x03"sv, "\xc1\x05"sv, "\xf5"sv,
                            "\xf8\x20"sv, "\xf9\x7e\0"sv, "\xfa\0\0\0\0"sv}) {
        const std::string bytes = std::string(item) + "\x07";
        cbor::Reader from(bytes);
        from.skip();
        CHECK(from.whole() == 7);
        CHECK(!from.bad());
        cbor::Reader cut(item.substr(0, item.size() - 1));
        cut.skip();
        CHECK(cut.bad());
    }
    cbor::Reader deep(std::string_view("\x81\x81\x81\x81\x81\x81\x81\x81\x81\x81\x81\x01"));
    deep.skip();
    CHECK(deep.bad());
    for (const auto wrong : {"\x1f"sv, "\xff"sv, "\xfc"sv, "\x5f\x41\x61\xff"sv}) {
        cbor::Reader from(wrong);
        from.skip();
        CHECK(from.bad());
    }
}

} // namespace wetsleeve::record
