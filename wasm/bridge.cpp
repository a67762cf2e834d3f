// The page's way to the core: one call, ws_ask, of which core/page/calls.hpp tells. All state lives
// in one Session that both faces share; after any call or frame the page compares the "revision"
// and, when it has changed, keeps what "save" gives and renews the plain face from "state".
#ifdef __EMSCRIPTEN__

#include "core/page/calls.hpp"
#include "core/registry.hpp"
#include "wasm/face.hpp"

#define SDL_MAIN_HANDLED
#include <SDL.h>
#include <emscripten.h>

#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace {

using namespace wetsleeve;

class PageCanvas final : public page::Canvas {
  public:
    explicit PageCanvas(Session& session) : session_(session) {}

    bool start() override {
        if (face_ != nullptr) return true;
        SDL_SetMainReady();
        if (SDL_Init(SDL_INIT_VIDEO) != 0) return false;
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_ES);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 2);
        SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 0);
        SDL_GL_SetAttribute(SDL_GL_DEPTH_SIZE, 0);
        SDL_GL_SetAttribute(SDL_GL_STENCIL_SIZE, 0);
        // The page gives the canvas its size; SDL leaves that alone when the window is not
        // resizable.
        if (window_ == nullptr) window_ = SDL_CreateWindow("", 0, 0, 1, 1, SDL_WINDOW_OPENGL);
        if (window_ == nullptr || SDL_GL_CreateContext(window_) == nullptr) return false;
        face_ = std::make_unique<Face>(session_);
        face_->tank(tank_name_, tank_wide_);
        return true;
    }
    void resize(double width, double height, double ratio, double top, double right, double bottom,
                double left) override {
        const auto in = [](double pixels) { return static_cast<float>(pixels); };
        if (face_ != nullptr)
            face_->resize(in(width), in(height), in(ratio),
                          {in(top), in(right), in(bottom), in(left)});
    }
    void look(int shade, std::string_view chosen, double text, bool still, bool left) override {
        const Shade shown = shade == 1 ? Shade::dark : shade == 2 ? Shade::sun : Shade::light;
        if (face_ != nullptr)
            face_->look({shown, std::string(chosen), static_cast<float>(text), still, left});
    }
    void tank(std::string_view name, double wide) override {
        tank_name_ = name;
        tank_wide_ = static_cast<float>(wide);
        if (face_ != nullptr) face_->tank(tank_name_, tank_wide_);
    }
    std::string tank_place() override { return face_ == nullptr ? "" : face_->tank_place(); }
    void find(std::string_view words) override {
        if (face_ != nullptr) face_->find(std::string(words));
    }
    void languages(std::string_view rows) override {
        std::vector<std::pair<std::string, std::string>> all;
        while (!rows.empty()) {
            const std::size_t tab = rows.find('\t');
            const std::size_t end = rows.find('\n');
            if (tab == std::string_view::npos || end == std::string_view::npos || tab > end) break;
            all.emplace_back(rows.substr(0, tab), rows.substr(tab + 1, end - tab - 1));
            rows.remove_prefix(end + 1);
        }
        if (face_ != nullptr) face_->languages(std::move(all));
    }
    void pointer(int phase, int kind, double x, double y, double milliseconds) override {
        if (face_ != nullptr && phase >= 0 && phase <= 3)
            face_->pointer(static_cast<Touch>(phase), kind == 1, static_cast<float>(x),
                           static_cast<float>(y), milliseconds);
    }
    void wheel(double dx, double dy) override {
        if (face_ != nullptr) face_->wheel(static_cast<float>(dx), static_cast<float>(dy));
    }
    bool key(std::string_view key, bool shift) override {
        return face_ != nullptr && face_->key(std::string(key), shift);
    }
    bool frame(double milliseconds) override {
        return face_ != nullptr && face_->frame(milliseconds);
    }
    void restored() override {
        if (face_ != nullptr) face_->context_restored();
    }
    std::string wish() override { return face_ == nullptr ? "" : face_->take_wish(); }
    std::string targets() override { return face_ == nullptr ? "[]" : face_->targets_json(); }
    std::string tightest() override { return face_ == nullptr ? "1\t" : face_->take_tightest(); }

  private:
    Session& session_;
    SDL_Window* window_ = nullptr;
    std::unique_ptr<Face> face_;
    std::string tank_name_; // may be told before there is a face
    float tank_wide_ = 0;
};

} // namespace

extern "C" {

// SDL would look functions up by name, which brings the whole of OpenGL ES 3 into the page. Those
// that are used here are linked by name, so there is nothing to look up.
using Looked = void (*)();
EMSCRIPTEN_KEEPALIVE Looked eglGetProcAddress(const char*) { return nullptr; }

// "=" and the answer, or "!" and one sentence that says why there is none: good until the next
// call.
EMSCRIPTEN_KEEPALIVE const char* ws_ask(const char* asked) {
    // Nothing may call into the other lines before the module that holds them is there ("offer").
    static Session session(everyday_lines(), everyday_lines());
    static PageCanvas canvas(session);
    static std::string kept;
    page::Page page{session, canvas};
    const page::Reply reply = page::ask(page, asked);
    kept = reply.problem.empty() ? "=" + reply.json : "!" + reply.problem;
    return kept.c_str();
}

} // extern "C"

#endif
