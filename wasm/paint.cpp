#include "wasm/paint.hpp"

#include "font_data.hpp"

#include <backends/imgui_impl_opengl3.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace wetsleeve {

namespace {

// A CSS pixel size is the em; Dear ImGui's is the row, from the font's ascent to its descent.
constexpr float row_of_em = 2430.0F / 2000.0F;

constexpr std::string_view always_wanted[type_count] = {"…×–’“”±−→↓", "…×–’“”±−→↓", "…×–’“”±−→",
                                                        "±−×:/,."};

const char* begin_of(std::string_view text) { return text.data(); }
const char* end_of(std::string_view text) { return text.data() + text.size(); }

// Takes one character off the front; texts are our own and whole.
ImWchar next_char(std::string_view& text) {
    const auto byte = [&](std::size_t i) {
        return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
    };
    const unsigned first = byte(0);
    const std::size_t n = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
    unsigned code = n == 1 ? first : first & (0xFFU >> (n + 1));
    for (std::size_t i = 1; i < n; ++i) code = code << 6U | (byte(i) & 0x3FU);
    text.remove_prefix(std::min(n, text.size()));
    return static_cast<ImWchar>(code);
}

bool in_font(ImWchar c) {
    for (const unsigned short* range = font::ranges; *range != 0; range += 2)
        if (c >= range[0] && c <= range[1]) return true;
    return false;
}

} // namespace

Rect Rect::within(const Rect& o) const {
    const float left = std::max(x, o.x);
    const float top = std::max(y, o.y);
    return {left, top, std::max(0.0F, std::min(right(), o.right()) - left),
            std::max(0.0F, std::min(foot(), o.foot()) - top)};
}

// ---- letters ------------------------------------------------------------------------------------

Letters::Letters() {
    for (std::size_t t = 0; t < type_count; ++t) {
        // Large letters are mostly digits.
        const ImWchar last = static_cast<Type>(t) == Type::large ? ImWchar{'9'} : ImWchar{'~'};
        for (ImWchar c = ' '; c <= last; ++c) chars_[t].push_back(c);
        want(static_cast<Type>(t), always_wanted[t]);
    }
}

void Letters::resize(float ratio, float text) {
    if (ratio == ratio_ && text == text_ && fonts_[0] != nullptr) return;
    ratio_ = ratio;
    text_ = text;
    stale_ = true;
}

void Letters::want(Type type, std::string_view text) {
    std::vector<ImWchar>& chars = chars_[static_cast<std::size_t>(type)];
    while (!text.empty()) {
        const ImWchar c = next_char(text);
        const auto at = std::lower_bound(chars.begin(), chars.end(), c);
        if ((at != chars.end() && *at == c) || !in_font(c)) continue;
        chars.insert(at, c);
        stale_ = true;
    }
}

bool Letters::has(std::string_view text) {
    constexpr unsigned char four_bytes = 0xF0; // beyond the 16 bits of ImWchar
    while (!text.empty())
        if (static_cast<unsigned char>(text[0]) >= four_bytes || !in_font(next_char(text)))
            return false;
    return true;
}

void Letters::bake() {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    atlas.Clear();
    atlas.Flags |= ImFontAtlasFlags_NoMouseCursors;
    atlas.TexGlyphPadding = 1;
    for (std::size_t t = 0; t < type_count; ++t) {
        std::vector<ImWchar>& ranges = ranges_[t];
        ranges.clear();
        for (const ImWchar c : chars_[t]) {
            if (!ranges.empty() && ranges.back() + 1 == c) ranges.back() = c;
            else ranges.insert(ranges.end(), {c, c});
        }
        ranges.push_back(0);
        const bool bold = t >= static_cast<std::size_t>(Type::strong);
        sizes_[t] = size::type[t] * text_;
        ImFontConfig config;
        config.FontDataOwnedByAtlas = false;
        config.OversampleH = 1;
        config.PixelSnapH = true;
        config.SizePixels = std::round(sizes_[t] * row_of_em * ratio_);
        config.GlyphRanges = ranges.data();
        const unsigned char* data = bold ? font::bold : font::regular;
        const std::size_t bytes = bold ? sizeof font::bold : sizeof font::regular;
        // Dear ImGui takes the data as its own to write; told that it is not, it only reads.
        fonts_[t] = atlas.AddFontFromMemoryTTF(const_cast<unsigned char*>(data),
                                               static_cast<int>(bytes), config.SizePixels, &config);
    }
    // Without a texture yet, the backend makes one before the next frame.
    const bool on_device = atlas.TexID != ImTextureID{};
    atlas.Build();
    if (on_device) {
        ImGui_ImplOpenGL3_DestroyFontsTexture();
        ImGui_ImplOpenGL3_CreateFontsTexture();
    }
    stale_ = false;
}

void Letters::uploaded() {
    if (ImGui::GetIO().Fonts->TexPixelsAlpha8 != nullptr) ImGui::GetIO().Fonts->ClearTexData();
}

