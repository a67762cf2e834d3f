// Hand-over links: what goes in comes out, and what strangers make of them is refused.
#include "core/book/checks.hpp"
#include "core/book/slip_json.hpp"
#include "core/book/tables.hpp"
#include "core/cli/deflate.hpp"
#include "core/cli/records.hpp"
#include "core/link/cbor.hpp"
#include "core/link/handover.hpp"
#include "core/link/handover_names.hpp"
#include "core/registry.hpp"
#include "tests/book/random_books.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <map>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;
using test::Maker;

// The sample book's first tank with its five things.
Handover sample() {
    Book book;
    REQUIRE(read_book(test::read_file("book/samples/book-1.json"), book).empty());
    Handover handover{
        .shop = "Shop by the canal", .contact = "Ask for Q.\nclosed on Mondays", .locked = true};
    handover.tanks.push_back(book.tanks[0]);
    handover.tanks[0].customer_note = handover.tanks[0].note;
    Session session(all_lines(), everyday_lines()); // puts it as save_json does
    REQUIRE(load_json(session, handover.tanks[0].slip).empty());
    handover.tanks[0].slip = save_json(session);
    handover.shelf = book.shelf;
    handover.lines = {"water.change", "dosing.label"};
    return handover;
}

// The slip on the terms of a hand-over, with no steps to undo. Of one that is shown in part stay
// its shown lines and, one after the other, all that answer what a line that stays asks for.
std::string on_terms(const std::string& slip, const Handover& handover) {
    if (slip.empty()) return {};
    Session session(all_lines(), everyday_lines());
    REQUIRE(load_json(session, slip) == "");
    std::vector<std::string> shown;
    for (const std::string& id : handover.lines)
        if (session.slip().find_line(id) != Slip::none) shown.push_back(id);
    session.hand_over(false, {});
    const auto needed = [&](std::size_t line) {
        const Slip& of = session.slip();
        const std::string id = of.line(line).about.id;
        bool read = std::find(shown.begin(), shown.end(), id) != shown.end();
        for (const Slip::Cell& cell : of.cells())
            read = read || (cell.home == line && cell.answered && !cell.readers.empty());
        return read;
    };
    for (std::size_t l = 0; !shown.empty() && l < session.slip().size(); ++l)
        if (!needed(l)) {
            REQUIRE(session.choose(session.slip().line(l), false).empty());
            l = Slip::none; // from the first again: what fed it alone is not needed either
        }
    session.hand_over(handover.locked, shown);
    session.set_style({.system = System::us}); // no unit is chosen any more
    return save_json(session);
}

// What of a hand-over travels.
// What its table lets travel.
template <Kept T> T travelled(const T& part, bool own) {
    T made{};
    each_field<T>([&](const auto& field) {
        if (field.link >= 0 && (own || !field.own)) made.*field.at = part.*field.at;
    });
    return made;
}
Handover as_received(Handover handover) {
    for (Tank& tank : handover.tanks) {
        Tank received = travelled(tank, handover.own);
        received.slip = on_terms(tank.slip, handover);
        // Others' note goes to nobody else.
        if (!handover.own && tank.handed_over.has_value()) received.customer_note.clear();
        tank = std::move(received);
    }
    for (Item& item : handover.shelf) item = travelled(item, handover.own);
    handover.own = false;
    handover.unknown = 0; // it cannot be written again
    return handover;
}

std::string link_of(const Handover& handover) {
    std::string fragment;
    REQUIRE(cli::link_of(handover, fragment) == "");
    return fragment;
}

std::string opened(std::string_view link) {
    Handover handover;
    return cli::open_link(link, handover);
}

// A link around any CBOR, as somebody would forge one.
std::string forged(std::string_view cbor) {
    std::string bytes(cbor);
    const std::uint32_t crc = crc32(bytes);
    for (unsigned shift = 32; shift > 0; shift -= 8)
        bytes += static_cast<char>(crc >> (shift - 8) & 255U);
    std::string compressed;
    std::string fragment;
    REQUIRE(cli::deflate_raw(bytes, compressed).empty());
    REQUIRE(write_fragment(compressed, fragment).empty());
    return fragment;
}

