#include "core/model/number.hpp"

#include "core/model/decimal.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>

namespace wetsleeve {

namespace {

bool take(std::string_view& text, std::string_view prefix) {
    if (!text.starts_with(prefix)) return false;
    text.remove_prefix(prefix.size());
    return true;
}

constexpr std::array<std::string_view, 4> blanks{" ", "\u00a0", "\u202f", "\t"};

void skip_spaces(std::string_view& text) {
    const auto skip = [&](std::string_view blank) { return take(text, blank); };
    while (std::any_of(blanks.begin(), blanks.end(), skip)) {
    }
}

std::string_view trimmed(std::string_view text) {
    skip_spaces(text);
    const auto cut = [&](std::string_view blank) {
        if (!text.ends_with(blank)) return false;
        text.remove_suffix(blank.size());
        return true;
    };
    while (std::any_of(blanks.begin(), blanks.end(), cut)) {
    }
    return text;
}

std::string lower(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

std::string lower_without_spaces(std::string_view text) {
    std::string out = lower(text);
    for (const std::string_view blank : blanks)
        for (std::size_t at = out.find(blank); at != std::string::npos; at = out.find(blank, at))
            out.erase(at, blank.size());
    return out;
}

std::size_t digits_at(std::string_view text) {
    std::size_t n = 0;
    while (n < text.size() && is_digit(text[n])) ++n;
    return n;
}

// Exact powers of ten: with at most 15 digits, mantissa × or ÷ one of these rounds correctly.
double power_of_ten(int exponent) {
    static constexpr std::array<double, 23> exact{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                  1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                                  1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    return exact[static_cast<std::size_t>(exponent)];
}

struct Fraction {
    const char* sign;
    double value;
};
constexpr std::array fractions{Fraction{"½", 0.5},   Fraction{"¼", 0.25},  Fraction{"¾", 0.75},
                               Fraction{"⅛", 0.125}, Fraction{"⅜", 0.375}, Fraction{"⅝", 0.625},
                               Fraction{"⅞", 0.875}};

// The fraction at the front of `text` ("5/8", "½"); false when there is none.
bool read_fraction(std::string_view& text, double& value) {
    for (const Fraction& fraction : fractions)
        if (take(text, fraction.sign)) {
            value = fraction.value;
            return true;
        }
    const std::size_t top = digits_at(text);
    if (top == 0 || top > 3 || top >= text.size() || text[top] != '/') return false;
    const std::size_t bottom = digits_at(text.substr(top + 1));
    if (bottom == 0 || bottom > 3) return false;
    const auto whole = [](std::string_view digits) {
        int n = 0;
        for (const char c : digits) n = n * 10 + (c - '0');
        return n;
    };
    const int divisor = whole(text.substr(top + 1, bottom));
    if (divisor == 0) return false;
    value = static_cast<double>(whole(text.substr(0, top))) / divisor;
    text.remove_prefix(top + 1 + bottom);
    return true;
}

const Unit* unit_spelled(const Dimension& dimension, std::string_view text, System system) {
    const std::string wanted = lower_without_spaces(text);
    for (const Unit& unit : dimension.units) {
        if (wanted == lower_without_spaces(unit.symbol)) return &unit;
        std::string_view rest = unit.spellings;
        while (!rest.empty()) {
            const std::size_t end = std::min(rest.find(' '), rest.size());
            if (end > 0 && wanted == lower(rest.substr(0, end))) return &unit;
            rest.remove_prefix(std::min(end + 1, rest.size()));
        }
    }
    // "gal" and "fl oz" are two sizes each: only the reader's own system can tell which.
    if (system != System::metric && &dimension == &dimension::volume) {
        const bool us = system == System::us;
        if (wanted == "gal" || wanted == "gallon" || wanted == "gallons")
            return dimension.find(us ? "US gal" : "imp gal");
        if (wanted == "floz") return dimension.find(us ? "US fl oz" : "imp fl oz");
    }
    return nullptr;
}

std::string unit_list(const Dimension& dimension) {
    std::string list;
    for (const Unit& unit : dimension.units) {
        if (!list.empty()) list += ", ";
        list += unit.symbol;
    }
    return list;
}

constexpr const char* no_number = "–";

int decimals_for(double value, int digits) {
    if (value == 0.0 || !std::isfinite(value)) return 0;
    const int exponent = static_cast<int>(std::floor(std::log10(std::fabs(value)) + 1e-12));
    return std::clamp(digits - 1 - exponent, 0, 9);
}

} // namespace

std::string compose(const char* message, std::initializer_list<std::string> args) {
    std::string out;
    for (const char* c = message; *c != '\0'; ++c) {
        const auto index = static_cast<std::size_t>(
            c[0] == '{' && is_digit(c[1]) && c[2] == '}' ? c[1] - '0' : 10);
        if (index < args.size()) {
            out += args.begin()[index];
            c += 2;
        } else {
            out += *c;
        }
    }
    return out;
}

std::string sentence(const char* message, std::initializer_list<std::string> args) {
    std::string out = compose(message, args);
    const bool word = out.size() > 1 && out[0] >= 'a' && out[0] <= 'z' &&
                      !(out[1] >= 'A' && out[1] <= 'Z'); // not pH
    if (word) out[0] = static_cast<char>(out[0] - 'a' + 'A');
    // Letters with marks, in the two bytes that UTF-8 gives them: à to þ, and œ ő ű.
    const auto byte = [&](std::size_t i) {
        return static_cast<unsigned char>(i < out.size() ? out[i] : 0);
    };
    if (byte(0) == 0xC3 && byte(1) >= 0xA0 && byte(1) <= 0xBE && byte(1) != 0xB7)
        out[1] = static_cast<char>(byte(1) - 0x20);
    if (byte(0) == 0xC5 && (byte(1) == 0x93 || byte(1) == 0x91 || byte(1) == 0xB1))
        out[1] = static_cast<char>(byte(1) - 1);
    return out;
}

bool read_number(std::string_view& text, const Style& style, double& value, std::string& problem) {
    const char decimal = style.decimal;
    const std::string_view whole_text = text;
    skip_spaces(text);
    double sign = 1.0;
    if (take(text, "-") || take(text, "−")) sign = -1.0;
    else take(text, "+");

    double fraction = 0.0;
    if (read_fraction(text, fraction)) {
        value = sign * fraction;
        return true;
    }

    std::uint64_t mantissa = 0;
    int significant = 0;
    int exponent = 0;
    bool any = false;
    const auto add = [&](char c) {
        any = true;
        if (mantissa == 0 && c == '0') return;
        ++significant;
        if (significant <= 15) mantissa = mantissa * 10 + static_cast<std::uint64_t>(c - '0');
    };
    const std::string_view before = text;
    while (!text.empty() && is_digit(text[0])) {
        add(text[0]);
        text.remove_prefix(1);
    }
    const std::size_t whole_digits = before.size() - text.size();
    bool decimals = false;
    if (!text.empty() && (text[0] == '.' || text[0] == ',') &&
        digits_at(text.substr(1)) + whole_digits > 0) {
        const char mark = text[0];
        const std::size_t after = digits_at(text.substr(1));
        const bool grouped =
            text.size() > after + 1 && (text[after + 1] == '.' || text[after + 1] == ',');
        const bool like_thousands = mark != decimal && after == 3 && whole_digits >= 1 &&
                                    whole_digits <= 3 && before[0] != '0';
        if (grouped || like_thousands) {
            const auto end = static_cast<std::size_t>(text.data() - whole_text.data()) + after + 1;
            problem = compose(style.say("“{0}” could be read in two ways: write it without a mark "
                                        "between the thousands."),
                              {std::string(trimmed(whole_text.substr(0, end)))});
            return false;
        }
        text.remove_prefix(1);
        decimals = true;
        for (std::size_t i = 0; i < after; ++i) {
            add(text[i]);
            --exponent;
        }
        text.remove_prefix(after);
    }
    if (!any) {
        const std::string shown(trimmed(whole_text));
        problem = shown.empty() ? style.say("Type a number.")
                                : compose(style.say("“{0}” is not a number."), {shown});
        return false;
    }
    if (text.size() > 1 && (text[0] == 'e' || text[0] == 'E')) {
        std::string_view rest = text.substr(1);
        const bool negative = take(rest, "-");
        if (!negative) take(rest, "+");
        const std::size_t n = digits_at(rest);
        if (n > 0 && n <= 2) {
            int power = 0;
            for (std::size_t i = 0; i < n; ++i) power = power * 10 + (rest[i] - '0');
            exponent += negative ? -power : power;
            text = rest.substr(n);
        }
    }
    if (significant > 15 || std::abs(exponent) > 22) {
        problem = style.say("That number is longer than any reading: type at most 15 digits.");
        return false;
    }
    const auto magnitude = static_cast<double>(mantissa);
    value = sign * (exponent < 0 ? magnitude / power_of_ten(-exponent)
                                 : magnitude * power_of_ten(exponent));

    if (!decimals) { // "23 5/8", "23½"
        std::string_view rest = text;
        skip_spaces(rest);
        if (read_fraction(rest, fraction)) {
            value += sign * fraction;
            text = rest;
        }
    }
    return true;
}

Typed read_quantity(std::string_view text, const Dimension& dimension, const Unit& fallback,
                    const Style& style) {
    Typed typed;
    std::string_view rest = trimmed(text);
    bool first = true;
    while (first || !rest.empty()) {
        double number = 0.0;
        if (!read_number(rest, style, number, typed.problem)) return typed;
        skip_spaces(rest);
        // The unit runs to the next number, so that "3 ft 6 in" reads as a sum. A unit's own digits
        // ("m2", "ft³") follow a letter directly.
        std::size_t end = 0;
        while (end < rest.size() &&
               !(is_digit(rest[end]) && (end == 0 || rest[end - 1] == ' ' || rest[end - 1] == '"' ||
                                         rest[end - 1] == '\'')))
            ++end;
        const std::string_view spelled = trimmed(rest.substr(0, end));
        rest.remove_prefix(end);
        const Unit* unit =
            spelled.empty() ? &fallback : unit_spelled(dimension, spelled, style.system);
        if (unit == nullptr || (spelled.empty() && !(first && rest.empty()))) {
            const std::string shown =
                spelled.empty() ? std::string(trimmed(text)) : std::string(spelled);
            const std::string low = lower_without_spaces(spelled);
            if (low.starts_with("gal") || low == "floz")
                typed.problem = compose(
                    style.say("“{0}” differs between countries: write US or imp before it."),
                    {shown});
            else if (dimension.units.size() == 1 && *dimension.base().symbol == '\0')
                typed.problem = compose(
                    style.say("“{0}” does not belong here: type the number alone."), {shown});
            else if (spelled.empty())
                typed.problem = compose(style.say("“{0}” holds a number without a unit: use {1}."),
                                        {shown, unit_list(dimension)});
            else
                typed.problem = compose(style.say("“{0}” is not a unit of {1}: use {2}."),
                                        {shown, style.say(dimension.name), unit_list(dimension)});
            return typed;
        }
        typed.value += number * unit->factor + unit->offset;
        if (first) typed.unit = unit;
        first = false;
    }
    return typed;
}

Typed read_clock(std::string_view text, const Style& style) {
    Typed typed;
    const auto fail = [&] {
        typed.problem = compose(style.say("“{0}” is not a time of day: write it like 18:30."),
                                {std::string(trimmed(text))});
        return typed;
    };
    const std::string low = lower_without_spaces(trimmed(text));
    std::string_view rest = low;
    const auto take_number = [&](int& number) {
        const std::size_t n = digits_at(rest);
        if (n == 0 || n > 2) return false;
        number = 0;
        for (std::size_t i = 0; i < n; ++i) number = number * 10 + (rest[i] - '0');
        rest.remove_prefix(n);
        return true;
    };
    int hours = 0;
    int minutes = 0;
    if (!take_number(hours)) return fail();
    if (take(rest, ":") || take(rest, ".") || take(rest, "h")) {
        if (!rest.empty() && is_digit(rest[0]) && !take_number(minutes)) return fail();
    }
    const bool pm = take(rest, "pm");
    const bool am = !pm && take(rest, "am");
    if (am || pm) {
        if (hours < 1 || hours > 12) return fail();
        hours = hours % 12 + (pm ? 12 : 0);
    }
    if (!rest.empty() || minutes > 59 || hours > 24 || (hours == 24 && minutes > 0)) return fail();
    typed.value = hours % 24 * 60 + minutes;
    typed.unit = &dimension::clock_time.base();
    return typed;
}

std::string write_fixed(double value, int decimals, char decimal) {
    if (!std::isfinite(value)) return no_number;
    std::string text = write_decimals(value, std::clamp(decimals, 0, 9));
    std::replace(text.begin(), text.end(), '.', decimal);
    if (text.find_first_not_of("-0.,") == std::string::npos && text[0] == '-')
        text.erase(0, 1); // no "-0"
    return text;
}

std::string write_significant(double value, int digits, char decimal) {
    int decimals = decimals_for(value, digits);
    // 9.996 rounds up into one more whole digit, which then needs one decimal less.
    const double rounded = std::fabs(value) + 0.5 * std::pow(10.0, -decimals);
    decimals = std::min(decimals, decimals_for(rounded, digits));
    return write_fixed(value, decimals, decimal);
}

std::string write_shortest(double value, int digits, char decimal) {
    std::string text = write_significant(value, digits, decimal);
    if (text.find(decimal) != std::string::npos) {
        while (text.back() == '0') text.pop_back();
        if (text.back() == decimal) text.pop_back();
    }
    return text;
}

std::string write_clock(double minutes) {
    if (!std::isfinite(minutes)) return no_number;
    const auto day = static_cast<long>(minutes_per_day);
    long total = std::lround(minutes) % day;
    if (total < 0) total += day;
    const auto two = [](long n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return two(total / 60) + ":" + two(total % 60);
}

} // namespace wetsleeve
