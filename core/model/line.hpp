// What a line is, and how one is declared.
//
// A line is a struct with In, Out, `about`, `slots` and `reckon`; WETSLEEVE_LINE(Name) at the end
// of its header registers it. DEVELOPERS.md walks through one. Everything a face shows comes from
// this description, so the compiler refuses one that is incomplete (see `flaw_in`).
#pragma once

#include "core/model/figure.hpp"
#include "core/model/quantity.hpp"
#include "core/model/result.hpp"
#include "core/model/source.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <limits>
#include <span>
#include <string_view>
#include <tuple>
#include <type_traits>

namespace wetsleeve {

// ---- what an author writes ----------------------------------------------------------------------

// Up to eight literals; the rest are null.
struct Texts {
    const char* text[8] = {};

    constexpr std::size_t size() const {
        std::size_t n = 0;
        while (n < 8 && text[n] != nullptr) ++n;
        return n;
    }
    constexpr const char* const* begin() const { return text; }
    constexpr const char* const* end() const { return text + size(); }
};

// The phrases of a choice: a few literals, or a list that lives elsewhere.
class Options {
  public:
    constexpr Options() = default;
    constexpr explicit(false) Options(std::span<const char* const> listed) : listed_(listed) {}
    template <class... Literals>
    constexpr Options(const char* first, const char* second, Literals... more) // NOLINT
        : few_{{first, second, more...}} {}

    constexpr std::size_t size() const { return listed_.empty() ? few_.size() : listed_.size(); }
    constexpr const char* const* begin() const {
        return listed_.empty() ? few_.begin() : listed_.data();
    }
    constexpr const char* const* end() const { return begin() + size(); }
    constexpr const char* operator[](std::size_t i) const { return begin()[i]; }

  private:
    Texts few_{};
    std::span<const char* const> listed_{};
};

// A named value that a person may pick instead of typing it: granite for 2.65 kg/L. Faces offer
// them; `enter` takes the name as it takes a number.
struct Offer {
    const char* name;
    double value; // base unit
};

struct Range {
    double low = 0.0, high = 0.0; // base unit, both ends allowed
};

// How far a value may be off: absolute (base unit) plus relative × value. One standard reading
// error.
struct Tolerance {
    double absolute = 0.0, relative = 0.0;
};

// A slot that starts blank: there is no value that one could assume without harm.
inline constexpr double blank = std::numeric_limits<double>::quiet_NaN();

struct SlotSpec {
    const char* id = nullptr; // [a-z_]+, unique in its line; for a travelling quantity, everywhere
    const char* name = nullptr; // plain trade words, no unit
    Range range{};              // what may be typed, and what an answer may come to
    double usual = blank;       // the value to begin with (choices: the option's index)
    Tolerance tolerance{};      // of a value that is given
    Texts gives_way{};          // answers: the given slot that changes when this is typed over;
                                // of several, the first that the present sentence asks for
    Habit shown{};              // units to show; default: the dimension's habit
    Options options{};          // choices: one phrase for each enumerator, in order
    std::span<const Offer> offers{}; // names for some values, from presets/
    bool read = false;               // with a test or a meter, on a visit
    bool travels = false;            // the same quantity in every line of a slip; set by Quantity
};

// A quantity that travels between the lines of a slip under its id: one line answers or gives it,
// the others are fed. T is the strong type that every line must bind it to.
template <class T> struct Quantity { SlotSpec spec; };

struct About {
    const char* id;       // domain.name
    const char* title;    // a few words, as a heading
    const char* keywords; // other words by which people look for it
    // One sentence for each option of `variant`, or one alone. {id} is a slot; each slot at most
    // once. After a line break come the quieter words: what the sentence stands on.
    Texts sentences;
    const char* variant = nullptr; // id of the choice that picks the sentence
    // "{answer} = …", shown once in names and once in numbers. "1|…" goes with sentence 1 alone.
    Texts formula{};
    Source sources[4] = {};
    Texts assumes{};       // what must hold for the answer to be right
    Texts always{};        // cautions that go with every answer
    bool everyday = false; // on every new slip; all others are put on it by hand
    bool settles = false;  // once known it stays as it is: sizes, soil, net water
};

enum class Kind : std::uint8_t { number, count, choice, clock, table, curve };

// ---- what faces read ----------------------------------------------------------------------------

struct Slot : SlotSpec {
    Kind kind = Kind::number;
    bool answer = false;
    const Dimension* dimension = nullptr; // null for choices, tables and curves

