// The canvas face as a native window, for development. Draws only when something happened.
#ifndef __EMSCRIPTEN__

#include "core/registry.hpp"
#include "wasm/face.hpp"

#include <SDL.h>

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <string>

namespace {

using namespace wetsleeve;

// As KeyboardEvent.key names it; empty: none that the face knows.
std::string key_name(const SDL_Keysym& key) {
    switch (key.sym) {
    case SDLK_RETURN:
    case SDLK_KP_ENTER:
        return "Enter";
    case SDLK_ESCAPE:
        return "Escape";
    case SDLK_TAB:
        return "Tab";
    case SDLK_BACKSPACE:
        return "Backspace";
    case SDLK_DELETE:
        return "Delete";
    case SDLK_UP:
        return "ArrowUp";
    case SDLK_DOWN:
        return "ArrowDown";
    case SDLK_PAGEUP:
        return "PageUp";
    case SDLK_PAGEDOWN:
        return "PageDown";
    case SDLK_HOME:
        return "Home";
    case SDLK_END:
        return "End";
    default:
        return {};
    }
}

class Window {
  public:
    Window(SDL_Window* window, Face& face) : window_(window), face_(face) { resize(); }

    void run() {
        bool more = true;
        while (!quit_) {
            SDL_Event event;
            if (!more) SDL_WaitEvent(&event);
            else if (SDL_PollEvent(&event) == 0) event.type = SDL_FIRSTEVENT;
            do take(event);
            while (SDL_PollEvent(&event) != 0);
            more = face_.frame(static_cast<double>(SDL_GetTicks64()));
            SDL_GL_SwapWindow(window_);
        }
    }

  private:
    void resize() {
        int w = 0;
        int h = 0;
        int pixels = 0;
        SDL_GetWindowSize(window_, &w, &h);
        SDL_GL_GetDrawableSize(window_, &pixels, nullptr);
        const auto wide = static_cast<float>(w);
        face_.resize(wide, static_cast<float>(h), static_cast<float>(pixels) / wide, {});
    }

    void point(Touch phase, bool mouse, Sint32 x, Sint32 y, Uint32 time) {
        face_.pointer(phase, mouse, static_cast<float>(x), static_cast<float>(y), time);
    }

    void take(const SDL_Event& event) {
        switch (event.type) {
        case SDL_QUIT:
            quit_ = true;
            break;
        case SDL_WINDOWEVENT:
            if (event.window.event == SDL_WINDOWEVENT_SIZE_CHANGED) resize();
            break;
        case SDL_MOUSEBUTTONDOWN:
        case SDL_MOUSEBUTTONUP: {
            const SDL_MouseButtonEvent& e = event.button;
            if (e.button == SDL_BUTTON_LEFT)
                point(e.type == SDL_MOUSEBUTTONDOWN ? Touch::down : Touch::up,
                      e.which != SDL_TOUCH_MOUSEID, e.x, e.y, e.timestamp);
            break;
        }
        case SDL_MOUSEMOTION:
            point(Touch::move, event.motion.which != SDL_TOUCH_MOUSEID, event.motion.x,
                  event.motion.y, event.motion.timestamp);
            break;
        case SDL_MOUSEWHEEL:
            face_.wheel(0, -60 * event.wheel.preciseY);
            break;
        case SDL_KEYDOWN: {
            const std::string name = key_name(event.key.keysym);
            if (!name.empty()) face_.key(name, (event.key.keysym.mod & KMOD_SHIFT) != 0);
            break;
        }
        case SDL_TEXTINPUT:
            face_.key(event.text.text, false);
            break;
        default:
            break;
        }
    }

    SDL_Window* window_;
    Face& face_;
    bool quit_ = false;
};

} // namespace

// wetsleeve-window [dark] [TEXT]: TEXT is 1 to 2.
int main(int argc, char** argv) {
    Look look;
    for (int i = 1; i < argc; ++i) {
        if (std::strcmp(argv[i], "dark") == 0) look.shade = Shade::dark;
        else look.text = std::strtof(argv[i], nullptr);
    }
    if (SDL_Init(SDL_INIT_VIDEO) != 0) {
        std::fprintf(stderr, "%s\n", SDL_GetError());
        return 1;
    }
    SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
    SDL_Window* window =
        SDL_CreateWindow("Wetsleeve", SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, 412, 780,
                         SDL_WINDOW_OPENGL | SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI);
    SDL_GLContext context = window == nullptr ? nullptr : SDL_GL_CreateContext(window);
    if (context == nullptr) {
        std::fprintf(stderr, "%s\n", SDL_GetError());
        return 1;
    }
    SDL_GL_SetSwapInterval(1);
    {
        Session session(all_lines(), everyday_lines());
        Face face(session);
        face.look(look);
        Window(window, face).run();
    }
    SDL_GL_DeleteContext(context);
    SDL_DestroyWindow(window);
    SDL_Quit();
    return 0;
}

#endif