// A map with one tank in it, whose fields `write` makes.
template <class Write> std::string forged_tank(Write&& write) {
    cbor::Writer to;
    to.map(1);
    to.whole(3);
    to.array(1);
    write(to);
    return forged(to.bytes());
}

} // namespace

TEST_CASE("the list of names has every line and slot, each where it joined") {
    // Line ids and slot ids in the order of their numbers.
    std::vector<std::string> lines;
    std::map<std::string, std::vector<std::string>> slots;
    std::string rows_of_old;
    std::size_t rows = 0;
    constexpr std::size_t first_rows = 91;
    for (const std::string& row :
         test::split(test::read_file("../core/link/handover_names.txt"), '\n')) {
        if (row.empty() || row[0] == '#') continue;
        if (rows++ < first_rows) rows_of_old += row + "\n";
        const std::string id = row.substr(0, row.find(':'));
        if (slots.find(id) == slots.end()) lines.push_back(id);
        for (const std::string& slot : test::split(row.substr(row.find(':') + 1), ' '))
            if (!slot.empty()) slots[id].push_back(slot);
    }
    // The rows that are in links by now: whoever moves one breaks those links.
    REQUIRE(rows >= first_rows);
    CHECK(crc32(rows_of_old) == 0xc738267eU);

    for (std::size_t n = 0; n < lines.size(); ++n) {
        CHECK(line_numbered(n) == lines[n]);
        CHECK(line_number(lines[n]) == n);
    }
    CHECK(line_numbered(lines.size()).empty());
    for (const Line* line : all_lines()) {
        CAPTURE(line->about.id);
        INFO("Add what is missing at the end of core/link/handover_names.txt; if the slots of the "
             "line stand in another order now, add them to `moved` in handover_names.hpp.");
        REQUIRE(slots.find(line->about.id) != slots.end());
        const std::vector<std::string>& joined = slots[line->about.id];
        REQUIRE(joined.size() <= Line::max_slots);
        for (std::size_t s = 0; s < line->slots.size(); ++s) {
            const std::size_t number = slot_number(*line, s);
            REQUIRE(number < joined.size());
            CHECK(joined[number] == line->slots[s].id);
            CHECK(slot_numbered(*line, number) == s);
        }
    }
}

TEST_CASE("slots that moved keep their numbers") {
    const Line& line = *all_lines()[0];
    const std::string_view first = line.slots[0].id;
    const MovedSlots list[] = {
        {line.about.id, {Texts{{line.slots[2].id, "gone", line.slots[0].id, line.slots[1].id}}}}};
    CHECK(slot_number(line, 0, list) == 2);
    CHECK(slot_number(line, 1, list) == 3);
    CHECK(slot_number(line, 2, list) == 0);
    CHECK(slot_number(line, 3, list) == no_number);
    CHECK(slot_numbered(line, 0, list) == 2);
    CHECK(slot_numbered(line, 1, list) == Line::npos); // a slot that is no more
    CHECK(slot_numbered(line, 2, list) == 0);
    CHECK(slot_numbered(line, 4, list) == Line::npos);
    CHECK(slot_numbered(line, 99, list) == Line::npos);
    CHECK(slot_number(*all_lines()[1], 1, list) == 1);
    CHECK(line.slots[0].id == first);
}

TEST_CASE("random hand-overs come back from a link as they went") {
    Maker make(31);
    const int wanted = test::records();
    std::size_t longest = 0;
    // The first of them for tests/link/qr.mjs.
    constexpr int links = 600;
    const char* path = std::getenv("WETSLEEVE_LINKS"); // NOLINT(concurrency-mt-unsafe)
    std::ofstream file;
    if (path != nullptr) file.open(path);
    int written = 0;
    for (int done = 0; done < wanted;) {
        const Handover handover = make.handover();
        std::string fragment;
        const std::string problem = cli::link_of(handover, fragment);
        if (!problem.empty()) { // longer than a link may be: the only reason
            REQUIRE_THAT(problem, ContainsSubstring("at most 8000"));
            continue;
        }
        longest = std::max(longest, fragment.size());
        if (written++ < links) file << fragment << "\n";
        Handover back;
        REQUIRE(cli::open_link("https://shop.example/w/#" + fragment, back) == "");
        REQUIRE(back == as_received(handover));
        if (make.dice.unit() < 0.1) {
            std::string again;
            Handover on = back;
            on.own = handover.own;
            REQUIRE(cli::link_of(on, again) == "");
            REQUIRE(again == fragment);
            Handover from_book;
            REQUIRE(handover_from_book(handover_as_book(back), from_book) == "");
            from_book.own = handover.own;
            for (Tank& tank : from_book.tanks) tank.handed_over.reset();
            REQUIRE(as_received(from_book) == back);
        }
        done += static_cast<int>(handover.tanks.size() + handover.shelf.size());
    }
    CHECK(longest > 500);
    CHECK(longest <= limit::link);
}

