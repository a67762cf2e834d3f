// A book: read, and then the same when written and read again, or refused with a sentence.
#include "core/record/merge.hpp"
#include "core/record/out.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>

using namespace wetsleeve::record;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size); // NOLINT
    Book book;
    const std::string problem = read_book(text, book);
    if (!problem.empty()) {
        if (problem.back() != '.' || !(book == Book{})) std::abort();
        return 0;
    }
    Book again;
    if (!read_book(write_book(book), again).empty() || !(again == book)) std::abort();
    if (!problem_of(book).empty()) std::abort();
    Book merged;
    std::vector<GaveWay> gave_way;
    if (!merge(book, again, Changed::take_theirs, merged, &gave_way).empty()) std::abort();
    if (merged.visits.size() != book.visits.size() || !gave_way.empty()) std::abort();
    // Corrections stand after what they correct now; but for that it is the same.
    if (!merge(merged, book, Changed::keep_ours, again).empty() || !(again == merged)) std::abort();
    again.visits = book.visits;
    if (!(again == book)) std::abort();
    (void)visits_csv(book);
    std::string calendar;
    if (!due_ical(book, "20260504T120000Z", calendar).empty()) std::abort();
    return 0;
}
