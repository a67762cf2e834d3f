#include "core/link/cbor.hpp"

#include <cmath>
#include <cstring>

namespace wetsleeve::record::cbor {

namespace {

// std::bit_cast, which Emscripten's library lacks.
template <class To, class From> To same_bits(const From& from) {
    static_assert(sizeof(To) == sizeof(From));
    To to{};
    std::memcpy(&to, &from, sizeof to);
    return to;
}

constexpr double exact_integers = 0x1p53;
constexpr int most_decimals = 22; // 10^22 is exact, so m / 10^n rounds once

double power_of_ten(int n) {
    double power = 1;
    for (; n > 0; --n) power *= 10;
    return power;
}

// The bits of the half float that is exactly x; false when there is none.
bool as_half(double x, std::uint64_t& bits) {
    int exponent = 0;
    const double size = std::fabs(x);
    (void)std::frexp(size, &exponent);
    if (size == 0 || exponent < -13) exponent = -13; // subnormal from there down
    const double units = std::ldexp(size, 11 - exponent);
    if (exponent > 16 || units != std::floor(units)) return false;
    // A normal one's leading bit adds one to the exponent's field.
    bits = (std::signbit(x) ? 0x8000U : 0U) + (static_cast<std::uint64_t>(exponent + 13) << 10U) +
           static_cast<std::uint64_t>(units);
    return true;
}

double from_half(std::uint64_t bits) {
    const int exponent = static_cast<int>(bits >> 10U & 31U);
    const auto fraction = static_cast<double>(bits & 1023U);
    const double size = exponent == 31  ? INFINITY
                        : exponent == 0 ? std::ldexp(fraction, -24)
                                        : std::ldexp(fraction + 1024, exponent - 25);
    return (bits & 0x8000U) != 0 ? -size : size;
}

} // namespace

void Writer::big_endian(std::uint64_t n, unsigned bytes) {
    for (; bytes > 0; --bytes) bytes_ += static_cast<char>(n >> (8 * (bytes - 1)) & 255U);
}

void Writer::head(unsigned major, std::uint64_t n) {
    const unsigned bytes = n < 24 ? 0 : n < 0x100 ? 1 : n < 0x10000 ? 2 : n < 0x100000000 ? 4 : 8;
    const unsigned info = bytes == 0   ? static_cast<unsigned>(n)
                          : bytes == 1 ? 24
                          : bytes == 2 ? 25
                          : bytes == 4 ? 26
                                       : 27;
    bytes_ += static_cast<char>(major << 5U | info);
    big_endian(n, bytes);
}

void Writer::number(double value) {
    const auto integer = [&](double n) {
        if (n < 0) head(1, static_cast<std::uint64_t>(-1 - n));
        else head(0, static_cast<std::uint64_t>(n));
    };
    if (value == std::floor(value) && std::fabs(value) < exact_integers &&
        !(value == 0 && std::signbit(value)))
        return integer(value);

    std::uint64_t bits = 0;
    if (as_half(value, bits)) {
        bytes_ += '\xf9';
        return big_endian(bits, 2);
    }
    // Every size is at least 5 from here; a decimal fraction takes 4 to 12.
    const auto single = static_cast<float>(value);
    const bool fits_single = static_cast<double>(single) == value;
    const std::size_t float_size = fits_single ? 5 : 9;
    double power = 1;
    for (int n = 1; n <= most_decimals; ++n) {
        power *= 10;
        const double mantissa = std::nearbyint(value * power);
        if (!(std::fabs(mantissa) < exact_integers)) break;
        if (mantissa / power != value) continue;
        Writer fraction;
        fraction.bytes_ = "\xc4\x82";
        fraction.head(1, static_cast<std::uint64_t>(n - 1));
        const double size = mantissa < 0 ? -1 - mantissa : mantissa;
        fraction.head(mantissa < 0 ? 1 : 0, static_cast<std::uint64_t>(size));
        if (fraction.bytes_.size() >= float_size) break;
        bytes_ += fraction.bytes_;
        return;
    }
    if (fits_single) {
        bytes_ += '\xfa';
        return big_endian(same_bits<std::uint32_t>(single), 4);
    }
    bytes_ += '\xfb';
    big_endian(same_bits<std::uint64_t>(value), 8);
}

std::uint64_t Reader::big_endian(unsigned bytes) {
    std::uint64_t n = 0;
    if (rest_.size() < bytes) {
        fail();
        return 0;
    }
    for (unsigned i = 0; i < bytes; ++i) n = n << 8U | static_cast<unsigned char>(rest_[i]);
    rest_.remove_prefix(bytes);
    return n;
}

// What the head of the next item says beside its kind.
std::uint64_t Reader::argument() {
    if (rest_.empty()) {
        fail();
        return 0;
    }
    const unsigned info = static_cast<unsigned char>(rest_[0]) & 31U;
    rest_.remove_prefix(1);
    if (info < 24) return info;
    if (info > 27) {
        fail();
        return 0;
    }
    const std::uint64_t n = big_endian(1U << (info - 24));
    static constexpr std::uint64_t least[] = {24, 0x100, 0x10000, 0x100000000};
    if (n < least[info - 24]) fail(); // there is a shorter way to say it
    return bad_ ? 0 : n;
}

std::uint64_t Reader::head(unsigned wanted) {
    if (major() != wanted) {
        fail();
        return 0;
    }
    return argument();
}

std::string_view Reader::text() {
    const std::uint64_t size = head(3);
    if (size > rest_.size()) {
        fail();
        return {};
    }
    const std::string_view text = rest_.substr(0, static_cast<std::size_t>(size));
    rest_.remove_prefix(text.size());
    return text;
}

std::size_t Reader::list(unsigned wanted, std::size_t least_bytes) {
    const std::uint64_t items = head(wanted);
    if (items > rest_.size() / least_bytes) {
        fail();
        return 0;
    }
    return static_cast<std::size_t>(items);
}

void Reader::yes() {
    if (rest_.empty() || rest_[0] != '\xf5') fail();
    else rest_.remove_prefix(1);
}

void Reader::null() {
    if (!next_is_null()) fail();
    else rest_.remove_prefix(1);
}

double Reader::integer() {
    const bool negative = major() == 1;
    const std::uint64_t n = head(negative ? 1 : 0);
    if (n > static_cast<std::uint64_t>(exact_integers)) fail();
    const auto size = static_cast<double>(n);
    return bad_ ? 0 : negative ? -1 - size : size;
}

double Reader::number() {
    if (rest_.empty()) fail();
    if (bad_) return 0;
    double value = 0;
    switch (rest_[0]) {
    case '\xf9':
        rest_.remove_prefix(1);
        value = from_half(big_endian(2));
        break;
    case '\xfa':
        rest_.remove_prefix(1);
        value = same_bits<float>(static_cast<std::uint32_t>(big_endian(4)));
        break;
    case '\xfb':
        rest_.remove_prefix(1);
        value = same_bits<double>(big_endian(8));
        break;
    case '\xc4': {
        rest_.remove_prefix(1);
        if (array() != 2) fail();
        const double exponent = integer();
        const double mantissa = integer();
        if (exponent > -1 || exponent < -most_decimals) fail();
        else value = mantissa / power_of_ten(static_cast<int>(-exponent));
        break;
    }
    default:
        value = integer();
    }
    if (!std::isfinite(value)) fail();
    return bad_ ? 0 : value;
}

void Reader::skip(int depth) {
    switch (major()) {
    case 2:
    case 3: {
        const std::uint64_t size = argument();
        if (size > rest_.size()) fail();
        else rest_.remove_prefix(static_cast<std::size_t>(size));
        break;
    }
    case 4:
    case 5: {
        const bool pairs = major() == 5;
        std::size_t items = pairs ? 2 * map() : array();
        if (depth == 0) fail();
        for (; items > 0 && !bad_; --items) skip(depth - 1);
        break;
    }
    case 6:
        (void)argument();
        if (depth == 0) fail();
        else skip(depth - 1);
        break;
    case 7: {
        // What follows is a float's bits, or a simple value.
        const unsigned info = static_cast<unsigned char>(rest_[0]) & 31U;
        rest_.remove_prefix(1);
        if (info >= 24) (void)big_endian(info > 27 ? 9999999 : 1U << (info - 24));
        break;
    }
    default:
        (void)argument();
    }
}

} // namespace wetsleeve::record::cbor