TEST_CASE("the note of whoever handed a tank over goes to nobody else") {
    Handover handover{.shop = "Mine", .tanks = {Tank{.id = "t", .name = "A", .note = {}}}};
    Tank& tank = handover.tanks[0];
    tank.customer_note = "Feed less.";
    for (const bool from_others : {false, true})
        for (const bool own : {false, true}) {
            handover.own = own;
            tank.handed_over = from_others ? std::optional(Origin{.shop = "Theirs"}) : std::nullopt;
            std::string fragment;
            REQUIRE(cli::link_of(handover, fragment) == "");
            Handover back;
            REQUIRE(cli::open_link(fragment, back) == "");
            CHECK(back.tanks[0].customer_note == (from_others && !own ? "" : "Feed less."));
        }
}

TEST_CASE("a link is opened as messages carry it: broken into lines, with what stood behind it") {
    const Handover handover = sample();
    const std::string link = link_of(handover);
    const Handover wanted = as_received(handover);
    for (const char* behind : {" ", "%20", ".", ")", ").", ">", "\"", ",", "\r\n", "%0D%0A"}) {
        CAPTURE(behind);
        Handover back;
        CHECK(cli::open_link("https://example.org/#" + link + behind, back) == "");
        CHECK(back == wanted);
    }
    for (const char* broken : {" ", "\n", "\r\n  ", "%0A"}) {
        CAPTURE(broken);
        std::string in_lines = link;
        for (std::size_t at = 70; at < in_lines.size(); at += 70 + std::string(broken).size())
            in_lines.insert(at, broken);
        Handover back;
        CHECK(cli::open_link("https://example.org/#" + in_lines, back) == "");
        CHECK(back == wanted);
    }
    Handover back;
    CHECK(cli::open_link("#" + link + "x", back) == damaged_link);
    CHECK(cli::open_link("#" + std::string(3 * limit::link, ' '), back) == too_long_link);
}

TEST_CASE("a tank with five bottles makes a short link") {
    const Handover handover = sample();
    const std::string fragment = link_of(handover);
    CAPTURE(fragment.size());
    constexpr std::size_t address = 40; // and the “#” is one of them
    CHECK(address + fragment.size() <= 700);

    // The same with everything of an ordinary slip typed to as many digits as people type.
    Session session(all_lines(), everyday_lines());
    test::Dice dice = test::Dice::always(5); // of other numbers some take a few characters more
    for (std::size_t l = 0; l < session.slip().size(); ++l)
        for (std::size_t s = 0; s < session.slip().line(l).givens; ++s) {
            const double value = test::roll(session.slip().line(l).slots[s], dice);
            (void)session.enter_value(l, s,
                                      std::strtod(write_shortest(value, 3, '.').c_str(), nullptr));
        }
    Handover full = handover;
    full.lines.clear();
    full.tanks[0].slip = save_json(session);
    for (Item& item : full.shelf) item.kind = ItemKind::bottle;
    const std::string longer = link_of(full);
    CAPTURE(longer.size());
    CHECK(address + longer.size() <= 700);
    Handover back;
    REQUIRE(cli::open_link(longer, back).empty());
    CHECK(back == as_received(full));
}

