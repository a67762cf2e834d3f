#ifdef __EMSCRIPTEN__

#include "wasm/bridge.hpp"

#include "core/book/json.hpp"
#include "core/book/slip_json.hpp"
#include "core/model/number.hpp"
#include "core/model/search.hpp"
#include "core/model/words.hpp"
#include "core/page/view_json.hpp"
#include "core/page/words_json.hpp"
#include "core/registry.hpp"
#include "wasm/bridge_inside.hpp"
#include "wasm/face.hpp"

#define SDL_MAIN_HANDLED
#include <SDL.h>
#include <emscripten.h>
#include <emscripten/html5.h>

#include <memory>
#include <string>

namespace wetsleeve {

Session& page_session() {
    // Nothing may call into the other lines before the module that holds them is there (ws_offer).
    static Session only(everyday_lines(), everyday_lines());
    return only;
}

const char* keep(std::string text) {
    static std::string kept;
    kept = std::move(text);
    return kept.c_str();
}

} // namespace wetsleeve

namespace {

using namespace wetsleeve;

Session& session() { return page_session(); }

SDL_Window* window = nullptr;
std::unique_ptr<Face> face;
std::string tank_name; // may be told before there is a face
float tank_wide = 0;

bool in_slip(int line, int slot) {
    const Slip& slip = session().slip();
    return line >= 0 && slot >= 0 && static_cast<std::size_t>(line) < slip.size() &&
           static_cast<std::size_t>(slot) < slip.line(static_cast<std::size_t>(line)).slots.size();
}
constexpr const char* no_such_slot = "There is no such slot.";

} // namespace

extern "C" {

// SDL would look functions up by name, which brings the whole of OpenGL ES 3 into the page. Those
// that are used here are linked by name, so there is nothing to look up.
using Looked = void (*)();
EMSCRIPTEN_KEEPALIVE Looked eglGetProcAddress(const char*) { return nullptr; }

// ---- the slip -----------------------------------------------------------------------------------

EMSCRIPTEN_KEEPALIVE std::uint32_t ws_revision() { return session().revision(); }
EMSCRIPTEN_KEEPALIVE const char* ws_state() { return keep(view_json(session())); }

EMSCRIPTEN_KEEPALIVE const char* ws_words(const char* words) {
    return keep(learn_words(session(), words));
}
EMSCRIPTEN_KEEPALIVE bool ws_messages(const char* rows) {
    Messages messages;
    const bool whole = messages.add(rows);
    session().speak(std::move(messages));
    return whole;
}
EMSCRIPTEN_KEEPALIVE const char* ws_say(const char* english) { return session().say(english); }
EMSCRIPTEN_KEEPALIVE const char* ws_enter(int line, int slot, const char* text) {
    if (!in_slip(line, slot)) return no_such_slot;
    return keep(
        session().enter(static_cast<std::size_t>(line), static_cast<std::size_t>(slot), text));
}
EMSCRIPTEN_KEEPALIVE const char* ws_show_in(int line, int slot, const char* unit) {
    if (!in_slip(line, slot)) return no_such_slot;
    return keep(
        session().show_in(static_cast<std::size_t>(line), static_cast<std::size_t>(slot), unit));
}
EMSCRIPTEN_KEEPALIVE const char* ws_number(const char* text) {
    const Typed typed =
        read_quantity(text, dimension::plain, dimension::plain.base(), session().style());
    if (!typed.problem.empty()) return keep("!" + typed.problem);
    rapidjson::StringBuffer number;
    json::Writer to(number);
    json::number(to, typed.value);
    return keep("=" + std::string(number.GetString(), number.GetSize()));
}
EMSCRIPTEN_KEEPALIVE const char* ws_find(const char* words) {
    std::string ids;
    for (const Line* line : find_lines(session(), words)) ids += std::string(line->about.id) + "\n";
    return keep(std::move(ids));
}
EMSCRIPTEN_KEEPALIVE void ws_offer() { session().offer(all_lines()); }
EMSCRIPTEN_KEEPALIVE const char* ws_choose(const char* id, bool on) {
    for (const Line* line : session().catalogue())
        if (std::string_view(id) == line->about.id) return keep(session().choose(*line, on));
    return "";
}
EMSCRIPTEN_KEEPALIVE void ws_set_style(const char* system, const char* decimal) {
    Style style = session().style();
    for (const System each : {System::metric, System::us, System::imperial})
        if (std::string_view(system) == word(each)) style.system = each;
    if (*decimal == '.' || *decimal == ',') style.decimal = *decimal;
    session().set_style(style);
}
EMSCRIPTEN_KEEPALIVE void ws_clear() { session().clear(); }
EMSCRIPTEN_KEEPALIVE void ws_undo() { session().undo(); }
EMSCRIPTEN_KEEPALIVE void ws_redo() { session().redo(); }
EMSCRIPTEN_KEEPALIVE const char* ws_save() { return keep(save_json(session())); }
EMSCRIPTEN_KEEPALIVE const char* ws_load(const char* kept) {
    return keep(load_json(session(), kept));
}
EMSCRIPTEN_KEEPALIVE bool ws_slip_is_later(const char* kept) { return is_later_slip(kept); }

// ---- the canvas face ----------------------------------------------------------------------------

EMSCRIPTEN_KEEPALIVE bool ws_canvas_start() {
    if (face != nullptr) return true;
    SDL_SetMainReady();
    if (SDL_Init(SDL_INIT_VIDEO) != 0) return false;
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_ES);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 2);
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 0);
    SDL_GL_SetAttribute(SDL_GL_DEPTH_SIZE, 0);
    SDL_GL_SetAttribute(SDL_GL_STENCIL_SIZE, 0);
    // The page gives the canvas its size; SDL leaves that alone when the window is not resizable.
    if (window == nullptr) window = SDL_CreateWindow("", 0, 0, 1, 1, SDL_WINDOW_OPENGL);
    if (window == nullptr || SDL_GL_CreateContext(window) == nullptr) return false;
    face = std::make_unique<Face>(session());
    face->tank(tank_name, tank_wide);
    return true;
}