float Letters::width(Type type, std::string_view text) {
    want(type, text);
    const ImFont* f = font(type);
    if (f == nullptr) return 0;
    return f->CalcTextSizeA(f->FontSize, 1e9F, 0, begin_of(text), end_of(text)).x / ratio_;
}

float Letters::height(Type type, std::string_view text, float width) {
    want(type, text);
    const ImFont* f = font(type);
    if (f == nullptr) return 0;
    return f->CalcTextSizeA(f->FontSize, 1e9F, width * ratio_, begin_of(text), end_of(text)).y /
           ratio_;
}

void Letters::fitted(float scale, std::string_view text) {
    if (scale < tightest_.scale) tightest_ = {scale, std::string(text)};
}

Letters::Tightest Letters::take_tightest() { return std::exchange(tightest_, {}); }

float Letters::rise(Type type) const { return font(type)->Ascent / ratio_; }
float Letters::fall(Type type) const { return -font(type)->Descent / ratio_; }

// ---- painter ------------------------------------------------------------------------------------

Painter::Painter(Letters& letters, const Palette& palette, std::vector<Target>& targets,
                 Stops& stops)
    : letters_(letters), palette_(palette), targets_(targets), stops_(stops),
      list_(ImGui::GetWindowDrawList()), ratio_(letters.ratio()) {
    stops_.order.clear();
    stops_.rect = {};
    const ImVec2 all = ImGui::GetIO().DisplaySize;
    clip_.push_back({0, 0, all.x / ratio_, all.y / ratio_});
}

float Painter::snap(float v) const { return std::round(v * ratio_); }

void Painter::text(Type type, Ink ink, Point baseline, std::string_view text, float scale) {
    letters_.want(type, text);
    const ImFont* f = letters_.font(type);
    const ImVec2 from{snap(baseline.x), snap(baseline.y) - std::round(f->Ascent * scale)};
    list_->AddText(f, f->FontSize * scale, from, of(ink), begin_of(text), end_of(text));
}

void Painter::label(Type type, Ink ink, const Rect& box, std::string_view text, Align align) {
    if (text.empty()) return;
    const float wide = letters_.width(type, text);
    const float fits = box.w / std::max(1.0F, wide);
    letters_.fitted(fits, text);
    const float scale = std::clamp(fits, letters_.least_scale(), 1.0F);
    const float spare = box.w - wide * scale;
    const float x = align == Align::left ? 0 : align == Align::right ? spare : spare / 2;
    // Centred by the capitals' height: that is what the eye takes for the middle of a label.
    const float capitals = letters_.size(type) * 0.75F * scale;
    this->text(type, ink, {box.x + x, box.y + (box.h + capitals) / 2}, text, scale);
}

float Painter::rows(Type type, Ink ink, const Rect& box, std::string_view text) {
    letters_.want(type, text);
    const ImFont* f = letters_.font(type);
    float scale = 1;
    ImVec2 all;
    const auto measure = [&] {
        all = f->CalcTextSizeA(f->FontSize * scale, 1e9F, box.w * ratio_, begin_of(text),
                               end_of(text));
    };
    for (measure(); all.y > box.h * ratio_ + 1 && scale > letters_.least_scale(); measure())
        scale -= 0.05F;
    letters_.fitted(all.y > box.h * ratio_ + 1 ? 0 : scale, text);
    list_->AddText(f, f->FontSize * scale, snap({box.x, box.y}), of(ink), begin_of(text),
                   end_of(text), box.w * ratio_);
    return all.y / ratio_;
}

void Painter::fill(const Rect& box, Ink ink, float radius) {
    list_->AddRectFilled(snap({box.x, box.y}), snap({box.right(), box.foot()}), of(ink),
                         radius * ratio_);
}

void Painter::fade(const Rect& box, Ink ink, std::uint32_t alpha) {
    list_->AddRectFilled(snap({box.x, box.y}), snap({box.right(), box.foot()}),
                         (of(ink) & 0xFFFFFFU) | alpha << 24U);
}

void Painter::frame(const Rect& box, Ink ink, float thick, float radius) {
    // Along the middle of the stroke, which then fills whole pixels inside the box.
    const float wide = std::max(1.0F, std::round(thick * ratio_));
    const ImVec2 from = snap({box.x, box.y});
    const ImVec2 to = snap({box.right(), box.foot()});
    list_->AddRect({from.x + wide / 2 - 0.5F, from.y + wide / 2 - 0.5F},
                   {to.x - wide / 2 + 0.5F, to.y - wide / 2 + 0.5F}, of(ink), radius * ratio_, 0,
                   wide);
}