TEST_CASE(
    "of a slip that is shown in part only what is shown, and what that stands on, goes along") {
    test::Dice dice = test::Dice::always(11);
    std::size_t left_out = 0;
    for (std::size_t tries = 0; tries < 40; ++tries) {
        Session shop(all_lines(), everyday_lines());
        for (std::size_t l = 0; l < shop.slip().size(); ++l)
            for (std::size_t s = 0; s < shop.slip().line(l).givens; ++s)
                (void)shop.enter_value(l, s, test::roll(shop.slip().line(l).slots[s], dice));
        Handover handover = sample();
        handover.tanks[0].slip = save_json(shop);
        handover.locked = dice.below(2) == 0;
        handover.lines.clear();
        while (handover.lines.empty())
            for (std::size_t l = 0; l < shop.slip().size(); ++l)
                if (dice.below(4) == 0) handover.lines.emplace_back(shop.slip().line(l).about.id);

        Handover back;
        REQUIRE(cli::open_link(link_of(handover), back) == "");
        Session customer(all_lines(), {});
        REQUIRE(load_json(customer, back.tanks[0].slip) == "");
        const auto number_in = [](const Session& session, const std::string& key) {
            const std::size_t cell = session.slip().find_cell(key);
            return cell == Slip::none ? std::nan("") : session.outcome().value[cell];
        };
        const auto same = [](double a, double b) {
            return a == b || (std::isnan(a) && std::isnan(b));
        };
        // Every number of a shown line is as it is in the shop.
        for (const std::string& id : handover.lines) {
            const std::size_t line = shop.slip().find_line(id);
            REQUIRE(customer.slip().find_line(id) != Slip::none);
            for (std::size_t s = 0; s < shop.slip().line(line).slots.size(); ++s) {
                if (shop.slip().cell(line, s) == Slip::none) continue;
                const std::string key = shop.slip().key(shop.slip().cell(line, s));
                CAPTURE(id, key);
                CHECK(same(number_in(shop, key), number_in(customer, key)));
            }
        }
        // No line came along that nothing of it stands on.
        for (std::size_t l = 0; l < customer.slip().size(); ++l) {
            const std::string id = customer.slip().line(l).about.id;
            CAPTURE(id);
            bool used =
                std::find(handover.lines.begin(), handover.lines.end(), id) != handover.lines.end();
            for (const Slip::Cell& cell : customer.slip().cells())
                used = used || (cell.home == l && cell.answered && !cell.readers.empty());
            CHECK(used);
        }
        left_out += shop.slip().size() - customer.slip().size();

        // A link that carries the rest all the same, as one of an earlier build, is taken up as
        // this one is.
        Handover whole = handover;
        whole.lines.clear();
        std::string bytes;
        REQUIRE(write_handover(whole, all_lines(), bytes) == "");
        bytes.resize(bytes.size() - 4); // its sum
        ++bytes[0];                     // one row more in the map
        cbor::Writer row;
        row.whole(5);
        row.array(handover.lines.size());
        for (const std::string& id : handover.lines) row.whole(line_number(id));
        Handover earlier;
        REQUIRE(cli::open_link(forged(bytes + row.bytes()), earlier) == "");
        CHECK(earlier == back);
    }
    CHECK(left_out > 40);
}

TEST_CASE("a tank is taken up on the terms of its hand-over") {
    const auto taken_up = [](const Handover& handover) {
        Handover back;
        REQUIRE(cli::open_link(link_of(handover), back) == "");
        Session session(all_lines(), everyday_lines());
        REQUIRE(load_json(session, back.tanks[0].slip) == "");
        return session;
    };
    Handover handover = sample();
    handover.lines.emplace_back("light.depth"); // which that slip has not
    Session session = taken_up(handover);
    CHECK(session.terms().locked);
    CHECK(session.terms().shown == std::vector<std::string>{"water.change", "dosing.label"});
    REQUIRE(session.order().size() == 2);
    CHECK(session.slip().size() > 2); // with those that feed them
    const std::size_t change = session.order()[0];
    CHECK(session.slip().line(change).about.id == std::string_view("water.change"));
    const std::size_t share = session.slip().line(change).find("share");
    CHECK_THAT(session.enter(change, share, "20"), ContainsSubstring("make a copy"));
    // Handed on by the customer, it is on the terms that the new hand-over gives.
    Handover on = handover;
    on.locked = false;
    on.lines.clear();
    on.tanks[0].slip = save_json(session);
    session = taken_up(on);
    CHECK(session.terms() == Terms{});
    CHECK(session.enter(change, share, "20").empty());
    CHECK(session.order().size() == session.slip().size());

    // Who handed it over stays with each tank.
    Book book;
    REQUIRE(read_book(handover_as_book(handover), book).empty());
    CHECK(book.tanks[0].handed_over == Origin{.shop = "Shop by the canal",
                                              .contact = "Ask for Q.\nclosed on Mondays",
                                              .name = handover.tanks[0].name});
    handover.shop.clear();
    handover.contact.clear();
    Book nameless;
    REQUIRE(read_book(handover_as_book(handover), nameless).empty());
    CHECK_FALSE(nameless.tanks[0].handed_over.has_value());
}

