// The one place where state lives: what a person entered into a slip, how they like numbers
// written, and the way back. Faces send what was typed and read views; they keep nothing of their
// own.
#pragma once

#include "core/model/slip.hpp"
#include "core/model/text.hpp"

#include <cstdint>
#include <limits>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve {

enum class Role : std::uint8_t {
    given,    // typed, or the usual value
    fed,      // comes from another line
    answer,   // follows
    held,     // an answer that was typed over
    gave_way, // a given slot that follows because of it
    figure,   // a table or curve
};

// Days are counted from 1970-01-01.
inline constexpr int no_day = std::numeric_limits<int>::min();

struct SlotView {
    Role role = Role::given;
    Shown shown;            // number empty: blank
    std::string plus_minus; // "±6 L", or empty
    double value = blank;   // base unit
    double doubt = blank;   // ±, base unit
    const Unit* unit = nullptr;
    bool locked = false;   // came with a slip that was handed over, and stays as it is
    int measured = no_day; // of what is read (SlotSpec::read): the day when it was typed
};

struct SpokenRemark {
    Level level;
    std::string text;
};

struct LineView {
    std::vector<Piece> pieces;
    std::vector<SlotView> slots; // one a slot of the line, asked for by the sentence or not
    Slip::Standing standing = Slip::Standing::waiting;
    std::string
        trouble; // why there is no answer: what is wrong and what to do; empty when there is
    std::vector<SpokenRemark> remarks;

    // Role::held, or none.
    std::size_t held() const;
};

// The words that a working is made of.
struct WorkingWords {
    std::string line; // its id
    std::vector<std::string> formula, assumes, sources;
    std::string keywords; // by which people look for the line
};
WorkingWords words_of(const Line& line, const Messages* messages);

struct Working {
    std::vector<std::string> in_names;   // the formula in words and symbols
    std::vector<std::string> in_numbers; // the same with numbers, base units
    std::vector<std::string> assumes;
    std::vector<std::string> sources;
};

// What whoever hands a slip over asks of the page that takes it up. No step of the work.
struct Terms {
    // Whatever has a value when the slip is handed over stays as it is; what is blank then stays
    // open. How numbers are shown is free.
    bool locked = false;
    std::vector<std::string> open{};  // of a locked slip: the keys (Slip::key) of what is open
    std::vector<std::string> shown{}; // ids of the lines to read; empty: all
    bool operator==(const Terms&) const = default;
};

class Session {
  public:
    // All lines there are to choose from, and those that a new slip holds.
    Session(std::span<const Line* const> catalogue, std::span<const Line* const> begin_with);
    explicit Session(std::span<const Line* const> lines) : Session(lines, lines) {}

    const Slip& slip() const { return *entered_.slip; }
    std::span<const Line* const> catalogue() const { return catalogue_; }
    // More lines to choose from than there were at first.
    void offer(std::span<const Line* const> catalogue);
    bool on_slip(const Line& line) const;
    bool in_sight(const Line& line) const; // on the slip, and not hidden (Terms::shown)
    const Slip::Outcome& outcome() const { return outcome_; }
    const Style& style() const { return style_; }
    // A text of the program in the reader's language.
    const char* say(const char* english) const { return style_.say(english); }
    // Changes whenever anything that a face shows may have changed.
    std::uint32_t revision() const { return revision_; }

    // Types `text` into a slot, whichever its role: a given slot takes it, an answer holds it and
    // its slot gives way, a fed slot passes it to the line that feeds it. An offer's name stands
    // for its value. Empty text clears the slot. Returns one sentence when it cannot be; then
    // nothing has changed.
    [[nodiscard]] std::string enter(std::size_t line, std::size_t slot, std::string_view text);
    // The same with a number in base units; choices take the option's index.
    [[nodiscard]] std::string enter_value(std::size_t line, std::size_t slot, double value);
    // Shows the slot in another unit of its dimension; the value stays.
    [[nodiscard]] std::string show_in(std::size_t line, std::size_t slot, std::string_view symbol);
    // Puts a line of the catalogue on the slip or takes it off. Values that other lines read stay:
    // what a line that goes has answered is then given. A line that answers what another on the
    // slip answers takes its place: a tank has one shape. A hidden line comes into sight. Returns
    // one sentence when the slip is locked; then nothing has changed.
    std::string choose(const Line& line, bool on);
    // What is read with a test or a meter keeps the day on which it is typed: this one. No step.
    void set_today(int day);
    int today() const { return today_; }
    // The most for one lift, and whose limit it is; "": the shop's own. No step.
    void set_lift(double most_g, std::string_view standard);
    std::string usual_lift() const; // "23 kg (NIOSH 94-110)"
    // How this reader writes numbers: of the device, not of the slip. No step of the work.
    void set_style(const Style& style);
    // Speaks another language from now on; without messages, English. No step of the work either.
    void speak(Messages messages);
    void clear(); // begins again, as far as the slip is open; can be undone

