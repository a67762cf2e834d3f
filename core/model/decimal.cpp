#include "core/model/decimal.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <vector>

namespace wetsleeve {

namespace {

constexpr int mantissa_bits = 53;
constexpr int least_exponent = -1074; // of the last bit of a double

// A whole number without bounds, lowest part first.
class Large {
    using Part = std::uint32_t;

  public:
    explicit Large(std::uint64_t n) : parts_{static_cast<Part>(n), static_cast<Part>(n >> bits)} {
        trim();
    }

    void times(Part n, Part plus = 0) {
        std::uint64_t carry = plus;
        for (Part& part : parts_) {
            carry += std::uint64_t{part} * n;
            part = static_cast<Part>(carry);
            carry >>= bits;
        }
        if (carry > 0) parts_.push_back(static_cast<Part>(carry));
    }
    // Divides, and gives what is left over.
    Part over(Part n) {
        std::uint64_t rest = 0;
        for (std::size_t i = parts_.size(); i > 0; --i) {
            rest = rest << bits | parts_[i - 1];
            parts_[i - 1] = static_cast<Part>(rest / n);
            rest %= n;
        }
        trim();
        return static_cast<Part>(rest);
    }
    // By a power of two. Down, it is rounded; `more`: there was something behind it already.
    void shift(int by, bool more = false) {
        constexpr int most = 16; // bits at a time
        bool half = false;       // the bit after the last
        for (int step = 0; by != 0; by -= by > 0 ? step : -step) {
            step = std::min(std::abs(by), most);
            const Part power = 1U << static_cast<unsigned>(step);
            if (by > 0) {
                times(power);
                continue;
            }
            const Part rest = over(power);
            more = more || half || rest % (power / 2) != 0;
            half = rest >= power / 2;
        }
        if (half && (more || odd())) times(1, 1);
    }

    bool nought() const { return parts_.empty(); }
    int width() const { // bits from the first that is set
        return nought() ? 0
                        : static_cast<int>(parts_.size() * bits) - std::countl_zero(parts_.back());
    }
    // Of at most 64 bits.
    std::uint64_t low() const {
        std::uint64_t n = 0;
        for (std::size_t i = std::min<std::size_t>(parts_.size(), 2); i > 0; --i)
            n = n << bits | parts_[i - 1];
        return n;
    }

  private:
    static constexpr unsigned bits = 32;

    bool odd() const { return !parts_.empty() && (parts_[0] & 1U) != 0; }
    void trim() {
        while (!parts_.empty() && parts_.back() == 0) parts_.pop_back();
    }

    std::vector<Part> parts_;
};

// A number taken apart: digits × 10^exponent.
struct Decimal {
    bool negative = false;
    Large digits{0};
    int exponent = 0;
    bool more = false; // it has digits behind these that count
};

bool take_apart(std::string_view text, Decimal& number) {
    // More than 767 digits never decide which double is nearest, but for whether any follow.
    constexpr int most_digits = 800;
    constexpr int most_exponent = 100000000;
    number.negative = text.starts_with('-');
    if (number.negative) text.remove_prefix(1);
    int read = 0;
    bool behind = false; // the point
    for (bool any = false; !text.empty(); text.remove_prefix(1)) {
        if (text[0] == '.' && any && !behind) {
            behind = true;
            any = false; // one must follow
            continue;
        }
        if (!is_digit(text[0])) {
            if (!any) return false;
            break;
        }
        any = true;
        if (read < most_digits) {
            number.digits.times(10, static_cast<std::uint32_t>(text[0] - '0'));
            if (!number.digits.nought()) ++read;
            if (behind) --number.exponent;
        } else {
            number.more = number.more || text[0] != '0';
            if (!behind) ++number.exponent;
        }
        if (text.size() == 1) return true;
    }
    if (text.empty() || (text[0] != 'e' && text[0] != 'E')) return false;
    text.remove_prefix(1);
    const bool down = text.starts_with('-');
    if (down || text.starts_with('+')) text.remove_prefix(1);
    if (text.empty()) return false;
    int exponent = 0;
    for (const char c : text) {
        if (!is_digit(c)) return false;
        exponent = std::min(exponent * 10 + (c - '0'), most_exponent);
    }
    number.exponent += down ? -exponent : exponent;
    return true;
}

} // namespace

std::string write_decimals(double value, int decimals) {
    int exponent = 0;
    const double part = std::frexp(std::fabs(value), &exponent);
    Large number(static_cast<std::uint64_t>(std::ldexp(part, mantissa_bits)));
    for (int i = 0; i < decimals; ++i) number.times(10);
    number.shift(exponent - mantissa_bits);

    std::string text; // from behind
    for (int i = 0; i <= decimals || !number.nought(); ++i) {
        if (i == decimals && i > 0) text += '.';
        text += static_cast<char>('0' + number.over(10));
    }
    if (std::signbit(value)) text += '-';
    std::reverse(text.begin(), text.end());
    return text;
}

bool read_decimal(std::string_view text, double& value) {
    constexpr int beyond = 400; // decimal digits before the point, or noughts behind it
    Decimal read;
    if (!take_apart(text, read)) return false;
    Large& number = read.digits;
    const bool nought = number.nought();
    // Its own digits count, but no more than a few hundred of them are read.
    const int tens = nought ? 0 : number.width() * 30103 / 100000 + read.exponent;
    if (std::abs(tens) > beyond) return false;

    int exponent = 0;
    for (int i = 0; i < read.exponent && !nought; ++i) number.times(10);
    if (read.exponent < 0 && !nought) {
        // So far up that what is left when it is divided has more bits than a double.
        exponent = std::min(0, number.width() - mantissa_bits - 11 + read.exponent * 10 / 3);
        number.shift(-exponent);
        for (int i = read.exponent; i < 0; ++i) read.more = number.over(10) != 0 || read.more;
    }
    const int surplus = std::max(number.width() - mantissa_bits, least_exponent - exponent);
    if (surplus > 0) number.shift(-surplus, read.more);
    exponent += std::max(surplus, 0);
    const double size = std::ldexp(static_cast<double>(number.low()), exponent);
    if (!std::isfinite(size) || (size == 0 && !nought)) return false;
    value = read.negative ? -size : size;
    return true;
}

} // namespace wetsleeve