TEST_CASE("a link of every version that was ever sent is read") {
    Handover back;
    REQUIRE(cli::open_link(test::split(test::read_file("book/samples/handover-1.txt"), '\n')[0],
                           back) == "");
    Handover sent = sample(); // amounts travelled then, and a tank had one note, which did
    sent.own = true;
    sent.tanks[0].note.clear();
    CHECK(back == as_received(sent));
}

TEST_CASE("a link cut short, or with any one character changed, gives a sentence or the same") {
    const std::string link = link_of(sample());
    const Handover sent = as_received(sample());
    const std::string letters =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_=+/%#. \n";
    for (std::size_t cut = 0; cut < link.size(); ++cut) {
        const std::string problem = opened(std::string_view(link).substr(0, cut));
        REQUIRE(problem.size() > 15);
        REQUIRE(problem.back() == '.');
    }
    std::size_t same = 0;
    for (std::size_t i = 0; i < link.size(); ++i) {
        std::string changed = link;
        for (const char c : letters + std::string("\0\x80\xff", 3)) {
            if (c == link[i]) continue;
            changed[i] = c;
            Handover back;
            const std::string problem = cli::open_link(changed, back);
            if (problem.empty()) {
                ++same;
                REQUIRE(back == sent);
            } else {
                REQUIRE(problem.size() > 15);
                REQUIRE(problem.back() == '.');
            }
        }
    }
    CHECK(same <= 63); // the bits that fill up DEFLATE's last byte say nothing
    for (const char more : letters)
        REQUIRE(opened(link + more).empty() ==
                (std::string_view(".! \n").find(more) != std::string_view::npos));
}

TEST_CASE("a wrong byte inside gives a sentence or the same, even where its sum was mended") {
    std::string bytes;
    REQUIRE(write_handover(sample(), all_lines(), bytes).empty());
    std::size_t refused = 0;
    std::size_t taken = 0;
    for (std::size_t i = 0; i < bytes.size(); ++i)
        for (const int flip : {1, 2, 4, 8, 16, 32, 64, 128, 255}) {
            std::string changed = bytes;
            changed[i] = static_cast<char>(changed[i] ^ flip);
            Handover back;
            REQUIRE(read_handover(changed, all_lines(), back) == damaged_link);
            if (i + 4 >= bytes.size()) continue;
            changed.resize(changed.size() - 4);
            const std::uint32_t crc = crc32(changed);
            for (unsigned shift = 32; shift > 0; shift -= 8)
                changed += static_cast<char>(crc >> (shift - 8) & 255U);
            const std::string problem = read_handover(changed, all_lines(), back);
            if (!problem.empty()) {
                REQUIRE(problem.back() == '.');
                ++refused;
                continue;
            }
            ++taken;
            // What was taken is a hand-over like any other: but for what it shows no more, as it
            // is.
            std::string again;
            std::string once_more;
            Handover same;
            REQUIRE(write_handover(back, all_lines(), again).empty());
            REQUIRE(read_handover(again, all_lines(), same).empty());
            REQUIRE(same == as_received(back));
            REQUIRE(write_handover(same, all_lines(), once_more).empty());
            REQUIRE(once_more == again);
        }
    for (std::size_t cut = 0; cut < bytes.size(); ++cut) {
        Handover back;
        REQUIRE(read_handover(std::string_view(bytes).substr(0, cut), all_lines(), back) ==
                damaged_link);
    }
    CHECK(refused > 500);
    CHECK(taken > 500); // letters of names
}