EMSCRIPTEN_KEEPALIVE void ws_canvas_resize(float width, float height, float ratio, float top,
                                           float right, float bottom, float left) {
    if (face != nullptr) face->resize(width, height, ratio, {top, right, bottom, left});
}
EMSCRIPTEN_KEEPALIVE void ws_canvas_look(int shade, const char* chosen, float text, bool still,
                                         bool left) {
    const Shade shown = shade == 1 ? Shade::dark : shade == 2 ? Shade::sun : Shade::light;
    if (face != nullptr) face->look({shown, chosen, text, still, left});
}
EMSCRIPTEN_KEEPALIVE void ws_canvas_tank(const char* name, float wide) {
    tank_name = name;
    tank_wide = wide;
    if (face != nullptr) face->tank(name, wide);
}
EMSCRIPTEN_KEEPALIVE const char* ws_canvas_tank_place() {
    return face == nullptr ? "" : keep(face->tank_place());
}
EMSCRIPTEN_KEEPALIVE void ws_canvas_find(const char* words) {
    if (face != nullptr) face->find(words);
}
EMSCRIPTEN_KEEPALIVE void ws_canvas_languages(const char* rows) {
    std::vector<std::pair<std::string, std::string>> all;
    for (std::string_view rest = rows; !rest.empty();) {
        const std::size_t tab = rest.find('\t');
        const std::size_t end = rest.find('\n');
        if (tab == std::string_view::npos || end == std::string_view::npos || tab > end) break;
        all.emplace_back(rest.substr(0, tab), rest.substr(tab + 1, end - tab - 1));
        rest.remove_prefix(end + 1);
    }
    if (face != nullptr) face->languages(std::move(all));
}
EMSCRIPTEN_KEEPALIVE void ws_canvas_pointer(int phase, int kind, float x, float y,
                                            double milliseconds) {
    if (face != nullptr && phase >= 0 && phase <= 3)
        face->pointer(static_cast<Touch>(phase), kind == 1, x, y, milliseconds);
}
EMSCRIPTEN_KEEPALIVE void ws_canvas_wheel(float dx, float dy) {
    if (face != nullptr) face->wheel(dx, dy);
}
EMSCRIPTEN_KEEPALIVE bool ws_canvas_key(const char* key, bool shift) {
    return face != nullptr && face->key(key, shift);
}
EMSCRIPTEN_KEEPALIVE bool ws_canvas_frame(double milliseconds) {
    return face != nullptr && face->frame(milliseconds);
}
EMSCRIPTEN_KEEPALIVE void ws_canvas_restored() {
    if (face != nullptr) face->context_restored();
}
EMSCRIPTEN_KEEPALIVE const char* ws_canvas_wish() {
    return face == nullptr ? "" : keep(face->take_wish());
}
EMSCRIPTEN_KEEPALIVE const char* ws_canvas_targets() {
    return face == nullptr ? "[]" : keep(face->targets_json());
}
EMSCRIPTEN_KEEPALIVE const char* ws_canvas_tightest() {
    return face == nullptr ? "1\t" : keep(face->take_tightest());
}

} // extern "C"

#endif
