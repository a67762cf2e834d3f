// Doubles to decimal digits and back, rounded as IEC 60559 wants: to the nearest, of two as near to
// the even one. The C library's ways bring all their formats along, which would be a fiftieth of
// what the page downloads, and the decimal mark of a host that set a locale.
#pragma once

#include <string>
#include <string_view>

namespace wetsleeve {

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

// A finite number with so many decimals, at least none: "-0.50".
std::string write_decimals(double value, int decimals);

// A number as JSON writes it (RFC 8259, section 6). False when it is none, or when the nearest
// double is infinite, or nought though the number is not.
bool read_decimal(std::string_view text, double& value);

} // namespace wetsleeve
