// A kept slip: taken up, and then written as it was read, or refused with a sentence.
#include "core/record/slip_json.hpp"
#include "core/registry.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>

using namespace wetsleeve;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size); // NOLINT
    Session session(all_lines(), everyday_lines());
    const std::string before = save_json(session);
    const std::string problem = load_json(session, text);
    const std::string kept = save_json(session);
    if (!problem.empty()) {
        if (problem.back() != '.' || kept != before) std::abort();
        return 0;
    }
    Session again(all_lines(), everyday_lines());
    if (!load_json(again, kept).empty() || save_json(again) != kept) std::abort();
    for (std::size_t l = 0; l < session.slip().size(); ++l) (void)session.view(l);
    return 0;
}
