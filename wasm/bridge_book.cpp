#ifdef __EMSCRIPTEN__

#include "wasm/bridge_book.hpp"

#include "core/answers/build_list.hpp"
#include "core/answers/rounds.hpp"
#include "core/answers/visit.hpp"
#include "core/book/book.hpp"
#include "core/book/gate.hpp"
#include "core/book/json.hpp"
#include "core/export/out.hpp"
#include "core/link/handover.hpp"
#include "core/page/merge_json.hpp"
#include "core/page/view_json.hpp"
#include "core/registry.hpp"
#include "wasm/bridge_inside.hpp"

#include <emscripten.h>

#include <string>

namespace {

using namespace wetsleeve;
using namespace wetsleeve::record;

constexpr std::string_view digits = "0123456789abcdef";

std::string hex(std::string_view bytes) {
    std::string text;
    for (const char c : bytes) {
        text += digits[static_cast<unsigned char>(c) >> 4U];
        text += digits[static_cast<unsigned char>(c) & 15U];
    }
    return text;
}
// The page's own script wrote it.
std::string unhex(std::string_view text) {
    std::string bytes;
    for (std::size_t i = 0; i + 1 < text.size(); i += 2)
        bytes += static_cast<char>(digits.find(text[i]) * 16 + digits.find(text[i + 1]));
    return bytes;
}

} // namespace

extern "C" {

EMSCRIPTEN_KEEPALIVE const char* ws_book_read(const char* text) {
    std::string json;
    const std::string problem = read_book_json(text, json);
    return answer(problem, json);
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_gate(const char* asked) {
    std::string json;
    const std::string problem = gate_json(asked, json);
    return answer(problem, json);
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_preview(const char* ours, const char* theirs) {
    std::string json;
    const std::string problem = preview_json(ours, theirs, json);
    return answer(problem, json);
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_merge(const char* ours, const char* theirs,
                                               bool take_theirs) {
    std::string json;
    const std::string problem =
        merge_json(ours, theirs, take_theirs ? Changed::take_theirs : Changed::keep_ours,
                   page_session().style(), json);
    return answer(problem, json);
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_csv(const char* text) {
    Book book;
    const std::string problem = read_what_stands(text, book);
    return answer(problem, problem.empty() ? visits_csv(book) : "");
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_calendar(const char* text, const char* today,
                                                  const char* now) {
    Book book;
    std::string calendar;
    std::string problem = read_what_stands(text, book);
    if (problem.empty())
        problem = due_calendar(book, round::read_day(today).value_or(round::first_day), usual_lead,
                               now, page_session().style(), calendar);
    return answer(problem, calendar);
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_visit() {
    rapidjson::StringBuffer out;
    json::Writer to(out);
    to.StartArray();
    for (const Noted& noted : visit_entries(page_session())) {
        to.StartObject();
        json::field(to, "what", word(noted.entry.what));
        json::field(to, "quantity", noted.entry.quantity);
        if (noted.entry.value.has_value()) json::field(to, "value", *noted.entry.value);
        if (!noted.entry.unit.empty()) json::field(to, "unit", noted.entry.unit);
        to.EndObject();
    }
    to.EndArray();
    return answer("", {out.GetString(), out.GetSize()});
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_build() {
    const BuildList list = build_list(page_session());
    rapidjson::StringBuffer out;
    json::Writer to(out);
    to.StartObject();
    json::key(to, "steps");
    to.StartArray();
    for (const BuildStep& step : list.steps) {
        to.StartObject();
        json::field(to, "line", step.line);
        json::field(to, "title", step.title);
        json::field(to, "standing", word(step.standing));
        json::field(to, "sentence", step.sentence);
        json::field(to, "trouble", step.trouble);
        json::key(to, "blank");
        to.StartArray();
        for (const std::string& slot : step.blank) json::text(to, slot);
        to.EndArray();
        write_remarks(to, step.cautions);
        to.EndObject();
    }
    to.EndArray();
    json::key(to, "wares");
    to.StartArray();
    for (const Ware& ware : list.wares) {
        to.StartObject();
        json::field(to, "line", ware.line);
        json::field(to, "what", ware.what);
        json::field(to, "amount", ware.number);
        json::field(to, "unit", ware.unit);
        json::field(to, "details", ware.details);
        to.EndObject();
    }
    to.EndArray();
    to.EndObject();
    return answer("", {out.GetString(), out.GetSize()});
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_build_text(const char* tank) {
    return answer("", build_text(page_session(), build_list(page_session()), tank));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_build_csv() {
    return answer("", build_csv(page_session(), build_list(page_session())));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_hand_over(const char* text) {
    Handover handover;
    std::string bytes;
    std::string problem = handover_from_book(text, handover);
    if (problem.empty()) problem = write_handover(handover, all_lines(), bytes);
    return answer(problem, hex(bytes));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_wrap(const char* compressed) {
    std::string fragment;
    const std::string problem = write_fragment(unhex(compressed), fragment);
    return answer(problem, fragment);
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_unwrap(const char* link) {
    std::string compressed;
    const std::string problem = read_fragment(link, compressed);
    return answer(problem, hex(compressed));
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_opened(const char* bytes) {
    Handover handover;
    const std::string problem = read_handover(unhex(bytes), all_lines(), handover);
    return answer(problem, problem.empty() ? handover_as_book(handover) : "");
}

EMSCRIPTEN_KEEPALIVE const char* ws_book_damaged_link() { return damaged_link; }
EMSCRIPTEN_KEEPALIVE const char* ws_book_too_long_link() { return too_long_link; }

} // extern "C"

#endif
