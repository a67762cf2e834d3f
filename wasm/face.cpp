#include "wasm/face_state.hpp"

#include "core/model/number.hpp"

#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>

namespace wetsleeve {

Face::State::State(Session& of) : session(of) {
    context = ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.BackendPlatformName = "wetsleeve";
    ImGuiStyle& style = ImGui::GetStyle();
    style.WindowPadding = {0, 0};
    style.WindowBorderSize = 0;
    style.WindowRounding = 0;
    style.WindowMinSize = {1, 1};
    style.ItemSpacing = {0, 0};
#ifdef IMGUI_IMPL_OPENGL_ES2
    ImGui_ImplOpenGL3_Init("#version 100");
#else
    ImGui_ImplOpenGL3_Init();
#endif
}

Face::State::~State() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui::DestroyContext(context);
}

void Face::State::wake(int frames) { frames_due = std::max(frames_due, frames); }

bool Face::State::frame(double milliseconds) {
    if (width < 1 || height < 1) return false;
    const double passed = last_frame < 0 ? 16.0 : milliseconds - last_frame;
    last_frame = milliseconds;
    bool gliding = scroll.step(milliseconds);
    gliding = catalogue.scroll().step(milliseconds) || gliding;
    gliding = settings.scroll().step(milliseconds) || gliding;
    if (Scroll* rows = keypad.rows_scroll(session)) gliding = rows->step(milliseconds) || gliding;

    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {width * ratio, height * ratio};
    // After a pause nobody held anything for all that time.
    io.DeltaTime = static_cast<float>(std::clamp(passed, 1.0, 50.0) / 1000);

    letters.resize(ratio, look.text);
    // Laying out meets the characters that are wanted: twice at most.
    for (int i = 0; i < 3; ++i) {
        if (letters.stale()) {
            letters.bake();
            lay_again = true;
        }
        arrange();
        if (!letters.stale()) break;
    }

    ImGui_ImplOpenGL3_NewFrame();
    letters.uploaded();
    ImGui::NewFrame();
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(io.DisplaySize);
    ImGui::Begin("face", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoBackground |
                     ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoScrollWithMouse |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
    draw();
    ImGui::End();
    ImGui::Render();
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());

    if (frames_due > 0) --frames_due;
    // What was drawn may have changed the slip, or met a character that is not baked.
    if (letters.stale() || session.revision() != laid_revision || lay_again) wake(2);
    return rests(milliseconds) || frames_due > 0 || gliding;
}

// ---- the face as others see it ------------------------------------------------------------------

Face::Face(Session& session) : state_(std::make_unique<State>(session)) {}
Face::~Face() = default;

void Face::resize(float width, float height, float ratio, const Insets& insets) {
    state_->width = width;
    state_->height = height;
    state_->ratio = std::clamp(ratio, 0.5F, 5.0F);
    state_->insets = insets;
    state_->wake();
}

void Face::look(const Look& look) {
    if (look == state_->look) return;
    state_->look = look;
    state_->look.text = std::clamp(look.text, 0.75F, 2.5F);
    state_->lay_again = true;
    state_->wake();
}

void Face::languages(std::vector<std::pair<std::string, std::string>> all) {
    state_->settings.languages(std::move(all));
}

void Face::tank(std::string name, float wide) {
    state_->tank = std::move(name);
    state_->tank_wide = Letters::has(state_->tank) ? 0 : wide;
    state_->lay_again = true;
    state_->wake();
}

void Face::find(std::string words) {
    state_->catalogue.find(std::move(words));
    state_->wake();
}

void Face::pointer(Touch phase, bool mouse, float x, float y, double milliseconds) {
    state_->pointer(phase, mouse, {x, y}, milliseconds);
}
void Face::wheel(float, float dy) { state_->wheel(dy); }
bool Face::key(const std::string& key, bool shift) { return state_->key(key, shift); }
bool Face::frame(double milliseconds) { return state_->frame(milliseconds); }

void Face::context_restored() {
    ImGui_ImplOpenGL3_DestroyDeviceObjects();
    state_->letters.bake(); // the copy of the texture was let go
    state_->wake();
}

std::string Face::take_wish() {
    std::string wish = std::move(state_->wish);
    state_->wish.clear();
    return wish;
}

std::string Face::targets_json() const {
    std::string out = "[";
    for (const Target& target : state_->targets) {
        if (out.size() > 1) out += ",";
        out += "{\"id\":\"" + target.id + "\"";
        const Rect& r = target.rect;
        for (const auto& [name, value] :
             {std::pair{"x", r.x}, std::pair{"y", r.y}, std::pair{"w", r.w}, std::pair{"h", r.h}})
            out +=
                std::string(",\"") + name + "\":" + write_fixed(static_cast<double>(value), 1, '.');
        out += "}";
    }
    return out + "]";
}

std::string Face::tank_place() const {
    const Rect& r = state_->tank_at;
    const Rect& view = state_->places.view;
    if (state_->tank_wide == 0 || state_->sheet() || r.foot() <= view.y || r.y >= view.foot())
        return "";
    std::string out;
    for (const float value : {r.x, r.y, r.w, r.h, view.y, view.foot()})
        out += write_fixed(static_cast<double>(value), 1, '.') + " ";
    return out;
}

std::string Face::take_tightest() {
    const Letters::Tightest worst = state_->letters.take_tightest();
    return write_fixed(static_cast<double>(worst.scale), 3, '.') + "\t" + worst.text;
}

} // namespace wetsleeve
