#ifdef __EMSCRIPTEN__

#include "core/page/history_json.hpp"
#include "wasm/bridge_book.hpp"
#include "wasm/bridge_inside.hpp"

#include <emscripten.h>

#include <string>

using namespace wetsleeve;

extern "C" {

EMSCRIPTEN_KEEPALIVE const char* ws_book_history(const char* book, const char* tank,
                                                 const char* quantity, const char* since) {
    std::string json;
    const std::string problem =
        record::history_json(page_session(), book, tank, quantity, since, json);
    return answer(problem, json);
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_due(const char* book, const char* today) {
    std::string json;
    const std::string problem = record::due_json(page_session(), book, today, json);
    return answer(problem, json);
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_sense(const char* book, const char* visit) {
    std::string json;
    const std::string problem = record::leaving_json(page_session(), book, visit, json);
    return answer(problem, json);
}

} // extern "C"

#endif
