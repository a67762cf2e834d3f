// Numbers as people type them: a value in range of a double, or a sentence; what is written reads
// back.
#include "core/model/number.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>

using namespace wetsleeve;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size < 2) return 0;
    const Style style{static_cast<System>(data[0] % 3), data[1] % 2 == 0 ? '.' : ','};
    const std::string text(reinterpret_cast<const char*>(data + 2), size - 2); // NOLINT
    for (const Dimension* dimension :
         {&dimension::volume, &dimension::length, &dimension::count, &dimension::temperature}) {
        const Typed typed = read_quantity(text, *dimension, dimension->base(), style);
        if (!typed.problem.empty()) continue;
        if (!std::isfinite(typed.value)) std::abort();
        const std::string written = write_shortest(typed.value, 15, style.decimal);
        const Typed again = read_quantity(written, *dimension, dimension->base(), style);
        // From 10^15 on, also by rounding, the digits are more than are read.
        if (std::fabs(typed.value) < 1e15 - 0.5 && !again.problem.empty()) std::abort();
    }
    const Typed clock = read_clock(text, style);
    if (clock.problem.empty() && !(clock.value >= 0 && clock.value < 24 * 60)) std::abort();
    return 0;
}
