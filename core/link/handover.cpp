#include "core/link/handover.hpp"

#include "core/book/checks.hpp"
#include "core/book/fields.hpp"
#include "core/book/json.hpp"
#include "core/book/slip_json.hpp"
#include "core/book/tables.hpp"
#include "core/link/cbor.hpp"
#include "core/link/handover_names.hpp"
#include "core/model/session.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <type_traits>

namespace wetsleeve::record {

namespace {

constexpr std::string_view mark = "h1.";
constexpr std::size_t crc_bytes = 4;
// Beside those of the fields (core/book/tables.hpp), in a tank's map.
constexpr int slip_of_tank = 4;
constexpr std::uint64_t system_of_tank = 2, decimal_of_tank = 3; // earlier builds'
constexpr int most_fields = 24;                                  // numbers above take two bytes

std::string texts_problem(const Handover& handover) {
    std::string problem = text_problem("The shop's name", handover.shop, limit::name);
    if (problem.empty())
        problem =
            text_problem("How to reach the shop", handover.contact, limit::contact, Rows::many);
    for (const Tank& tank : handover.tanks)
        if (problem.empty()) problem = words_problem(tank);
    for (const Item& item : handover.shelf)
        if (problem.empty()) problem = words_problem(item);
    return problem;
}

std::string counts_problem(std::size_t tanks, std::size_t items) {
    if (tanks == 0) return "A hand-over needs a tank: choose one.";
    if (tanks > limit::handover_tanks)
        return compose("A link holds at most {0} tanks: make more than one link.",
                       {std::to_string(limit::handover_tanks)});
    if (items > limit::handover_items)
        return compose("A link holds at most {0} things of the shelf: choose fewer.",
                       {std::to_string(limit::handover_items)});
    return {};
}

// ---- writing ------------------------------------------------------------------------------------

// The pairs of a map, which tells first how many there are. Keys rise.
class Pairs {
  public:
    // `write` writes the value of this key.
    template <class Write> void add(std::uint64_t key, Write&& write) {
        items_.whole(key);
        write(items_);
        ++count_;
    }
    void end(cbor::Writer& to) const {
        to.map(count_);
        to.append(items_);
    }

