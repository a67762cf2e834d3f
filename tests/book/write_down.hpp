// A finished visit comes into a book, as its changes bring it there (core/book/change.hpp).
#pragma once

#include "core/answers/day_round.hpp"
#include "core/book/stock.hpp"
#include "core/registry.hpp"

#include <string_view>

namespace wetsleeve::test {

inline void write_down(record::Book& book, const record::Visit& visit,
                       std::string_view now = "2026-05-04T10:00") {
    using namespace record;
    if (auto left = left_for(book, visit, all_lines(), {}); left.has_value()) book.round = left;
    if (book.round.has_value())
        book.round = round_after(*book.round, visit, ro_used(book, visit), now);
    for (const Item& item : shelf_after(book, visit))
        for (Item& held : book.shelf)
            if (held.id == item.id) held = item;
    book.visits.push_back(visit);
}

} // namespace wetsleeve::test
