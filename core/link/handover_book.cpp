// A hand-over as a book with fields of its own. Apart from handover.cpp, so that whoever reads
// links alone does not carry it.
#include "core/book/json.hpp"
#include "core/link/handover.hpp"

#include <algorithm>

namespace wetsleeve::record {

std::string handover_as_book(const Handover& handover) {
    Book book;
    book.tanks = handover.tanks;
    for (std::size_t i = 0; i < book.tanks.size(); ++i)
        book.tanks[i].id = "t" + std::to_string(i + 1);
    book.shelf = handover.shelf;
    for (std::size_t i = 0; i < book.shelf.size(); ++i)
        book.shelf[i].id = "s" + std::to_string(i + 1);
    if (!handover.shop.empty() || !handover.contact.empty())
        for (Tank& tank : book.tanks)
            tank.handed_over =
                Origin{.shop = handover.shop, .contact = handover.contact, .name = tank.name};
    const auto add = [&](const char* name, const auto& write) {
        book.unknown.emplace_back(name, json::written(write));
    };
    add("shop", [&](json::Writer& to) { json::text(to, handover.shop); });
    add("contact", [&](json::Writer& to) { json::text(to, handover.contact); });
    add("locked", [&](json::Writer& to) { to.Bool(handover.locked); });
    add("lines", [&](json::Writer& to) {
        to.StartArray();
        for (const std::string& id : handover.lines) json::text(to, id);
        to.EndArray();
    });
    add("unknown", [&](json::Writer& to) { to.Uint64(handover.unknown); });
    return write_book(book);
}

std::string handover_from_book(std::string_view text, Handover& handover) {
    Book book;
    std::vector<Aside> aside;
    std::string problem = read_book(text, book, aside);
    if (!problem.empty()) return problem;
    // What was chosen goes along or is refused; what does not travel is in nobody's way.
    for (const Aside& each : aside)
        if (each.part == "tank" || each.part == "note" || each.part == "slip" ||
            each.part == "item" || each.part == "book")
            return each.why;
    Handover found;
    for (const auto& [name, value] : book.unknown) {
        rapidjson::Document field;
        if (!json::parse(field, value)) continue;
        if (name == "shop" && field.IsString()) found.shop = json::view(field);
        if (name == "contact" && field.IsString()) found.contact = json::view(field);
        if (name == "locked" && field.IsBool()) found.locked = field.GetBool();
        if (name == "own" && field.IsBool()) found.own = field.GetBool();
        if (name == "unknown" && field.IsUint()) found.unknown = field.GetUint();
        if (name == "lines" && field.IsArray())
            for (const json::Value& id : field.GetArray())
                if (id.IsString()) found.lines.emplace_back(json::view(id));
    }
    found.tanks = std::move(book.tanks);
    found.shelf = std::move(book.shelf);
    handover = std::move(found);
    return {};
}

} // namespace wetsleeve::record
