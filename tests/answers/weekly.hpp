// A tank of 200 L, visited each week for six: nitrate read, half of the water changed, 10 mL dosed.
// A millilitre raises it by 1 mg/L, and 0.8 mg/L a day are taken.
#pragma once

#include "core/book/book.hpp"

#include <string>
#include <utility>
#include <vector>

namespace wetsleeve::test {

// `also`: of every visit, behind what was read.
inline record::Book weekly(const std::vector<record::Entry>& also = {}) {
    using record::What;
    record::Book book;
    book.tanks = {{.id = "t1", .name = "Front window", .note = {}, .slip = {}}};
    book.shelf = {{.id = "b1",
                   .name = "liquid fertiliser A",
                   .kind = record::ItemKind::bottle,
                   .strength = {},
                   .amount = 100,
                   .unit = "mL"}};
    double level = 12;
    for (const char* day :
         {"2026-04-06", "2026-04-13", "2026-04-20", "2026-04-27", "2026-05-04", "2026-05-11"}) {
        std::vector<record::Entry> entries{{What::read, "nitrate", level, "mg/L"}};
        entries.insert(entries.end(), also.begin(), also.end());
        entries.push_back({What::done, "ro", 60, "L"});
        entries.push_back({What::done, "tap", 40, "L"});
        entries.push_back({What::dosed, "b1", 10, "mL"});
        book.visits.push_back({.id = "v" + std::to_string(book.visits.size() + 1),
                               .tank = "t1",
                               .day = day,
                               .corrects = {},
                               .entries = std::move(entries)});
        level = level / 2 + 10 - 7 * 0.8;
    }
    return book;
}

} // namespace wetsleeve::test