    bool can_undo() const { return !past_.empty(); }
    bool can_redo() const { return !future_.empty(); }
    void undo();
    void redo();

    // The lines of the slip in the order to read them: what a visit asks for comes first, once all
    // that is settled for good (About::settles) is known; before that, it comes last. Hidden lines
    // feed the others and are not among them; when none of those to show is there, all are. Nothing
    // moves while one types: the order is made anew with other lines, and when a kept slip is taken
    // up.
    const std::vector<std::size_t>& order() const { return order_; }

    LineView view(std::size_t line) const;
    // A sentence that says so, when the words have not come yet.
    Working working(std::size_t line) const;
    // Other words by which people look for a line; "" while they have not come yet.
    std::string_view keywords(const Line& line) const;
    // The words of workings, where they do not come with the lines.
    void learn(std::vector<WorkingWords> words);
    Table table(std::size_t line, std::size_t slot) const; // empty until the line has answers
    Curve curve(std::size_t line, std::size_t slot) const;
    const Unit& unit(std::size_t line, std::size_t slot) const;
    // The slot that changes when this answer is typed over, as the line's choices stand; npos: none
    // does.
    std::size_t gives_way(std::size_t line, std::size_t slot) const;
    // Whether it came with the slip that was handed over, so that it cannot be typed over.
    bool is_locked(std::size_t line, std::size_t slot) const;
    // What may be typed into the slot, as "1 cm to 400 cm".
    std::string range(std::size_t line, std::size_t slot) const;

    // What is entered, for keeping; and the steps that undo and redo can take, oldest first.
    struct Entered {
        std::shared_ptr<const Slip> slip; // which lines; never null
        Slip::State state;
        std::vector<const Unit*> unit; // a cell each; null: habit
        std::vector<int> measured;     // a cell each: the day; no_day: not known
    };
    // Nothing typed yet into a slip of these lines.
    static Entered blank_entry(std::span<const Line* const> lines);
    const Entered& entered() const { return entered_; }
    std::span<const Line* const> begin_with() const { return begin_with_; }
    std::span<const Entered> past() const { return past_; }
    std::span<const Entered> future() const { return future_; }
    // Takes up what was kept. False, and nothing changed, when it has no order to reckon in. Of a
    // locked slip, steps that would change what is locked are left out.
    bool restore(Entered entered, std::vector<Entered> past, std::vector<Entered> future,
                 Terms terms = {});

    const Terms& terms() const { return terms_; }
    // Hands the slip over: locked or not, with only these lines in sight. There is no way back.
    void hand_over(bool locked, std::vector<std::string> shown);
    // The keys of what is blank in a slip.
    static std::vector<std::string> blanks(const Entered& entered);

  private:
    bool is_open(std::size_t cell) const;
    bool keeps_locked(const Entered& step) const;
    std::string put(std::size_t line, std::size_t slot, double value, const Unit* typed_in);
    bool commit(Entered next);
    void put_in_order();
    std::string lift_in_words(double most_g, const std::string& standard) const;
    const WorkingWords* learned(const Line& line) const;
    void step(std::vector<Entered>& from, std::vector<Entered>& to);

    std::vector<const Line*> catalogue_, begin_with_;
    Style style_;
    int today_ = no_day;
    double most_lifted_g_ = lift_limit_g;
    std::string lift_standard_ = lift_standard;
    Entered entered_;
    Slip::Outcome outcome_;
    std::vector<std::size_t> order_;
    Terms terms_;
    std::vector<WorkingWords> words_;
    std::shared_ptr<const Messages> messages_; // null: English
    std::vector<Entered> past_, future_;       // at most `steps_kept` each
    std::uint32_t revision_ = 1;

    static constexpr std::size_t steps_kept = 60;
};

} // namespace wetsleeve
