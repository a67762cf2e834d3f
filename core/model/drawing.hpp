// A picture as shapes and words in their places, so that every face paints the same one: the canvas
// with its own brush, the page as SVG. And the first kind of picture: a curve with its axes.
#pragma once

#include "core/model/session.hpp"

#include <functional>

namespace wetsleeve {

// What a shape stands for; a face knows its colour.
enum class Part : std::uint8_t {
    water,
    drained,
    soil,
    stone,
    glass,
    lamp,
    outlet,
    bar, // time that something runs
    area,
    dot,
    sign, // goes with a warning in words
    curve,
    water_line,
    axis,
    grid,
    clash, // hatching over what does not go together
    line_after,
    mark,
    count
};
const char* word(Part part);

// How the points of a shape are meant.
enum class Form : std::uint8_t {
    area,     // a closed convex outline
    under,    // a line from left to right, then both feet below it
    path,     // one line
    segments, // pairs of points
    dashes    // the same, dashed
};
Form form_of(Part part);

struct Spot {
    double x, y;
};

// Right and down from the left top corner.
struct Drawing {
    struct Shape {
        Part part;
        std::vector<Spot> points;
    };
    struct Word {
        Spot at;  // on the baseline
        int side; // of `at` that the text begins on: -1 ends there, 0 is in the middle, 1 begins
        bool quiet;
        std::string text;
        double wide;
    };
    std::string name, summary;
    double width = 0, height = 0;
    std::vector<Shape> shapes; // in the order to paint; empty: nothing to show
    std::vector<Word> words;
};

// What a face draws on.
struct Sheet {
    double width, em; // em: the size of its letters
    std::function<double(std::string_view)> wide;
};

// Puts shapes and words on a drawing.
class Pen {
  public:
    Pen(Drawing& drawing, const Sheet& sheet) : drawing_(drawing), sheet_(sheet) {
        drawing.width = sheet.width;
    }
    void shape(Part part, std::vector<Spot> points) {
        drawing_.shapes.push_back({part, std::move(points)});
    }
    void disc(Spot middle, double radius);
    // Kept inside the sheet. False, and nothing written, where it would touch another word.
    bool try_word(Spot baseline, int side, std::string text, bool quiet = true);
    void word(Spot baseline, int side, std::string text, bool quiet = true);
    // Broken at spaces; returns the last baseline.
    double rows(Spot baseline, const std::string& text);

  private:
    Drawing::Word placed(Spot at, int side, std::string text, bool quiet) const;

    Drawing& drawing_;
    const Sheet& sheet_;
};

// At most four round values that an axis is labelled with; of hours, each sixth.
std::vector<double> axis_ticks(double low, double high, bool clock);

// A value on the slip by its cell's key; NaN where it is not known.
double known_value(const Session& session, std::string_view key);

// A curve slot; without shapes until the line has answers.
Drawing curve_drawing(const Session& session, std::size_t line, std::size_t slot,
                      const Sheet& sheet);

} // namespace wetsleeve
