// Commands over books and links. Texts in, texts out: main.cpp reads and writes the files.
#pragma once

#include "core/link/handover.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve::cli {

// What a command has to say: text for standard output, and in a sentence what is wrong, or "".
struct Said {
    std::string text;
    std::string problem;
};

struct HandoverRequest {
    std::string base; // the page's address, to which "#…" is added
    std::string shop, contact;
    bool locked = false;
    std::vector<std::string> lines; // ids to show; none: all
    bool whole_shelf = true;
    std::vector<std::string> shelf; // ids, when it is not the whole
    // A row a link, tanks' ids with blanks between; empty: a link for each tank of the book.
    std::string list;
};

Said handover_links(std::string_view text, const HandoverRequest& request); // a link a row
Said opened(std::string_view link, bool json);
Said visits(std::string_view text, bool calendar, std::string_view now);
// Reads a book of any version and writes it as this one does; with `asides` also one of which parts
// cannot be kept, and those as a list of their own.
Said book(std::string_view text);
Said book(std::string_view text, std::string& asides);

// As record::read_book; where a part is wrong it is also said how to keep the rest.
std::string read_own_book(std::string_view text, record::Book& book);

// Both steps of a link in one.
std::string link_of(const record::Handover& handover, std::string& fragment);
std::string open_link(std::string_view link, record::Handover& handover);

} // namespace wetsleeve::cli
