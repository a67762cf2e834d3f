#include "wasm/inside.hpp"

#include "core/model/number.hpp"

#include <backends/imgui_impl_opengl3.h>
#include <imgui.h>

#include <algorithm>

namespace wetsleeve {

Face::Inside::Inside(Session& of) : session(of) {
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

Face::Inside::~Inside() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui::DestroyContext(context);
}

void Face::Inside::wake(int frames) { frames_due = std::max(frames_due, frames); }

bool Face::Inside::frame(double milliseconds) {
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

Face::Face(Session& session) : inside_(std::make_unique<Inside>(session)) {}
Face::~Face() = default;

void Face::resize(float width, float height, float ratio, const Insets& insets) {
    inside_->width = width;
    inside_->height = height;
    inside_->ratio = std::clamp(ratio, 0.5F, 5.0F);
    inside_->insets = insets;
    inside_->wake();
}

void Face::look(const Look& look) {
    if (look == inside_->look) return;
    inside_->look = look;
    inside_->look.text = std::clamp(look.text, 0.75F, 2.5F);
    inside_->lay_again = true;
    inside_->wake();
}

void Face::languages(std::vector<std::pair<std::string, std::string>> all) {
    inside_->settings.languages(std::move(all));
}

void Face::tank(std::string name, float wide) {
    inside_->tank = std::move(name);
    inside_->tank_wide = Letters::has(inside_->tank) ? 0 : wide;
    inside_->lay_again = true;
    inside_->wake();
}

void Face::find(std::string words) {
    inside_->catalogue.find(std::move(words));
    inside_->wake();
}

void Face::pointer(Touch phase, bool mouse, float x, float y, double milliseconds) {
    inside_->pointer(phase, mouse, {x, y}, milliseconds);
}
void Face::wheel(float, float dy) { inside_->wheel(dy); }
bool Face::key(const std::string& key, bool shift) { return inside_->key(key, shift); }
bool Face::frame(double milliseconds) { return inside_->frame(milliseconds); }

void Face::context_restored() {
    ImGui_ImplOpenGL3_DestroyDeviceObjects();
    inside_->letters.bake(); // the copy of the texture was let go
    inside_->wake();
}

std::string Face::take_wish() {
    std::string wish = std::move(inside_->wish);
    inside_->wish.clear();
    return wish;
}

std::string Face::targets_json() const {
    std::string out = "[";
    for (const Target& target : inside_->targets) {
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
    const Rect& r = inside_->tank_at;
    const Rect& view = inside_->places.view;
    if (inside_->tank_wide == 0 || inside_->sheet() || r.foot() <= view.y || r.y >= view.foot())
        return "";
    std::string out;
    for (const float value : {r.x, r.y, r.w, r.h, view.y, view.foot()})
        out += write_fixed(static_cast<double>(value), 1, '.') + " ";
    return out;
}

std::string Face::take_tightest() {
    const Letters::Tightest worst = inside_->letters.take_tightest();
    return write_fixed(static_cast<double>(worst.scale), 3, '.') + "\t" + worst.text;
}

} // namespace wetsleeve
