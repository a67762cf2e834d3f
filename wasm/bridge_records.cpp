// Books and hand-overs. wasm/later.py puts all that only these functions need into the module that
// comes after the first answers.
#ifdef __EMSCRIPTEN__

#include "core/record/handover.hpp"
#include "core/record/json.hpp"
#include "core/record/merge.hpp"
#include "core/record/out.hpp"
#include "core/record/visit.hpp"
#include "core/registry.hpp"
#include "wasm/bridge.hpp"
#include "wasm/bridge_inside.hpp"

#include <emscripten.h>

namespace {

using namespace wetsleeve;
using namespace wetsleeve::record;

std::string& last_problem() {
    static std::string problem;
    return problem;
}

// What a call gives, or nothing and why.
const char* give(std::string problem, std::string text) {
    last_problem() = std::move(problem);
    return keep(last_problem().empty() ? std::move(text) : std::string());
}

// Bytes pass as two digits each, since a string ends at a nought.
constexpr char digits[] = "0123456789abcdef";

std::string to_hex(std::string_view bytes) {
    std::string hex;
    for (const char c : bytes) {
        hex += digits[static_cast<unsigned char>(c) >> 4U];
        hex += digits[static_cast<unsigned char>(c) & 15U];
    }
    return hex;
}

std::string from_hex(std::string_view hex) {
    std::string bytes;
    const auto digit = [](char c) { return c <= '9' ? c - '0' : c - 'a' + 10; };
    for (std::size_t i = 0; i + 1 < hex.size(); i += 2)
        bytes += static_cast<char>(digit(hex[i]) * 16 + digit(hex[i + 1]));
    return bytes;
}

// Two books, or why not.
std::string read_both(const char* ours, const char* theirs, Book& a, Book& b) {
    std::string problem = read_book(ours, a);
    return problem.empty() ? read_book(theirs, b) : problem;
}

void write(json::Writer& to, const char* name, const Difference& difference) {
    json::key(to, name);
    to.StartObject();
    for (const auto& [field, count] :
         {std::pair{"fresh", difference.fresh}, std::pair{"same", difference.same},
          std::pair{"changed", difference.changed}, std::pair{"absent", difference.absent}}) {
        json::key(to, field);
        to.Uint64(count);
    }
    to.EndObject();
}

} // namespace

extern "C" {

EMSCRIPTEN_KEEPALIVE const char* ws_book_problem() { return keep(last_problem()); }

EMSCRIPTEN_KEEPALIVE const char* ws_book_read(const char* text) {
    Book book;
    std::string problem = read_book(text, book);
    return give(std::move(problem), write_book(book));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_preview(const char* ours, const char* theirs) {
    Book a;
    Book b;
    std::string problem = read_both(ours, theirs, a, b);
    const Preview seen = preview(a, b);
    rapidjson::StringBuffer buffer;
    json::Writer to(buffer);
    to.StartObject();
    write(to, "tanks", seen.tanks);
    write(to, "shelf", seen.shelf);
    write(to, "visits", seen.visits);
    write(to, "due", seen.due);
    to.EndObject();
    return give(std::move(problem), {buffer.GetString(), buffer.GetSize()});
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_merge(const char* ours, const char* theirs, bool take) {
    Book a;
    Book b;
    Book merged;
    std::string problem = read_both(ours, theirs, a, b);
    if (problem.empty())
        problem = merge(a, b, take ? Changed::take_theirs : Changed::keep_ours, merged);
    return give(std::move(problem), write_book(merged));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_csv(const char* text) {
    Book book;
    std::string problem = read_book(text, book);
    return give(std::move(problem), visits_csv(book));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_calendar(const char* text, const char* now) {
    Book book;
    std::string calendar;
    std::string problem = read_book(text, book);
    if (problem.empty()) problem = due_ical(book, now, calendar);
    return give(std::move(problem), std::move(calendar));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_entries() {
    rapidjson::StringBuffer buffer;
    json::Writer to(buffer);
    to.StartArray();
    for (const Noted& noted : visit_entries(page_session())) {
        to.StartObject();
        json::field(to, "what", word(noted.entry.what));
        json::field(to, "quantity", noted.entry.quantity);
        if (noted.entry.value.has_value()) json::field(to, "value", *noted.entry.value);
        if (!noted.entry.unit.empty()) json::field(to, "unit", noted.entry.unit);
        json::field(to, "name", noted.name);
        json::field(to, "as", word(noted.as));
        to.EndObject();
    }
    to.EndArray();
    return give({}, {buffer.GetString(), buffer.GetSize()});
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_name(const char* quantity) {
    return give({}, quantity_name(page_session(), quantity));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_pack(const char* text) {
    Handover handover;
    std::string bytes;
    std::string problem = handover_from_book(text, handover);
    if (problem.empty()) problem = write_handover(handover, all_lines(), bytes);
    return give(std::move(problem), to_hex(bytes));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_fragment(const char* compressed) {
    std::string fragment;
    std::string problem = write_fragment(from_hex(compressed), fragment);
    return give(std::move(problem), std::move(fragment));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_compressed(const char* link) {
    std::string compressed;
    std::string problem = read_fragment(link, compressed);
    return give(std::move(problem), to_hex(compressed));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_unpack(const char* bytes) {
    Handover handover;
    std::string problem = read_handover(from_hex(bytes), all_lines(), handover);
    return give(std::move(problem), handover_as_book(handover));
}

EMSCRIPTEN_KEEPALIVE std::uint32_t ws_book_most_bytes() {
    return static_cast<std::uint32_t>(limit::handover_bytes);
}
EMSCRIPTEN_KEEPALIVE const char* ws_book_bad_link(bool too_long) {
    return give({}, too_long ? too_long_link : damaged_link);
}

} // extern "C"

#endif
