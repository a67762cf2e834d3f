#include "core/cli/records.hpp"

#include "core/book/gate.hpp"
#include "core/book/slip_json.hpp"
#include "core/cli/deflate.hpp"
#include "core/cli/request.hpp"
#include "core/export/book_export.hpp"
#include "core/export/sentence.hpp"
#include "core/model/session.hpp"
#include "core/registry.hpp"

#include <sstream>

namespace wetsleeve::cli {

using namespace record;

namespace {

// A slip's lines as a person reads them.
std::string sentences(const Tank& tank) {
    Session session(all_lines(), {});
    if (!load_json(session, tank.slip).empty()) return {}; // it was read before
    std::string text;
    for (const std::size_t l : session.order()) {
        text += compose("  {0}: {1}\n",
                        {session.slip().line(l).about.title, sentence_in_words(session, l)});
        if (const std::string trouble = session.view(l).trouble; !trouble.empty())
            text += "    " + trouble + "\n";
    }
    return text;
}

// Rows after the first are set in as well.
std::string set_in(std::string_view text) {
    std::string out = "  ";
    for (const char c : text) out += c == '\n' ? std::string("\n  ") : std::string(1, c);
    return out + "\n";
}

std::string in_words(const Handover& handover) {
    std::string text;
    if (!handover.shop.empty()) text += "From: " + handover.shop + "\n";
    if (!handover.contact.empty()) text += set_in(handover.contact);
    if (handover.locked) text += "The numbers are locked.\n";
    for (const Tank& tank : handover.tanks) {
        text += "Tank: " + tank.name + "\n";
        for (const std::string& note : {tank.customer_note, tank.note})
            if (!note.empty()) text += set_in(note);
        if (!tank.slip.empty()) text += sentences(tank);
    }
    if (handover.unknown > 0)
        text += compose("{0} of its lines, numbers or fields are of a later version: left out.\n",
                        {std::to_string(handover.unknown)});
    for (const Item& item : handover.shelf) {
        text += compose("Shelf: {0} ({1})", {item.name, word(item.kind)});
        if (!item.strength.empty()) text += ", " + item.strength;
        if (item.amount.has_value())
            text += ", " + write_shortest(*item.amount, 15, '.') +
                    (item.unit.empty() ? "" : " " + item.unit);
        text += "\n";
    }
    return text;
}

} // namespace

std::string link_of(const Handover& handover, std::string& fragment) {
    std::string bytes;
    std::string compressed;
    std::string problem = write_handover(handover, all_lines(), bytes);
    if (problem.empty()) problem = deflate_raw(bytes, compressed);
    return problem.empty() ? write_fragment(compressed, fragment) : problem;
}

std::string open_link(std::string_view link, Handover& handover) {
    std::string bytes;
    std::string compressed;
    std::string problem = read_fragment(link, compressed);
    if (problem.empty()) problem = inflate_raw(compressed, limit::handover_bytes, bytes);
    return problem.empty() ? read_handover(bytes, all_lines(), handover) : problem;
}

Said handover_links(std::string_view text, const HandoverRequest& request) {
    Book book;
    if (std::string problem = read_own_book(text, book); !problem.empty()) return {"", problem};
    const bool to_a_page =
        request.base.starts_with("https://") || request.base.starts_with("http://");
    if (!to_a_page || request.base.find_first_of("# \t\r\n") != std::string::npos)
        return {"",
                "--base must be the page's address, with “https://” and without a “#” or a blank."};

    Handover all{.shop = request.shop,
                 .contact = request.contact,
                 .locked = request.locked,
                 .lines = request.lines};
    if (request.whole_shelf) all.shelf = book.shelf;
    for (const std::string& id : request.shelf) {
        const Item* item = with_id(book.shelf, id);
        if (item == nullptr) return {"", compose("There is no “{0}” on the shelf.", {id})};
        all.shelf.push_back(*item);
    }

    std::string rows = request.list;
    if (rows.empty())
        for (const Tank& tank : book.tanks) rows += tank.id + "\n";
    std::istringstream from(rows);
    std::string links;
    std::string problem; // the first
    std::size_t without = 0;
    for (std::string row; std::getline(from, row);) {
        Handover one = all;
        std::istringstream ids(row);
        for (std::string id; ids >> id;) {
            const Tank* tank = with_id(book.tanks, id);
            if (tank == nullptr) return {"", compose("There is no tank “{0}” in the book.", {id})};
            if (with_id(one.tanks, id) != nullptr)
                return {"", compose("Tank “{0}” is twice in one row of the list.", {id})};
            one.tanks.push_back(*tank);
        }
        if (one.tanks.empty()) continue;
        std::string fragment;
        const std::string why = link_of(one, fragment);
        if (why.empty()) links += request.base + "#" + fragment + "\n";
        else if (++without == 1) problem = compose("{0}: {1}", {row, why});
    }
    if (without > 1)
        problem += compose(" There are {0} more without a link.", {std::to_string(without - 1)});
    return {links, problem};
}

Said opened(std::string_view link, bool json) {
    Handover handover;
    if (std::string problem = open_link(link, handover); !problem.empty()) return {"", problem};
    return {json ? handover_as_book(handover) + "\n" : in_words(handover), ""};
}

Said visits(std::string_view text, bool calendar, std::string_view now) {
    Book book;
    Said said;
    said.problem = read_own_book(text, book);
    if (!said.problem.empty()) return said;
    if (calendar) said.problem = due_ical(book, now, said.text);
    else said.text = visits_csv(book);
    return said;
}

Said book(std::string_view text) {
    Book book;
    std::string problem = read_own_book(text, book);
    return problem.empty() ? Said{write_book(book) + "\n", ""} : Said{"", problem};
}

Said book(std::string_view text, std::string& asides) {
    Book book;
    std::vector<Aside> aside;
    std::string problem = read_book(text, book, aside);
    if (!problem.empty()) return {"", problem};
    asides = write_asides(aside) + "\n";
    return {write_book(book) + "\n", ""};
}

std::string read_own_book(std::string_view text, Book& book) {
    std::vector<Aside> aside;
    std::string problem = read_book(text, book, aside);
    if (aside.empty()) return problem;
    return compose("{0} The rest can be kept with “wetsleeve book FILE --set-aside ASIDE.json”.",
                   {aside[0].why});
}

} // namespace wetsleeve::cli