    constexpr bool figure() const { return kind == Kind::table || kind == Kind::curve; }
};

// Values lie in slot order: given[i] belongs to slots[i], answers[i] to slots[givens + i].
struct Line {
    About about;
    std::span<const Slot> slots; // givens first
    std::size_t givens = 0;
    std::size_t variant = npos;
    Template (*reckon)(const double* given, double* answers) = nullptr; // null, or why not
    void (*speak)(const double* given, const double* answers, Remarks& say) = nullptr;
    Table (*table)(std::size_t slot, const double* given, const double* answers) = nullptr;
    Curve (*curve)(std::size_t slot, const double* given, const double* answers) = nullptr;

    static constexpr std::size_t npos = static_cast<std::size_t>(-1);
    static constexpr std::size_t max_slots = 24;

    constexpr std::size_t find(std::string_view id) const {
        for (std::size_t i = 0; i < slots.size(); ++i)
            if (id == slots[i].id) return i;
        return npos;
    }
    constexpr std::span<const Slot> given_slots() const { return slots.first(givens); }
    constexpr std::span<const Slot> answer_slots() const { return slots.subspan(givens); }
    // Which of the sentences holds for a value of the variant's choice; 0 when there is but one.
    constexpr const char* sentence(double choice) const {
        return about.sentences.text[variant == npos ? 0 : static_cast<std::size_t>(choice)];
    }
    // The given slot that changes when `answer` is typed over.
    constexpr std::size_t gives_way(std::size_t answer, double choice) const {
        for (const char* id : slots[answer].gives_way)
            if (mentions(sentence(choice), id)) return find(id);
        return npos;
    }
    // Whether {id} stands in a template.
    static constexpr bool mentions(std::string_view text, std::string_view id) {
        for (std::size_t at = text.find('{'); at != std::string_view::npos;
             at = text.find('{', at + 1))
            if (text.substr(at + 1).starts_with(id) &&
                text.substr(at + 1 + id.size()).starts_with('}'))
                return true;
        return false;
    }
};

// ---- binding members to slots -------------------------------------------------------------------

namespace detail {

template <class M> struct member;
template <class C, class T> struct member<T C::*> {
    using owner = C;
    using type = T;
};

constexpr Kind kind_read(Reading reading) {
    return reading == Reading::clock   ? Kind::clock
           : reading == Reading::count ? Kind::count
                                       : Kind::number;
}

template <class T> struct kind_of {
    static_assert(std::is_enum_v<T>, "a slot is an Amount or an enum class");
    static constexpr Kind kind = Kind::choice;
    static constexpr const Dimension* dimension = nullptr;
};
template <const Dimension& D> struct kind_of<Amount<D>> {
    static constexpr const Dimension* dimension = &D;
    static constexpr Kind kind = kind_read(D.reading);
};

// Places the member's value in a row of doubles and takes it out again.
template <auto Member> struct Bound {
    using owner = typename member<decltype(Member)>::owner;
    using type = typename member<decltype(Member)>::type;
    Slot slot;

    static void read(owner& to, double from) {
        if constexpr (std::is_enum_v<type>) to.*Member = static_cast<type>(static_cast<int>(from));
        else (to.*Member).value = from;
    }
    static double write(const owner& from) { return (from.*Member).value; }
};

template <auto Function> struct Drawn {
    static constexpr auto draw = Function;
    Slot slot;
};

template <auto Member> constexpr Slot slot_for(const SlotSpec& spec, bool answer) {
    using type = typename member<decltype(Member)>::type;
    return Slot{spec, kind_of<type>::kind, answer, kind_of<type>::dimension};
}

} // namespace detail

template <auto Member> constexpr detail::Bound<Member> given(const SlotSpec& spec) {
    return {detail::slot_for<Member>(spec, false)};
}
template <auto Member, class T> constexpr detail::Bound<Member> given(const Quantity<T>& quantity) {
    static_assert(std::is_same_v<T, typename detail::Bound<Member>::type>,
                  "bind the quantity to its own type");
    SlotSpec spec = quantity.spec;
    spec.travels = true;
    return {detail::slot_for<Member>(spec, false)};
}
template <auto Member> constexpr detail::Bound<Member> answer(const SlotSpec& spec) {
    return {detail::slot_for<Member>(spec, true)};
}
template <auto Member, class T>
constexpr detail::Bound<Member> answer(const Quantity<T>& quantity, const Texts& gives_way) {
    static_assert(std::is_same_v<T, typename detail::Bound<Member>::type>,
                  "bind the quantity to its own type");
    SlotSpec spec = quantity.spec;
    spec.travels = true;
    spec.gives_way = gives_way;
    return {detail::slot_for<Member>(spec, true)};
}
// A static function (const In&, const Out&) -> Table or Curve.
template <auto Function> constexpr detail::Drawn<Function> table(const char* id, const char* name) {
    return {Slot{{.id = id, .name = name}, Kind::table, true, nullptr}};
}
template <auto Function> constexpr detail::Drawn<Function> curve(const char* id, const char* name) {
    return {Slot{{.id = id, .name = name}, Kind::curve, true, nullptr}};
}

// ---- from the description to the Line -----------------------------------------------------------

namespace detail {

template <class L> inline constexpr std::size_t slot_count = std::tuple_size_v<decltype(L::slots)>;

template <class L>
inline constexpr auto slots_of = std::apply(
    [](const auto&... bound) { return std::array<Slot, sizeof...(bound)>{bound.slot...}; },
    L::slots);

template <class L> constexpr std::size_t givens_of() {
    std::size_t n = 0;
    for (const Slot& slot : slots_of<L>)
        if (!slot.answer) ++n;
    return n;
}

template <class L, class Do> void each_slot(Do&& visit) {
    [&]<std::size_t... I>(std::index_sequence<I...>) { (visit(std::get<I>(L::slots), I), ...); }
    (std::make_index_sequence<slot_count<L>>{});
}

template <class L> typename L::In unpack_given(const double* given) {
    typename L::In in{};
    each_slot<L>([&](const auto& bound, std::size_t i) {
        if constexpr (requires { bound.read(in, 0.0); }) bound.read(in, given[i]);
    });
    return in;
}

template <class L> typename L::Out unpack_answers(const double* answers) {
    typename L::Out out{};
    each_slot<L>([&](const auto& bound, std::size_t i) {
        if constexpr (requires { bound.read(out, 0.0); })
            bound.read(out, answers[i - givens_of<L>()]);
    });
    return out;
}

inline constexpr Template not_finite =
    "These numbers together are past reckoning: look at them again.";

template <class L>
Template reckon_erased(const double* given,
                       double* answers) { // NOLINT(readability-non-const-parameter): filled below
    const Result<typename L::Out> result = L::reckon(unpack_given<L>(given));
    if (!result) return result.why();
    bool finite = true;
    each_slot<L>([&](const auto& bound, std::size_t i) {
        if constexpr (requires { bound.write(*result); }) {
            const double value = bound.write(*result);
            answers[i - givens_of<L>()] = value;
            finite = finite && value - value == 0.0;
        }
    });
    return finite ? nullptr : not_finite;
}

template <class L> void speak_erased(const double* given, const double* answers, Remarks& say) {
    if constexpr (requires { L::speak; })
        L::speak(unpack_given<L>(given), unpack_answers<L>(answers), say);
}

template <class L, class Figure>
Figure figure_erased(std::size_t slot, const double* given, const double* answers) {
    Figure figure;
    const auto in = unpack_given<L>(given);
    const auto out = unpack_answers<L>(answers);
    each_slot<L>([&](const auto& bound, std::size_t i) {
        if constexpr (requires { bound.draw(in, out); })
            if constexpr (std::is_same_v<Figure, decltype(bound.draw(in, out))>)
                if (i == slot) figure = bound.draw(in, out);
    });
    return figure;
}

// ---- slots by name
// -------------------------------------------------------------------------------

template <auto Member, class Each> constexpr bool is_bound_to(const Each&) {
    return std::is_same_v<Each, Bound<Member>>;
}
// The place of the slot that a member is bound to; as many as there are: it is bound to none.
template <class L, auto Member> constexpr std::size_t place_of_slot() {
    std::size_t place = 0;
    std::size_t found = slot_count<L>;
    std::apply(
        [&](const auto&... bound) {
            ((found = is_bound_to<Member>(bound) ? place : found, ++place), ...);
        },
        L::slots);
    return found;
}

template <class L, auto Member> struct SlotName {
    static constexpr std::size_t place = place_of_slot<L, Member>();
    static_assert(place < slot_count<L>, "this member is bound to no slot of the line");
    static constexpr const Slot& slot = slots_of<L>[place];
    static constexpr std::string_view line{L::about.id}, id{slot.id};
    static constexpr auto of_line = [] {
        std::array<char, line.size() + id.size() + 2> text{};
        std::copy(line.begin(), line.end(), text.begin());
        text[line.size()] = '/';
        std::copy(id.begin(), id.end(), text.begin() + line.size() + 1);
        return text;
    }();
    static constexpr const char* key = slot.travels ? slot.id : of_line.data();
};

// ---- what the compiler refuses ------------------------------------------------------------------

constexpr bool finite(double x) {
    return x >= std::numeric_limits<double>::lowest() && x <= std::numeric_limits<double>::max();
}

// How often {id} stands in a template; `unknown` is set when a placeholder is no slot of the line.
template <std::size_t N>
constexpr std::array<int, N> mentions(const std::array<Slot, N>& slots, const char* text,
                                      bool& unknown) {
    std::array<int, N> times{};
    const std::string_view all = text;
    for (std::size_t at = all.find('{'); at != std::string_view::npos; at = all.find('{', at + 1)) {
        const std::size_t end = all.find('}', at);
        if (end == std::string_view::npos) {
            unknown = true;
            break;
        }
        bool known = false;
        for (std::size_t i = 0; i < N; ++i)
            if (all.substr(at + 1, end - at - 1) == slots[i].id) {
                ++times[i];
                known = true;
            }
        if (!known) unknown = true;
    }
    return times;
}

enum class Flaw {
    none,
    needs_id_title_and_keywords,
    needs_a_source,
    needs_a_formula,
    needs_assumptions,
    too_many_slots,
    givens_come_before_answers,
    needs_an_answer,
    slot_needs_id_and_name,
    slot_id_is_taken,
    slot_needs_a_range,
    usual_value_is_outside_the_range,
    unit_is_not_of_the_dimension,
    choice_needs_its_options,
    offer_is_outside_the_range,
    every_sentence_needs_a_slot_that_gives_way,
    what_gives_way_must_be_a_given_number_or_time,
    variant_needs_one_sentence_per_option,
    sentence_must_end_with_a_stop,
    sentence_names_an_unknown_slot,
    sentence_names_a_slot_twice,
    sentence_leaves_a_slot_out,
    formula_names_an_unknown_slot,
    formula_belongs_to_no_sentence,
};

template <std::size_t N>
constexpr Flaw flaw_in(const About& about, const std::array<Slot, N>& slots) {
    const auto index_of = [&](const char* id) {
        for (std::size_t i = 0; i < N; ++i)
            if (std::string_view(id) == slots[i].id) return i;
        return N;
    };
    const auto filled = [](const char* text) { return text != nullptr && *text != '\0'; };

    if (!filled(about.id) || !filled(about.title) || !filled(about.keywords))
        return Flaw::needs_id_title_and_keywords;
    if (!filled(about.sources[0].key)) return Flaw::needs_a_source;
    if (about.formula.size() == 0) return Flaw::needs_a_formula;
    if (about.assumes.size() == 0) return Flaw::needs_assumptions;
    if (N > Line::max_slots) return Flaw::too_many_slots;

    bool seen_answer = false;
    for (std::size_t i = 0; i < N; ++i) {
        const Slot& slot = slots[i];
        if (!filled(slot.id) || !filled(slot.name)) return Flaw::slot_needs_id_and_name;
        if (index_of(slot.id) != i) return Flaw::slot_id_is_taken;
        if (seen_answer && !slot.answer) return Flaw::givens_come_before_answers;
        seen_answer = seen_answer || slot.answer;
        if (slot.figure()) continue;
        if (slot.kind == Kind::choice) {
            if (slot.options.size() < 2) return Flaw::choice_needs_its_options;
            if (!(slot.usual >= 0 && slot.usual < static_cast<double>(slot.options.size())))
                return Flaw::usual_value_is_outside_the_range;
            continue;
        }
        if (!finite(slot.range.low) || !finite(slot.range.high) ||
            !(slot.range.low < slot.range.high))
            return Flaw::slot_needs_a_range;
        if (finite(slot.usual) && !(slot.usual >= slot.range.low && slot.usual <= slot.range.high))
            return Flaw::usual_value_is_outside_the_range;
        for (const Offer& offer : slot.offers)
            if (!(offer.value >= slot.range.low && offer.value <= slot.range.high))
                return Flaw::offer_is_outside_the_range;
        for (const char* symbol : {slot.shown.metric, slot.shown.us, slot.shown.imperial})
            if (symbol != nullptr && !slot.dimension->has(symbol))
                return Flaw::unit_is_not_of_the_dimension;
        if (slot.answer) {
            for (const char* id : slot.gives_way) {
                const std::size_t way = index_of(id);
                if (way == N || slots[way].answer || slots[way].kind == Kind::choice ||
                    slots[way].kind == Kind::count)
                    return Flaw::what_gives_way_must_be_a_given_number_or_time;
            }
            for (const char* sentence : about.sentences) {
                bool any = false;
                for (const char* id : slot.gives_way) any = any || Line::mentions(sentence, id);
                if (!any) return Flaw::every_sentence_needs_a_slot_that_gives_way;
            }
        }
    }
    if (!seen_answer) return Flaw::needs_an_answer;

    std::size_t sentences = 1;
    std::size_t variant = N;
    if (about.variant != nullptr) {
        variant = index_of(about.variant);
        if (variant == N || slots[variant].kind != Kind::choice)
            return Flaw::variant_needs_one_sentence_per_option;
        sentences = slots[variant].options.size();
    }
    if (about.sentences.size() != sentences) return Flaw::variant_needs_one_sentence_per_option;

    std::array<bool, N> mentioned{};
    for (const char* sentence : about.sentences) {
        if (std::string_view(sentence).back() != '.') return Flaw::sentence_must_end_with_a_stop;
        bool unknown = false;
        const std::array<int, N> times = mentions(slots, sentence, unknown);
        if (unknown) return Flaw::sentence_names_an_unknown_slot;
        for (std::size_t i = 0; i < N; ++i) {
            if (times[i] > 1) return Flaw::sentence_names_a_slot_twice;
            mentioned[i] = mentioned[i] || times[i] == 1;
            // A choice that picks the sentence must stay in reach, and answers are always worth a
            // word.
            if (times[i] == 0 && (i == variant || slots[i].answer))
                return Flaw::sentence_leaves_a_slot_out;
        }
    }
    for (const bool once : mentioned)
        if (!once) return Flaw::sentence_leaves_a_slot_out;
    for (const char* formula : about.formula) {
        bool unknown = false;
        (void)mentions(slots, formula, unknown);
        if (unknown) return Flaw::formula_names_an_unknown_slot;
        if (formula[0] != '\0' && formula[1] == '|') {
            const int sentence = formula[0] - '0';
            if (variant == N || sentence < 0 || sentence >= static_cast<int>(sentences))
                return Flaw::formula_belongs_to_no_sentence;
        }
    }
    return Flaw::none;
}

// The flaw is a template argument so that the compiler's message spells it out.
template <Flaw F> struct line_is_complete {
    static_assert(F == Flaw::none,
                  "this line's description is incomplete: see the Flaw in this message");
    static constexpr bool value = true;
};

template <class L> constexpr std::size_t variant_of() {
    if constexpr (L::about.variant == nullptr) {
        return Line::npos;
    } else {
        std::size_t i = 0;
        while (std::string_view(slots_of<L>[i].id) != L::about.variant) ++i;
        return i;
    }
}

} // namespace detail

namespace detail {

// Where every byte is downloaded before the first answer, the words of the working come later and
// by themselves (Session::learn), those for searching with them.
constexpr About shown_at_once(const About& about) {
#ifdef WETSLEEVE_WORKING_LATER
    return {.id = about.id,
            .title = about.title,
            .keywords = "",
            .sentences = about.sentences,
            .variant = about.variant,
            .always = about.always,
            .everyday = about.everyday,
            .settles = about.settles};
#else
    return about;
#endif
}

} // namespace detail

// For code that asks a line by name: the id of the slot that a member is bound to, and the key
// under which a slip has it (Slip::key). A slot that is renamed or goes does not compile.
template <class L, auto Member>
inline constexpr const char* slot_id = detail::SlotName<L, Member>::slot.id;
template <class L, auto Member>
inline constexpr const char* slot_key = detail::SlotName<L, Member>::key;

template <class L>
inline constexpr Line line_of{
    .about = detail::shown_at_once(L::about),
    .slots = detail::slots_of<L>,
    .givens = detail::givens_of<L>(),
    .variant = detail::variant_of<L>(),
    .reckon = &detail::reckon_erased<L>,
    .speak = &detail::speak_erased<L>,
    .table = &detail::figure_erased<L, Table>,
    .curve = &detail::figure_erased<L, Curve>,
};

// Ends a line's header: checks the description. The build finds it and adds the line to the
// registry.
#define WETSLEEVE_LINE(Name)                                                                       \
    static_assert(::wetsleeve::detail::line_is_complete<::wetsleeve::detail::flaw_in(              \
                      Name::about, ::wetsleeve::detail::slots_of<Name>)>::value)

} // namespace wetsleeve
