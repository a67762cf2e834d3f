// A book: read, and then the same when written and read again, or refused with a sentence; and its
// parts at the gate. Of a book with damaged parts the rest must be sound.
#include "core/book/checks.hpp"
#include "core/book/gate.hpp"
#include "core/book/json.hpp"
#include "core/book/merge.hpp"
#include "core/export/book_export.hpp"
#include "core/page/changes_json.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <tuple>

using namespace wetsleeve;
using namespace wetsleeve::record;

namespace {

// What is let in as a part of a book is read there, and what is not is told in a sentence. Which
// part it is asked for as hangs on the text: all of them, each time, would be most of the work.
void ask_gate(std::string_view text) {
    constexpr std::array parts{
        std::tuple{Part::tank, R"({"version":1,"tanks":[)", "]}"},
        std::tuple{Part::slip, R"({"version":1,"tanks":[{"id":"a","name":"A","slip":)", "}]}"},
        std::tuple{Part::item, R"({"version":1,"shelf":[)", "]}"},
        std::tuple{Part::due, R"({"version":1,"due":[)", "]}"},
        std::tuple{Part::visit, R"({"version":1,"visits":[)", "]}"},
        std::tuple{Part::round, R"({"version":1,"round":)", "}"}};
    const auto& [part, before, after] = parts[crc32(text) % parts.size()];
    const std::string why = part_problem(part, text);
    if (!why.empty() && why.back() != '.') std::abort();
    rapidjson::Document document;
    if (!json::parse(document, text, json::Halves::let_in)) { // no part of anything
        if (why.empty()) std::abort();
        return;
    }
    Book book;
    if (read_book(before + std::string(text) + after, book).empty() != why.empty()) std::abort();
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size); // NOLINT
    ask_gate(text);
    std::string json;
    (void)gate_json(text, json);
    (void)change_json(text, {}, json);
    Book stands;
    std::vector<Aside> aside;
    const std::string none = read_book(text, stands, aside);
    Book book;
    const std::string problem = read_book(text, book);
    if (problem.empty() != (none.empty() && aside.empty())) std::abort();
    if (!none.empty() && (none.back() != '.' || none != problem || !aside.empty())) std::abort();
    Book again;
    if (!read_book(write_book(stands), again).empty() || !(again == stands)) std::abort();
    if (!problem_of(stands).empty()) std::abort();
    rapidjson::Document document;
    if (!json::parse(document, write_asides(aside))) std::abort();
    for (const Aside& each : aside)
        if (each.why.back() != '.' || !json::parse(document, each.text, json::Halves::let_in))
            std::abort();
    if (!problem.empty()) {
        if (problem.back() != '.' || !(book == Book{})) std::abort();
        return 0;
    }
    if (!(book == stands)) std::abort();
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