TEST_CASE("what strangers may put into a link is refused or does no harm") {
    const auto named = [](const std::string& name) {
        return opened(forged_tank([&](cbor::Writer& to) {
            to.map(1);
            to.whole(0);
            to.text(name);
        }));
    };
    CHECK(named("<script>alert(1)</script>").empty());
    CHECK(named("../../etc/passwd").empty());
    CHECK_THAT(named(std::string("a\0b", 3)), ContainsSubstring("control character"));
    CHECK_THAT(named("a\x1b[2J"), ContainsSubstring("control character")); // to a terminal
    CHECK_THAT(named("a\u202eb"), ContainsSubstring("turns the direction"));
    CHECK_THAT(named("a\xff"), ContainsSubstring("is no text"));
    CHECK_THAT(named("\xed\xa0\x80"), ContainsSubstring("is no text")); // half a surrogate
    CHECK_THAT(named("\xc0\xaf"), ContainsSubstring("is no text"));     // a long way to say /
    CHECK_THAT(named("a\xc3"), ContainsSubstring("is no text"));
    CHECK_THAT(named(std::string(81, 'x')), ContainsSubstring("at most 80"));

    // Values that nobody could type.
    const std::size_t box = line_number("geometry.box");
    const Line& line = *all_lines()[0];
    REQUIRE(std::string_view(line.about.id) == "geometry.box");
    const auto put = [&](std::size_t slot, double value) {
        return opened(forged_tank([&](cbor::Writer& to) {
            to.map(2);
            to.whole(0);
            to.text("T");
            to.whole(4);
            to.array(2);
            to.whole(box);
            to.array(2);
            to.whole(slot);
            to.number(value);
        }));
    };
    const std::size_t length = line.find("length");
    CHECK(put(length, 90).empty());
    CHECK_THAT(put(length, 1e300), ContainsSubstring("must be"));
    CHECK_THAT(put(length, -5), ContainsSubstring("must be"));
    CHECK_THAT(put(line.find("measured"), 0.5), ContainsSubstring("one of its choices"));
    CHECK(put(60, 5).empty()); // a slot of a later version
    CHECK(!put(line.find("inside_volume"), -1).empty());

    // Numbers that are none, and lines of a later version.
    using std::string_view_literals::operator""sv;
    const std::string t("\xa1\x00\x61T", 4); // a tank
    const auto with_slip = [](std::string_view slip) {
        return std::string("\xa1\x03\x81\xa2\x00\x61T\x04"sv) + std::string(slip);
    };
    CHECK(opened(forged(with_slip("\x82\x00\x82\x01\xf9\x7e\x00"sv))) == damaged_link);
    CHECK(opened(forged(with_slip("\x82\x00\x82\x01\x61\x61"sv))) == damaged_link);
    CHECK(opened(forged(with_slip("\x82\x19\xff\xff\x82\x01\x05"sv))).empty());
    // Keys of a later version are passed over; keys twice or out of order are damage.
    CHECK(opened(forged("\xa2\x03\x81" + t + "\x09\x82\x01\xa1\x01\x02")).empty());
    CHECK(opened(forged("\xa2\x03\x81" + t + "\x03\x81" + t)) == damaged_link);
    CHECK(opened(forged("\xa2\x03\x81" + t + std::string("\x00\x61\x61"sv))) == damaged_link);
    // Depth, in known and unknown keys.
    CHECK(opened(forged("\xa2\x03\x81" + t + "\x09" + std::string(5000, '\x81') + "\x01")) ==
          damaged_link);
    CHECK(opened(forged(std::string(200000, '\x81'))) == damaged_link);
    CHECK(opened(forged(std::string(200000, '\xa1'))) == damaged_link);
    // Counts.
    const auto many = [](const std::string& one, std::size_t count) {
        std::string all;
        for (std::size_t i = 0; i < count; ++i) all += one;
        return all;
    };
    const std::string thing("\xa1\x01\x61T", 4);
    CHECK(opened(forged("\xa1\x03\x80"sv)) == damaged_link); // no tank
    CHECK(opened(forged("\xa1\x03\x95" + many(t, 21))) == damaged_link);
    CHECK(opened(forged("\xa1\x03\x94" + many(t, 20))).empty());
    CHECK(opened(forged("\xa2\x03\x81" + t + "\x04\x98\xc8" + many(thing, 200))).empty());
    CHECK(opened(forged("\xa2\x03\x81" + t + "\x04\x98\xc9" + many(thing, 201))) == damaged_link);
    CHECK(opened(forged("\xa1\x03\x9b\xff\xff\xff\xff\xff\xff\xff\xff"sv)) == damaged_link);
    CHECK(opened(forged(with_slip("\x9a\x00\x03\x00\x00"sv) + std::string(0x30000, '\0'))) ==
          damaged_link);
    CHECK(opened(forged("\xa1\x03\x81" + t + " and more")) == damaged_link);
    // An amount below nothing, and a kind that is none.
    CHECK_THAT(opened(forged("\xa2\x03\x81" + t + "\x04\x81\xa2\x01\x61T\x03\x20")),
               ContainsSubstring("less than nothing"));
    CHECK(opened(forged("\xa2\x03\x81" + t + std::string("\x04\x81\xa1\x00\x05"sv))) ==
          damaged_link);
    // Without a name.
    for (const std::string_view tank : {"\xa0"sv, "\xa1\x00\x60"sv, "\xa1\x00\x63\xe2\x80\x8b"sv})
        CHECK_THAT(opened(forged("\xa1\x03\x81" + std::string(tank))),
                   ContainsSubstring("The name of a tank is empty"));
    for (const std::string_view item : {"\xa0"sv, "\xa1\x00\x01"sv, "\xa1\x01\x62\xc2\xad"sv})
        CHECK_THAT(opened(forged("\xa2\x03\x81" + t + "\x04\x81" + std::string(item))),
                   ContainsSubstring("The name of a thing on the shelf is empty"));

    // A newer version, no link at all, a very long one.
    CHECK_THAT(opened("h2.AAAA"), ContainsSubstring("newer version"));
    CHECK_THAT(opened(""), ContainsSubstring("no hand-over link"));
    CHECK_THAT(opened("https://shop.example/w/"), ContainsSubstring("no hand-over link"));
    CHECK_THAT(opened("javascript:alert(1)"), ContainsSubstring("no hand-over link"));
    CHECK(opened("h1." + std::string(8000, 'A')) == too_long_link);
    CHECK(opened("h1.") == damaged_link);
}

