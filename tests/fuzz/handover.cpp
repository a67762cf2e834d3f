// A hand-over: opened, and then the same when sent on, or refused with a sentence. The first byte
// says what the rest is: a whole link, compressed bytes, or CBOR whose sum is made to fit.
#include "core/book/checks.hpp"
#include "core/cli/deflate.hpp"
#include "core/cli/records.hpp"
#include "core/registry.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>

using namespace wetsleeve;
using namespace wetsleeve::record;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size == 0) return 0;
    std::string text(reinterpret_cast<const char*>(data + 1), size - 1); // NOLINT
    Handover handover;
    std::string problem;
    if (data[0] % 4 == 0) {
        problem = cli::open_link(text, handover);
    } else if (data[0] % 4 == 1) {
        std::string bytes;
        problem = cli::inflate_raw(text, limit::handover_bytes, bytes);
        if (problem.empty()) problem = read_handover(bytes, all_lines(), handover);
    } else {
        const std::uint32_t crc = crc32(text);
        for (unsigned shift = 32; shift > 0; shift -= 8)
            text += static_cast<char>(crc >> (shift - 8) & 255U);
        problem = read_handover(text, all_lines(), handover);
    }
    if (!problem.empty()) {
        if (problem.back() != '.' || !(handover == Handover{})) std::abort();
        return 0;
    }
    std::string bytes;
    Handover again;
    // More lines to show than a slip has may be in a link, but no more bytes than it may hold.
    // What travels in a link for oneself alone is sent on as such.
    handover.own = true;
    // What was not known was counted, and is not sent on.
    handover.unknown = 0;
    if (!write_handover(handover, all_lines(), bytes).empty()) std::abort();
    if (!read_handover(bytes, all_lines(), again).empty()) std::abort();
    again.own = true;
    if (!(again == handover)) std::abort();
    (void)handover_as_book(handover);
    return 0;
}