  private:
    std::size_t count_ = 0;
    cbor::Writer items_;
};

// How a value travels. True: it is there, and was written.
bool write_value(cbor::Writer& to, const kind::Text&, const std::string& text) {
    to.text(text);
    return !text.empty();
}
bool write_value(cbor::Writer& to, const kind::Number&, const std::optional<double>& number) {
    if (number.has_value()) to.number(*number);
    return number.has_value();
}
template <class Enum> bool write_value(cbor::Writer& to, const kind::Word&, const Enum& word) {
    to.whole(static_cast<std::uint64_t>(word));
    return word != Enum{};
}

// Each number is of one field, and of one that has a way to travel.
template <Kept T> constexpr bool can_travel() {
    bool can = true;
    unsigned taken = 0;
    each_field<T>([&](const auto& field) {
        if (field.link < 0) return;
        using Field = std::decay_t<decltype(field)>;
        constexpr bool has_way = requires(cbor::Writer & to, const T& part, Field of) {
            write_value(to, of.kind, part.*of.at);
        };
        can = can && field.link < most_fields && (taken >> field.link & 1U) == 0 &&
              (has_way || field.link == slip_of_tank);
        taken |= 1U << field.link;
    });
    return can;
}
static_assert(
    can_travel<Tank>() && can_travel<Item>(),
    "a number of .in_link() is there twice or too high, or write_value knows no such kind");

// The field of this number, if it is there. `own`: the link is for oneself.
template <Kept T> void add_field(Pairs& to, int number, const T& part, bool own) {
    each_field<T>([&](const auto& field) {
        if constexpr (requires(cbor::Writer & value) {
                          write_value(value, field.kind, part.*field.at);
                      }) {
            cbor::Writer value;
            if (field.link == number && (own || !field.own) &&
                write_value(value, field.kind, part.*field.at))
                to.add(static_cast<std::uint64_t>(number),
                       [&](cbor::Writer& pairs) { pairs.append(value); });
        }
    });
}

} // namespace

std::optional<double> entered_value(const Session::Entered& entered, std::size_t c) {
    const Slip::Cell& cell = entered.slip->cells()[c];
    if (cell.answered) {
        const Slip::Hold& hold = entered.state.hold[cell.home];
        const bool held = hold.slot == entered.slip->line(cell.home).find(cell.slot->id);
        return held ? std::optional(hold.value) : std::nullopt;
    }
    const double given = entered.state.given[c];
    return std::isfinite(given) && given != cell.slot->usual ? std::optional(given) : std::nullopt;
}

namespace {

void write_slip(cbor::Writer& to, const Session::Entered& entered) {
    const Slip& slip = *entered.slip;
    // Each cell is told with the line that is its home; the arrays' lengths come first.
    std::vector<cbor::Writer> items(slip.size());
    std::vector<std::size_t> counts(slip.size(), 0);
    for (std::size_t c = 0; c < slip.cells().size(); ++c) {
        const Slip::Cell& cell = slip.cells()[c];
        const std::optional<double> value = entered_value(entered, c);
        if (!value.has_value()) continue;
        const Line& line = slip.line(cell.home);
        cbor::Writer& item = items[cell.home];
        item.whole(slot_number(line, line.find(cell.slot->id)));
        item.number(*value);
        counts[cell.home] += 2;
    }
    std::size_t length = slip.size();
    for (const std::size_t count : counts) length += count > 0 ? 1 : 0;
    to.array(length);
    for (std::size_t l = 0; l < slip.size(); ++l) {
        to.whole(line_number(slip.line(l).about.id));
        if (counts[l] == 0) continue;
        to.array(counts[l]);
        to.append(items[l]);
    }
}

// Of a slip that is shown in part goes along what its shown lines stand on, and no other number:
// what is left out of sight may be nobody else's business.
void leave_out_hidden(Session& session, const std::vector<std::string>& shown) {
    const Slip& slip = session.slip();
    std::vector<bool> goes(slip.size(), false);
    std::vector<std::size_t> next; // lines whose feeders are still to be found
    const auto take = [&](std::size_t line) {
        if (goes[line]) return;
        goes[line] = true;
        next.push_back(line);
    };
    for (const std::string& id : shown)
        if (const std::size_t line = slip.find_line(id); line != Slip::none) take(line);
    if (next.empty()) return; // none of them is on this slip: all of it is shown
    while (!next.empty()) {
        const std::size_t line = next.back();
        next.pop_back();
        for (std::size_t s = 0; s < slip.line(line).slots.size(); ++s)
            if (const std::size_t c = slip.cell(line, s); c != Slip::none)
                if (slip.cells()[c].answered) take(slip.cells()[c].home);
    }
    std::vector<const Line*> hidden;
    for (std::size_t l = 0; l < slip.size(); ++l)
        if (!goes[l]) hidden.push_back(&slip.line(l));
    session.hand_over(false, {}); // a slip that was itself handed over can be locked
    for (const Line* line : hidden) session.choose(*line, false);
}

std::string write_tank(cbor::Writer& to, const Tank& tank, const Handover& handover,
                       std::span<const Line* const> catalogue) {
    // A slip that names no lines, as the first ones did, has those of a new slip.
    std::vector<const Line*> everyday;
    for (const Line* line : catalogue)
        if (line->about.everyday) everyday.push_back(line);
    Session session(catalogue, everyday);
    if (!tank.slip.empty())
        if (std::string problem = load_json(session, tank.slip); !problem.empty()) return problem;
    leave_out_hidden(session, handover.lines);
    const Session::Entered& entered = session.entered();
    Pairs pairs;
    for (int number = 0; number < most_fields; ++number) {
        add_field(pairs, number, tank, handover.own);
        if (number == slip_of_tank && !tank.slip.empty())
            pairs.add(slip_of_tank, [&](cbor::Writer& value) { write_slip(value, entered); });
    }
    pairs.end(to);
    return {};
}

void write_item(cbor::Writer& to, const Item& item, bool own) {
    Pairs pairs;
    for (int number = 0; number < most_fields; ++number) add_field(pairs, number, item, own);
    pairs.end(to);
}

// ---- reading ------------------------------------------------------------------------------------

// Reads a map's keys in rising order and hands each to `take`, which reads its value or returns
// false: then it is one more that is unknown.
template <class Take> void read_map(cbor::Reader& from, std::size_t& unknown, Take&& take) {
    std::uint64_t least = 0;
    for (std::size_t pairs = from.map(); pairs > 0 && !from.bad(); --pairs) {
        const std::uint64_t key = from.whole();
        if (key < least) return from.fail();
        least = key + 1;
        if (from.bad() || take(key)) continue;
        from.skip();
        ++unknown;
    }
}

std::string own(std::string_view text) { return std::string(text); }

// What a slip's array says, with the names that its numbers stand for.
struct Put {
    const Line* line;
    std::size_t slot;
    std::optional<double> value;
};

const Line* find(std::span<const Line* const> catalogue, std::string_view id) {
    for (const Line* line : catalogue)
        if (id == line->about.id) return line;
    return nullptr;
}

// As JSON of a kept slip: load_json then looks at every value, as it does with those of a file.
// `unknown` grows by what a later version's page knows and this one does not.
std::string read_slip(cbor::Reader& from, std::span<const Line* const> catalogue,
                      std::size_t& unknown) {
    std::vector<const Line*> lines;
    std::vector<Put> puts;
    const Line* line = nullptr;
    const auto is_put = [&](std::size_t slot) {
        return std::any_of(puts.begin(), puts.end(),
                           [&](const Put& put) { return put.line == line && put.slot == slot; });
    };
    for (std::size_t items = from.array(); items > 0 && !from.bad(); --items) {
        if (!from.next_is_array()) {
            line = find(catalogue, line_numbered(static_cast<std::size_t>(from.whole())));
            if (line == nullptr) ++unknown;
            // No slip has a line twice: which of the two would hold?
            else if (std::find(lines.begin(), lines.end(), line) != lines.end()) from.fail();
            else lines.push_back(line);
            continue;
        }
        for (std::size_t left = from.array(); left > 0 && !from.bad();) {
            const auto number = static_cast<std::size_t>(from.whole());
            Put put{line, Line::npos, std::nullopt};
            if (from.next_is_null()) from.null();
            else put.value = from.number();
            left -= left < 2 ? left : 2;
            if (left > 0 &&
                from.next_is_text()) { // an earlier build's: in which unit the shop read it
                (void)from.text();
                --left;
            }
            if (line == nullptr) continue; // told with its line
            put.slot = slot_numbered(*line, number);
            if (put.slot == Line::npos || line->slots[put.slot].figure()) ++unknown;
            else if (is_put(put.slot)) from.fail();
            else puts.push_back(put);
        }
    }

    const auto key = [&](const Put& put) {
        const Slot& slot = put.line->slots[put.slot];
        return slot.travels ? std::string(slot.id)
                            : std::string(put.line->about.id) + "/" + slot.id;
    };
    return json::written([&](json::Writer& to) {
        to.StartObject();
        json::key(to, "wetsleeve");
        to.Int(1);
        json::key(to, "now");
        to.StartObject();
        json::key(to, "lines");
        to.StartArray();
        for (const Line* each : lines) json::text(to, each->about.id);
        to.EndArray();
        json::key(to, "given");
        to.StartObject();
        for (const Put& put : puts)
            if (put.value.has_value() && !put.line->slots[put.slot].answer)
                json::field(to, key(put), *put.value);
        to.EndObject();
        json::key(to, "held");
        to.StartObject();
        for (const Put& put : puts)
            if (put.value.has_value() && put.line->slots[put.slot].answer) {
                json::key(to, put.line->about.id);
                to.StartObject();
                json::field(to, "slot", put.line->slots[put.slot].id);
                json::field(to, "value", *put.value);
                to.EndObject();
            }
        to.EndObject();
        to.EndObject();
        to.EndObject();
    });
}

void read_value(cbor::Reader& from, const kind::Text&, std::string& text) {
    text = own(from.text());
}
void read_value(cbor::Reader& from, const kind::Number&, std::optional<double>& number) {
    number = from.number();
}
template <class Enum> void read_value(cbor::Reader& from, const kind::Word&, Enum& word) {
    const std::uint64_t number = from.whole();
    if (number >= words_of<Enum>().size()) from.fail();
    else word = static_cast<Enum>(number);
}

// False when no field of this number travels.
template <Kept T> bool read_field(cbor::Reader& from, std::uint64_t number, T& part) {
    bool read = false;
    each_field<T>([&](const auto& field) {
        if constexpr (requires { read_value(from, field.kind, part.*field.at); })
            if (field.link >= 0 && static_cast<std::uint64_t>(field.link) == number) {
                read_value(from, field.kind, part.*field.at);
                read = true;
            }
    });
    return read;
}

void read_tank(cbor::Reader& from, std::span<const Line* const> catalogue, std::size_t& unknown,
               Tank& tank) {
    read_map(from, unknown, [&](std::uint64_t key) {
        if (key == slip_of_tank) tank.slip = read_slip(from, catalogue, unknown);
        else if (key == system_of_tank || key == decimal_of_tank) from.skip();
        else return read_field(from, key, tank);
        return true;
    });
}

// Looks at all of a slip's values, and puts it on the terms of the hand-over. What an earlier
// build, or whoever made the link, sent along out of sight goes: it could be neither seen nor
// changed.
std::string take_up(Tank& tank, const Handover& handover, std::span<const Line* const> catalogue) {
    if (tank.slip.empty()) return {};
    Session session(catalogue, {});
    std::string problem = load_json(session, tank.slip);
    leave_out_hidden(session, handover.lines);
    std::vector<std::string> shown;
    for (const std::string& id : handover.lines)
        if (session.slip().find_line(id) != Slip::none) shown.push_back(id);
    session.hand_over(handover.locked, std::move(shown));
    tank.slip = save_json(session);
    return problem;
}

void read_item(cbor::Reader& from, std::size_t& unknown, Item& item) {
    read_map(from, unknown, [&](std::uint64_t key) { return read_field(from, key, item); });
}

// ---- base64url ----------------------------------------------------------------------------------

constexpr char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

} // namespace

const char* const damaged_link =
    "This link is damaged: a part of it is missing or was changed. Ask for it once more.";
const char* const too_long_link = "This link is far longer than any hand-over: it was not opened.";

std::string write_handover(const Handover& handover, std::span<const Line* const> catalogue,
                           std::string& bytes) {
    std::string problem = counts_problem(handover.tanks.size(), handover.shelf.size());
    if (problem.empty()) problem = texts_problem(handover);
    if (!problem.empty()) return problem;

    Pairs pairs;
    const auto text = [&](std::uint64_t key, const std::string& words) {
        if (!words.empty()) pairs.add(key, [&](cbor::Writer& value) { value.text(words); });
    };
    text(0, handover.shop);
    text(1, handover.contact);
    if (handover.locked) pairs.add(2, [](cbor::Writer& value) { value.yes(); });
    pairs.add(3, [&](cbor::Writer& value) {
        value.array(handover.tanks.size());
        for (Tank tank : handover.tanks) {
            // What whoever handed it over wrote is not passed on in another's name.
            if (tank.handed_over.has_value() && !handover.own) tank.customer_note.clear();
            if (problem.empty()) problem = write_tank(value, tank, handover, catalogue);
        }
    });
    if (!handover.shelf.empty())
        pairs.add(4, [&](cbor::Writer& value) {
            value.array(handover.shelf.size());
            for (const Item& item : handover.shelf) write_item(value, item, handover.own);
        });
    if (!handover.lines.empty())
        pairs.add(5, [&](cbor::Writer& value) {
            value.array(handover.lines.size());
            for (const std::string& id : handover.lines) {
                const std::size_t number = line_number(id);
                if (number == no_number && problem.empty())
                    problem = compose("There is no line “{0}” to hand over.", {id});
                value.whole(number);
            }
        });
    if (!problem.empty()) return problem;
    cbor::Writer to;
    pairs.end(to);
    bytes = to.bytes();
    const std::uint32_t crc = crc32(bytes);
    for (unsigned shift = 32; shift > 0; shift -= 8)
        bytes += static_cast<char>(crc >> (shift - 8) & 255U);
    return bytes.size() > limit::handover_bytes
               ? "This is more than a link holds: choose fewer tanks or things."
               : "";
}

std::string read_handover(std::string_view bytes, std::span<const Line* const> catalogue,
                          Handover& handover) {
    if (bytes.size() > limit::handover_bytes) return too_long_link;
    if (bytes.size() < crc_bytes) return damaged_link;
    const std::string_view end = bytes.substr(bytes.size() - crc_bytes);
    bytes.remove_suffix(crc_bytes);
    std::uint32_t crc = 0;
    for (const char c : end) crc = crc << 8U | static_cast<unsigned char>(c);
    if (crc != crc32(bytes)) return damaged_link;

    // It came as it was sent; but who sent it?
    Handover found;
    cbor::Reader from(bytes);
    read_map(from, found.unknown, [&](std::uint64_t key) {
        if (key == 0) found.shop = own(from.text());
        else if (key == 1) found.contact = own(from.text());
        else if (key == 2) {
            from.yes();
            found.locked = true;
        } else if (key == 3) {
            for (std::size_t tanks = from.array(); tanks > 0; --tanks) {
                if (found.tanks.size() == limit::handover_tanks) from.fail();
                if (from.bad()) break;
                read_tank(from, catalogue, found.unknown, found.tanks.emplace_back());
            }
        } else if (key == 4) {
            for (std::size_t items = from.array(); items > 0; --items) {
                if (found.shelf.size() == limit::handover_items) from.fail();
                if (from.bad()) break;
                read_item(from, found.unknown, found.shelf.emplace_back());
            }
        } else if (key == 5) {
            for (std::size_t lines = from.array(); lines > 0 && !from.bad(); --lines) {
                const std::string_view id = line_numbered(static_cast<std::size_t>(from.whole()));
                if (find(catalogue, id) != nullptr) found.lines.emplace_back(id);
                else ++found.unknown;
            }
        } else return false;
        return true;
    });
    if (from.bad() || !from.at_end() || found.tanks.empty()) return damaged_link;
    std::string problem = texts_problem(found);
    for (Tank& tank : found.tanks)
        if (problem.empty()) problem = take_up(tank, found, catalogue);
    // The sentence is for whoever can mend it.
    if (!problem.empty())
        return compose("This link cannot be added, and only its sender can correct it. {0}",
                       {problem});
    handover = std::move(found);
    return {};
}

std::string write_fragment(std::string_view compressed, std::string& fragment) {
    std::string text(mark);
    std::uint32_t bits = 0;
    unsigned count = 0;
    for (const char c : compressed) {
        bits = bits << 8U | static_cast<unsigned char>(c);
        for (count += 8; count >= 6; count -= 6) text += digits[bits >> (count - 6) & 63U];
    }
    if (count > 0) text += digits[bits << (6 - count) & 63U];
    if (text.size() > limit::link)
        return compose("This makes a link of {0} characters: at most {1} are safe to send. Choose "
                       "fewer tanks or things of the shelf, or shorten notes.",
                       {std::to_string(text.size()), std::to_string(limit::link)});
    fragment = std::move(text);
    return {};
}

namespace {

// Programs for messages break long lines, and take what stands behind a link for a part of it.
std::string as_it_was_made(std::string_view link) {
    constexpr std::string_view blanks = " \t\r\n";
    constexpr std::string_view ends = ".,;:!?)]}>\"'";
    std::string made;
    for (std::size_t i = 0; i < link.size(); ++i) {
        const std::string_view rest = link.substr(i, 3);
        if (rest == "%20" || rest == "%09" || rest == "%0A" || rest == "%0D") i += 2;
        else if (blanks.find(link[i]) == std::string_view::npos) made += link[i];
    }
    while (made.size() > mark.size() && ends.find(made.back()) != std::string_view::npos)
        made.pop_back();
    return made;
}

} // namespace

std::string read_fragment(std::string_view link, std::string& compressed) {
    if (const std::size_t hash = link.find('#'); hash != std::string_view::npos)
        link.remove_prefix(hash + 1);
    if (link.size() > 2 * limit::link) return too_long_link;
    const std::string made = as_it_was_made(link);
    link = made;
    if (link.size() > limit::link) return too_long_link;
    if (!link.starts_with(mark)) {
        const bool later = link.size() > mark.size() && link[0] == mark[0] && link[1] > mark[1] &&
                           link[1] <= '9' && link[2] == mark[2];
        return later ? "This link was made by a newer version of the page: update the page, then "
                       "open it again."
                     : "This is no hand-over link: one has “#h1.” in it. Ask for it once more.";
    }
    link.remove_prefix(mark.size());
    std::string bytes;
    std::uint32_t bits = 0;
    unsigned count = 0;
    for (const char c : link) {
        const std::size_t digit = std::string_view(digits).find(c);
        if (digit == std::string_view::npos) return damaged_link;
        bits = bits << 6U | static_cast<std::uint32_t>(digit);
        count += 6;
        if (count < 8) continue;
        count -= 8;
        bytes += static_cast<char>(bits >> count & 255U);
    }
    // What is left over pads the last digit, with zeros.
    if (count >= 6 || (bits & ((1U << count) - 1)) != 0) return damaged_link;
    compressed = std::move(bytes);
    return {};
}

} // namespace wetsleeve::record
