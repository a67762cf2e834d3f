#ifdef __EMSCRIPTEN__

#include "core/page/rounds_json.hpp"
#include "core/registry.hpp"
#include "wasm/bridge_book.hpp"
#include "wasm/bridge_inside.hpp"

#include <emscripten.h>

#include <string>

namespace {

using namespace wetsleeve;
using namespace wetsleeve::record;

// Reads the book and answers what `work` makes of it.
template <class Work> const char* of_book(const char* text, Work&& work) {
    Book book;
    const std::string problem = read_what_stands(text, book);
    return answer(problem, problem.empty() ? work(book, page_session().style()) : "");
}

} // namespace

extern "C" {

EMSCRIPTEN_KEEPALIVE const char* ws_book_round(const char* book) {
    return of_book(book, [](const Book& read, const Style& style) {
        return round_json(read, all_lines(), style);
    });
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_begin(const char* book) {
    return of_book(book, [](const Book& read, const Style& style) {
        return begun_json(read, all_lines(), style);
    });
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_taken(const char* book, const char* now) {
    return of_book(book, [now](const Book& read, const Style& style) {
        return taken_json(read, now, all_lines(), style);
    });
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_untaken(const char* book, const char* visit) {
    return of_book(book,
                   [visit](const Book& read, const Style&) { return untaken_json(read, visit); });
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_due_tanks(const char* book, const char* day,
                                                   int days_after) {
    return of_book(book, [day, days_after](const Book& read, const Style& style) {
        return due_tanks_json(read, day, days_after, style);
    });
}

} // extern "C"

#endif