TEST_CASE("what a link has of a later version is counted, and nothing that it has twice is taken") {
    using std::string_view_literals::operator""sv;
    const std::string tank("\xa1\x00\x61T", 4);
    const auto with_slip = [](std::string_view slip) {
        return std::string("\xa1\x03\x81\xa2\x00\x61T\x04"sv) + std::string(slip);
    };
    const auto unknown = [](std::string_view cbor) {
        Handover handover;
        REQUIRE(cli::open_link(forged(cbor), handover) == "");
        Handover told;
        REQUIRE(handover_from_book(handover_as_book(handover), told) == "");
        CHECK(told.unknown == handover.unknown);
        return handover.unknown;
    };
    CHECK(unknown("\xa1\x03\x81" + tank) == 0);
    CHECK(unknown("\xa2\x03\x81" + tank + "\x09\x01") == 1);                      // of the link
    CHECK(unknown("\xa1\x03\x81\xa2\x00\x61T\x17\x01"sv) == 1);                   // of a tank
    CHECK(unknown("\xa2\x03\x81" + tank + "\x04\x81\xa2\x01\x61T\x17\x01") == 1); // of a thing
    CHECK(unknown("\xa2\x03\x81" + tank + "\x05\x82\x19\xff\xff\x01") == 1);      // to show
    CHECK(unknown(with_slip("\x82\x19\xff\xff\x82\x01\x05"sv)) == 1);     // a line, with its number
    CHECK(unknown(with_slip("\x82\x00\x84\x01\x18\x5a\x17\x05"sv)) == 1); // a number
    // What earlier builds told of the shop's units is known, and passed over.
    CHECK(unknown("\xa1\x03\x81\xa3\x00\x61T\x02\x01\x03\x01"sv) == 0);

    CHECK(opened(forged(with_slip("\x82\x00\x01"sv))).empty());
    CHECK(opened(forged(with_slip("\x82\x00\x00"sv))) == damaged_link);
    CHECK(opened(forged(with_slip("\x83\x00\x01\x00"sv))) == damaged_link);
    CHECK(opened(forged(with_slip("\x82\x00\x84\x01\x18\x5a\x02\x18\x5a"sv))).empty());
    CHECK(opened(forged(with_slip("\x82\x00\x84\x01\x18\x5a\x01\x18\x5a"sv))) == damaged_link);
}

