// One day laid out on a ribbon of 24 hours: what runs from when until when, and where two things
// that do not go together meet. Minutes after midnight; common practice, no source, says what
// clashes.
#pragma once

#include <array>
#include <cstddef>
#include <span>

namespace wetsleeve::timing {

// From a time of day for so many minutes, across midnight if need be. 0 minutes: never; 1,440 and
// more: round the clock.
struct Window {
    double from_min = 0.0, length_min = 0.0;
};

Window between(double from_min, double until_min); // the same time for both ends: round the clock

bool holds(const Window& window, double minute);
double overlap_min(const Window& a, const Window& b);
Window rest_of_day(const Window& window);

struct DayPlan {
    double lights_on_min = 0.0, light_min = 0.0, break_min = 0.0; // the break splits the light
    Window co2{}, skimmer{}, uv{}, heater{}, cooler{};
    double dose_min = 0.0, feed_min = 0.0; // NaN: none

    // From first light to last, the break with it.
    Window lit_day() const { return {lights_on_min, light_min + break_min}; }
};

enum class Clash : unsigned char {
    co2_and_skimmer, // the skimmer drives the gas off
    co2_in_the_dark, // after last light, or more than three hours before first
    dose_and_skimmer,
    dose_and_uv,
    feed_and_skimmer,
    heater_and_cooler,
};

// A piece of the ribbon, cut at midnight: 0 <= from <= until <= a day. Doses and feeding are
// points.
struct Span {
    const char* name;
    double from_min, until_min;
};
struct ClashSpan {
    Clash clash;
    const char* name;
    double from_min, until_min;
};

class Ribbon {
  public:
    explicit Ribbon(const DayPlan& plan);

    std::span<const Span> spans() const { return {spans_.data(), span_count_}; }
    std::span<const ClashSpan> clashes() const { return {clashes_.data(), clash_count_}; }
    bool has(Clash clash) const;

  private:
    void add(const char* name, const Window& window);
    void add(Clash clash, double from_min, double until_min);
    void meet(Clash clash, const Window& a, const Window& b);

    std::array<Span, 16> spans_{};
    std::array<ClashSpan, 16> clashes_{};
    std::size_t span_count_ = 0, clash_count_ = 0;
};

} // namespace wetsleeve::timing
