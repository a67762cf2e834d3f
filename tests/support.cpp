#include "tests/support.hpp"

#include "core/registry.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string_view>

namespace wetsleeve::test {

std::vector<const Line*> lines() {
    const char* only = std::getenv("WETSLEEVE_ONLY"); // NOLINT(concurrency-mt-unsafe)
    std::vector<const Line*> chosen;
    for (const Line* line : all_lines())
        if (only == nullptr || std::string_view(line->about.id).starts_with(only))
            chosen.push_back(line);
    return chosen;
}

int cases(const Line& line, double seconds) {
    // Microseconds that one reckoning takes, as measured once; the other lines take one or less.
    struct Slow {
        std::string_view line;
        double us;
    };
    constexpr Slow slow[] = {{"heat.hot_spell", 110},
                             {"circulation.two_inlets", 68},
                             {"geometry.five_sided", 27},
                             {"heat.fan", 1.3},
                             {"heat.power_cut", 1.2}};
    double us = 1;
    for (const Slow& each : slow)
        if (line.about.id == each.line) us = each.us;
    return tries(std::clamp(static_cast<int>(seconds * 1e6 / us), 2000, 100000));
}

double roll(const Slot& slot, Dice& dice) {
    if (slot.kind == Kind::choice) return static_cast<double>(dice.below(slot.options.size()));
    const auto [low, high] = slot.range;
    const double kind = dice.unit();
    double x = low + (high - low) * dice.unit();
    if (kind < 0.03) x = low;
    else if (kind < 0.06) x = high;
    else if (kind < 0.12 && std::isfinite(slot.usual)) x = slot.usual;
    else if (kind < 0.6) { // small values are where tanks are
        const double least = low > 0 ? low : high * 1e-5;
        x = least * std::pow(high / least, dice.unit());
    }
    if (slot.kind == Kind::count || slot.kind == Kind::clock) x = std::floor(x);
    return std::fmin(std::fmax(x, low), high);
}

std::array<double, Line::max_slots> roll_givens(const Line& line, Dice& dice) {
    std::array<double, Line::max_slots> given{};
    for (std::size_t i = 0; i < line.givens; ++i) given[i] = roll(line.slots[i], dice);
    return given;
}

std::uint32_t live_slots(const Line& line, const double* given) {
    std::uint32_t bits = 0;
    const char* sentence = line.sentence(line.variant == Line::npos ? 0.0 : given[line.variant]);
    for (std::size_t i = 0; i < line.slots.size(); ++i)
        if (Line::mentions(sentence, line.slots[i].id)) bits |= std::uint32_t{1} << i;
    return bits;
}

std::string read_file(const std::string& path_in_tests) {
    const std::string path = std::string(WETSLEEVE_TESTS) + "/" + path_in_tests;
    std::ifstream file(path, std::ios::binary);
    if (!file) throw std::runtime_error("cannot read " + path);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

std::vector<std::string> split(const std::string& text, char at) {
    std::vector<std::string> parts;
    std::istringstream stream(text);
    for (std::string part; std::getline(stream, part, at);) parts.push_back(part);
    return parts;
}

std::string trim(const std::string& text) {
    const std::size_t first = text.find_first_not_of(" \t\r");
    if (first == std::string::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

} // namespace wetsleeve::test