TEST_CASE("a stream that swells is refused before it has swollen") {
    std::string compressed;
    REQUIRE(cli::deflate_raw(std::string(5U << 20U, 'a'), compressed).empty());
    std::string fragment;
    REQUIRE(write_fragment(compressed, fragment).empty()); // 5 MB fit into a link
    CHECK(opened(fragment) == too_long_link);
    std::string out;
    CHECK(cli::inflate_raw(compressed, 1000, out) == too_long_link);
    CHECK(out.empty());

    // Just as much as is allowed is inflated, and then it is no hand-over.
    REQUIRE(cli::deflate_raw(std::string(limit::handover_bytes, 'a'), compressed).empty());
    CHECK(cli::inflate_raw(compressed, limit::handover_bytes, out).empty());
    CHECK(out.size() == limit::handover_bytes);
    REQUIRE(write_fragment(compressed, fragment).empty());
    CHECK(opened(fragment) == damaged_link);
    REQUIRE(cli::deflate_raw(std::string(limit::handover_bytes + 1, 'a'), compressed).empty());
    CHECK(cli::inflate_raw(compressed, limit::handover_bytes, out) == too_long_link);
    // Bytes after the stream's end are damage.
    REQUIRE(cli::deflate_raw("abc", compressed).empty());
    CHECK(cli::inflate_raw(compressed + "x", 1000, out) == damaged_link);
}

TEST_CASE("what cannot be handed over is said") {
    std::string fragment;
    Handover handover = sample();
    handover.tanks.clear();
    CHECK_THAT(cli::link_of(handover, fragment), ContainsSubstring("needs a tank"));
    handover = sample();
    handover.lines = {"no.such"};
    CHECK_THAT(cli::link_of(handover, fragment), ContainsSubstring("no line “no.such”"));
    handover = sample();
    handover.shop = "\u202e";
    CHECK_THAT(cli::link_of(handover, fragment), ContainsSubstring("The shop's name holds"));
    handover = sample();
    handover.tanks[0].slip = R"({"wetsleeve":1,"now":{"given":{"geometry.box/length":-1}}})";
    CHECK_THAT(cli::link_of(handover, fragment), ContainsSubstring("damaged"));
    // A link holds what a book takes.
    for (const char* name : {"", " ", "\u00a0", "\u200b", "\ufeff", "\u0301"}) {
        handover = sample();
        handover.tanks[0].name = name;
        CHECK_THAT(cli::link_of(handover, fragment), ContainsSubstring("name of a tank is empty"));
        handover = sample();
        handover.shelf[1].name = name;
        CHECK_THAT(cli::link_of(handover, fragment),
                   ContainsSubstring("name of a thing on the shelf is empty"));
    }
    handover = sample();
    handover.shelf.assign(201, handover.shelf[0]);
    CHECK_THAT(cli::link_of(handover, fragment), ContainsSubstring("at most 200"));
    handover = sample();
    test::Dice dice(3);
    for (int i = 0; i < 100; ++i) {
        Item& item = handover.shelf.emplace_back(handover.shelf[0]);
        for (char& c : item.strength = std::string(200, ' '))
            c = static_cast<char>('!' + dice.below(90));
    }
    CHECK_THAT(cli::link_of(handover, fragment), ContainsSubstring("at most 8000"));
    CHECK(fragment.empty());
}

} // namespace wetsleeve::record
