// A kept slip: taken up, and then written as it was read, or refused with a sentence.
#include "core/book/slip_json.hpp"
#include "core/registry.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>

using namespace wetsleeve;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size); // NOLINT
    // Made once: each is a copy, which is much quicker.
    static const Session fresh(all_lines(), everyday_lines());
    static const std::string before = save_json(fresh);
    Session session = fresh;
    const std::string problem = load_json(session, text);
    const std::string kept = save_json(session);
    if (!problem.empty()) {
        if (problem.back() != '.' || kept != before) std::abort();
        (void)is_later_slip(text);
        return 0;
    }
    if (is_later_slip(text)) std::abort();
    Session again = fresh;
    if (!load_json(again, kept).empty() || save_json(again) != kept) std::abort();
    for (const std::size_t l : session.order()) {
        const LineView view = session.view(l);
        // What is locked takes nothing, and stays through undoing and beginning again.
        for (std::size_t s = 0; s < view.slots.size(); ++s)
            if (view.slots[s].locked && session.enter(l, s, "1").empty()) std::abort();
    }
    if (session.terms().locked) {
        const auto locked = [&] {
            std::string values;
            const Slip& slip = session.slip();
            for (std::size_t l = 0; l < slip.size(); ++l)
                for (std::size_t s = 0; s < slip.line(l).givens; ++s) {
                    const std::size_t c = slip.cell(l, s);
                    const double value = session.entered().state.given[c];
                    if (session.is_locked(l, s) && !slip.cells()[c].answered && value == value)
                        values += write_shortest(value, 15, '.') + " ";
                }
            return values;
        };
        const std::string handed_over = locked();
        while (session.can_undo()) session.undo();
        if (locked() != handed_over) std::abort();
        while (session.can_redo()) session.redo();
        if (locked() != handed_over) std::abort();
        session.clear();
        if (locked() != handed_over) std::abort();
    }
    return 0;
}