void Painter::dashes(Point from, Point to, Ink ink, float thick) {
    const float dx = to.x - from.x;
    const float dy = to.y - from.y;
    const float length = std::sqrt(dx * dx + dy * dy);
    if (length < 1) return;
    // A whole number of dashes, with a dash at both ends.
    const float n = std::max(1.0F, std::round((length + 4) / 9));
    const float step = (length + 4) / n;
    for (float i = 0; i < n; ++i) {
        const float a = i * step / length;
        const float b = std::min(1.0F, (i * step + step - 4) / length);
        line({from.x + dx * a, from.y + dy * a}, {from.x + dx * b, from.y + dy * b}, ink, thick);
    }
}

void Painter::dashes(const Rect& box, Ink ink, float thick) {
    const float half = thick / 2;
    const float l = box.x + half;
    const float t = box.y + half;
    const float r = box.right() - half;
    const float f = box.foot() - half;
    dashes({l, t}, {r, t}, ink, thick);
    dashes({r, t}, {r, f}, ink, thick);
    dashes({r, f}, {l, f}, ink, thick);
    dashes({l, f}, {l, t}, ink, thick);
}

void Painter::line(Point from, Point to, Ink ink, float thick) {
    const float wide = std::max(1.0F, std::round(thick * ratio_));
    // Dear ImGui adds half a pixel itself, which suits odd widths.
    const float shift = static_cast<int>(wide) % 2 == 1 ? 0.0F : -0.5F;
    ImVec2 a = snap(from);
    ImVec2 b = snap(to);
    list_->AddLine({a.x + shift, a.y + shift}, {b.x + shift, b.y + shift}, of(ink), wide);
}

void Painter::area(const std::vector<Point>& convex, Ink ink) {
    for (const Point& p : convex) list_->PathLineTo(at(p));
    list_->PathFillConvex(of(ink));
}

void Painter::below(const std::vector<Point>& line, float level, Ink ink) {
    // Without soft edges, which would show where the pieces meet.
    const ImDrawListFlags kept = list_->Flags;
    list_->Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (std::size_t i = 1; i < line.size(); ++i)
        list_->AddQuadFilled(at({line[i - 1].x, level}), at(line[i - 1]), at(line[i]),
                             at({line[i].x, level}), of(ink));
    list_->Flags = kept;
}

void Painter::path(const std::vector<Point>& points, Ink ink, float thick, bool closed) {
    for (const Point& p : points) list_->PathLineTo(at(p));
    list_->PathStroke(of(ink), closed ? ImDrawFlags_Closed : ImDrawFlags_None, thick * ratio_);
}

void Painter::disc(Point middle, float radius, Ink ink) {
    list_->AddCircleFilled(at(middle), radius * ratio_, of(ink));
}
void Painter::ring(Point middle, float radius, Ink ink, float thick) {
    list_->AddCircle(at(middle), radius * ratio_, of(ink), 0, thick * ratio_);
}
void Painter::arc(Point middle, float radius, float from, float to, Ink ink, float thick) {
    list_->PathArcTo(at(middle), radius * ratio_, from, to);
    list_->PathStroke(of(ink), ImDrawFlags_None, thick * ratio_);
}

bool Painter::tap(std::string id, const Rect& box) {
    const bool focused = passed(id);
    const Rect seen = box.within(clipped());
    if (focused) stops_.rect = seen;
    if (seen.w < 2 || seen.h < 2) {
        // Nothing is submitted, so pressed() must not speak of another.
        ImGui::SetCursorScreenPos({-10, -10});
        ImGui::Dummy({1, 1});
        return false;
    }
    ImGui::SetCursorScreenPos(at({seen.x, seen.y}));
    const bool by_key = focused && std::exchange(stops_.pressed, false);
    const bool tapped =
        ImGui::InvisibleButton(id.c_str(), {seen.w * ratio_, seen.h * ratio_}) || by_key;
    tapped_key_ = tapped_key_ || (tapped && (id.starts_with("key ") || id.starts_with("unit ")));
    target(std::move(id), box);
    return tapped;
}

bool Painter::tap_on_and_on(std::string id, const Rect& box) {
    ImGui::PushButtonRepeat(true);
    const bool tapped = tap(std::move(id), box);
    ImGui::PopButtonRepeat();
    repeats_ = repeats_ || pressed();
    return tapped;
}

bool Painter::passed(std::string_view id) {
    stops_.order.emplace_back(id);
    return focused(id);
}

void Painter::target(std::string id, const Rect& box) {
    // What is mostly cut off can be tapped, but is not there to be found.
    const Rect seen = box.within(clipped());
    if (seen.w >= std::min(box.w, 44.0F) && seen.h >= std::min(box.h, 44.0F))
        targets_.push_back({std::move(id), seen});
}

bool Painter::pressed() const { return ImGui::IsItemActive(); }

void Painter::clip(const Rect& box) {
    clip_.push_back(box.within(clip_.back()));
    const Rect& c = clip_.back();
    list_->PushClipRect(snap({c.x, c.y}), snap({c.right(), c.foot()}));
}
void Painter::unclip() {
    clip_.pop_back();
    list_->PopClipRect();
}

} // namespace wetsleeve
