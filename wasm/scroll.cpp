#include "wasm/scroll.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve {

namespace {

constexpr float rest_speed = 0.03F; // slower is standing
constexpr float top_speed = 6;
constexpr double half_life = 220;    // ms in which a glide loses half its speed
constexpr double aim_time = 180;     // ms to a place that was asked for
constexpr double finger_memory = 60; // ms after which a finger has stopped

} // namespace

void Scroll::limit(float most) {
    most_ = std::max(0.0F, most);
    if (!aimed_) at_ = std::clamp(at_, 0.0F, most_);
}

void Scroll::shift(float by) {
    at_ += by;
    from_ += by;
    to_ += by;
}

void Scroll::jump(float to) {
    aimed_ = gliding_ = false;
    at_ = std::clamp(to, 0.0F, most_);
}

void Scroll::glide(float to, bool still) {
    to = std::clamp(to, 0.0F, most_);
    if (std::fabs(to - at_) < 1) return;
    if (still) return jump(to);
    gliding_ = false;
    aimed_ = true;
    from_ = at_;
    to_ = to;
    since_ = -1;
}

void Scroll::drag(float by, double milliseconds) {
    aimed_ = gliding_ = false;
    const double passed = last_ < 0 ? 16 : std::clamp(milliseconds - last_, 1.0, 100.0);
    last_ = milliseconds;
    const float now = by / static_cast<float>(passed);
    speed_ = std::clamp(0.6F * now + 0.4F * speed_, -top_speed, top_speed);
    at_ = std::clamp(at_ + by, 0.0F, most_);
}

void Scroll::let_go(double milliseconds, bool still) {
    gliding_ = !still && milliseconds - last_ < finger_memory && std::fabs(speed_) > 2 * rest_speed;
    if (!gliding_) speed_ = 0;
    since_ = -1;
    last_ = -1;
}

bool Scroll::stop() {
    const bool moved = gliding_ && std::fabs(speed_) > 5 * rest_speed;
    aimed_ = gliding_ = false;
    speed_ = 0;
    last_ = -1;
    return moved;
}

bool Scroll::step(double milliseconds) {
    if (!gliding_ && !aimed_) return false;
    if (since_ < 0) {
        since_ = milliseconds;
        return true;
    }
    const double passed = milliseconds - since_;
    if (aimed_) {
        const double t = std::clamp(passed / aim_time, 0.0, 1.0);
        const double eased = 1 - (1 - t) * (1 - t) * (1 - t);
        at_ = std::clamp(from_ + (to_ - from_) * static_cast<float>(eased), 0.0F, most_);
        aimed_ = t < 1;
        return aimed_;
    }
    since_ = milliseconds;
    const double dt = std::min(passed, 50.0);
    const float before = at_;
    at_ = std::clamp(at_ + speed_ * static_cast<float>(dt), 0.0F, most_);
    speed_ *= static_cast<float>(std::pow(0.5, dt / half_life));
    gliding_ = std::fabs(speed_) > rest_speed && (at_ != before || dt == 0);
    if (!gliding_) speed_ = 0;
    return gliding_;
}

} // namespace wetsleeve
