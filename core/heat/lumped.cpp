#include "core/heat/lumped.hpp"

#include "core/heat/dormand_prince.hpp"

#include <cmath>

namespace wetsleeve::heat {

namespace {

constexpr double day_min = 1440;
constexpr double pi = 3.14159265358979323846;
constexpr double boiling_c = 99;

// The share of the step where `error` (of one sign at each end) is nought, by Illinois' chords.
template <class Error>
double root_share(double a, double b, double at_a, double at_b, Error&& error) {
    int side = 0;
    double x = a;
    for (int step = 0; step < 60; ++step) {
        const double was = x;
        x = (a * at_b - b * at_a) / (at_b - at_a);
        if (step % 4 == 3 || !(x >= a && x <= b)) x = 0.5 * (a + b);
        const double at_x = error(x);
        if (at_x == 0 || std::fabs(x - was) < 1e-15) break;
        if (at_x * at_b > 0) {
            b = x;
            at_b = at_x;
            if (side > 0) at_a *= 0.5;
            side = 1;
        } else {
            a = x;
            at_a = at_x;
            if (side < 0) at_b *= 0.5;
            side = -1;
        }
    }
    return x;
}

// Reads a course from its steps: each is cut at its turning point, so that a piece rises or falls
// and meets the limit once at most.
struct Reader {
    const Watch& watch;
    Course course;
    bool over = false;  // has been above the limit
    bool under = false; // has been at or below it
    double now_min = 0;

    void piece(const RungeKuttaStep& step, double a, double b) {
        const double at_a = step.value(a) - watch.limit_c;
        const double at_b = (b == 1 ? step.y_to : step.value(b)) - watch.limit_c;
        double over_share = at_a > 0 ? b - a : 0;
        if ((at_a > 0) != (at_b > 0)) {
            const double x = root_share(a, b, at_a, at_b,
                                        [&](double s) { return step.value(s) - watch.limit_c; });
            over_share = at_a > 0 ? x - a : b - x;
            if (at_a > 0) fell(step.time(x));
            else rose(step.time(x));
        }
        course.over_min += over_share * step.length;
        course.highest_c = std::fmax(course.highest_c, at_b + watch.limit_c);
    }
    void rose(double minute) {
        if (!over) course.first_over_min = minute;
        over = true;
    }
    void fell(double minute) {
        if (!under) course.first_under_min = minute;
        under = true;
    }
    bool take(const RungeKuttaStep& step) {
        if (step.slope_from * step.slope_to < 0) {
            const double turn =
                root_share(0, 1, step.slope_from * step.length, step.slope_to * step.length,
                           [&](double s) { return step.rise(s); });
            piece(step, 0, turn);
            piece(step, turn, 1);
        } else {
            piece(step, 0, 1);
        }
        course.end_c = step.y_to;
        now_min = step.time(1);
        return step.y_to < boiling_c && !(watch.stop_under && under);
    }
};

} // namespace

Air Room::at(double minute) const {
    const double middle_c = 0.5 * (low_c + high_c);
    const double swing_k = 0.5 * (high_c - low_c);
    const double air_c =
        swing_k == 0 ? middle_c
                     : middle_c + swing_k * std::cos(2 * pi / day_min * (minute - peak_min));
    return {air_c, vapour_pa, speed_m_s};
}

Course course_of(const Losses& losses, double capacity_j_k, const Room& room, const Heat& heat,
                 double start_c, double minutes, const Watch& watch,
                 std::vector<std::pair<double, double>>* points) {
    Reader reader{watch, {}, start_c > watch.limit_c, start_c <= watch.limit_c, 0};
    Course& course = reader.course;
    course.end_c = course.highest_c = start_c;
    course.first_over_min = reader.over ? 0 : minutes;
    course.first_under_min = reader.under ? 0 : minutes;
    if (points != nullptr) points->emplace_back(0.0, start_c);

    const bool switches = heat.lit_w != 0 && heat.lit_min > 0 && heat.lit_min < day_min;
    const double off_min = std::fmod(heat.on_min + heat.lit_min, day_min);
    // Minutes from t until the clock next shows `clock`, never nought.
    const auto until = [](double t, double clock) {
        const double wait = std::fmod(clock - std::fmod(t, day_min) + day_min, day_min);
        return wait > 1e-9 ? wait : day_min;
    };

    const double swing_k = 0.5 * (room.high_c - room.low_c);
    // How quickly the water follows the room, and how hard it is pulled where a stretch begins.
    const Air first = room.at(0);
    const double pull_w = losses.watts(start_c, first);
    const double rate = (losses.watts(start_c + 1, first) - pull_w) * 60 / capacity_j_k;
    const double slope =
        (std::fabs(heat.lit_w) + std::fabs(heat.always_w) + std::fabs(pull_w)) * 60 / capacity_j_k +
        rate * swing_k;
    // Beyond 3.3 ÷ rate a step is no longer stable.
    RungeKutta rk{watch.wanted_k, std::fmin(minutes, 2 / rate)};
    const double next = rk.first_step(slope, std::fmax(rate, 2 * pi / day_min));
    double t = 0;
    double y = start_c;
    if (watch.stop_under && reader.under) minutes = 0;
    while (t < minutes) {
        double end = minutes;
        bool lit = heat.lit_min >= day_min;
        if (switches) {
            const double to_on = until(t, heat.on_min);
            const double to_off = until(t, off_min);
            lit = to_off < to_on;
            end = std::fmin(end, t + std::fmin(to_on, to_off));
        }
        // The room's turning points cut the day as well: each stretch begins afresh.
        if (swing_k > 0)
            end = std::fmin(end, t + std::fmin(until(t, room.peak_min),
                                               until(t, std::fmod(room.peak_min + 720, day_min))));
        const double heat_w = heat.always_w + (lit ? heat.lit_w : 0);
        const bool went = rk.run(
            [&](double at, double water_c) {
                return (heat_w - losses.watts(water_c, room.at(at))) * 60 / capacity_j_k;
            },
            t, end, next, y,
            [&](const RungeKuttaStep& step) {
                if (points != nullptr)
                    for (int i = 1; i <= 4; ++i)
                        points->emplace_back(step.time(0.25 * i), step.value(0.25 * i));
                return reader.take(step);
            });
        if (!went) {
            course.whole = watch.stop_under && reader.under && course.end_c < boiling_c;
            return course;
        }
        t = end;
    }
    course.whole = true;
    return course;
}

bool too_quick(const Losses& losses, double capacity_j_k) {
    const Air air{40, 0};
    const double w_k = losses.watts(40.5, air) - losses.watts(39.5, air);
    return capacity_j_k < 600 * w_k;
}

} // namespace wetsleeve::heat
