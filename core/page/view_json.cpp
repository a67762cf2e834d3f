#include "core/page/view_json.hpp"

#include "core/book/json.hpp"
#include "core/jobs/day.hpp"
#include "core/model/words.hpp"
#include "core/picture/day_ribbon.hpp"
#include "core/picture/section.hpp"
#include "core/registry.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve {

void write_remarks(json::Writer& to, const std::vector<SpokenRemark>& remarks) {
    json::key(to, "remarks");
    to.StartArray();
    for (const SpokenRemark& remark : remarks) {
        to.StartObject();
        json::field(to, "level", word(remark.level));
        json::field(to, "text", remark.text);
        to.EndObject();
    }
    to.EndArray();
}

namespace {

using json::Writer;

// `as`: the text of an item.
template <class Items, class As>
void texts(Writer& to, std::string_view name, const Items& items, As&& as) {
    json::key(to, name);
    to.StartArray();
    for (const auto& item : items) json::text(to, as(item));
    to.EndArray();
}
void texts(Writer& to, std::string_view name, const std::vector<std::string>& items) {
    texts(to, name, items, [](const std::string& item) { return std::string_view(item); });
}

void write_table(Writer& to, const Table& table, const Style& style) {
    texts(to, "columns", table.columns,
          [&](const Column& column) { return style.say(column.name); });
    json::key(to, "rows");
    to.StartArray();
    for (const std::vector<Cell>& row : table.rows) {
        to.StartArray();
        for (std::size_t i = 0; i < row.size(); ++i)
            json::text(to, cell_text(table.columns[i], row[i], style));
        to.EndArray();
    }
    to.EndArray();
}

// Points as the path of an SVG, in tenths of a unit.
std::string path(const Drawing::Shape& shape) {
    std::string d;
    const Form form = form_of(shape.part);
    const bool pairs = form == Form::segments || form == Form::dashes;
    for (std::size_t i = 0; i < shape.points.size(); ++i) {
        d += i == 0 || (pairs && i % 2 == 0) ? 'M' : 'L';
        d += write_shortest(std::round(shape.points[i].x * 10) / 10, 6, '.') + " " +
             write_shortest(std::round(shape.points[i].y * 10) / 10, 6, '.');
    }
    return form == Form::area || form == Form::under ? d + "Z" : d;
}

void write_picture(Writer& to, const Drawing& drawing) {
    if (drawing.shapes.empty()) return;
    to.StartObject();
    json::field(to, "name", drawing.name);
    json::field(to, "summary", drawing.summary);
    json::field(to, "width", drawing.width);
    json::field(to, "height", drawing.height);
    json::key(to, "shapes");
    to.StartArray();
    for (const Drawing::Shape& shape : drawing.shapes) {
        to.StartObject();
        json::field(to, "part", word(shape.part));
        json::field(to, "d", path(shape));
        to.EndObject();
    }
    to.EndArray();
    json::key(to, "words");
    to.StartArray();
    for (const Drawing::Word& each : drawing.words) {
        to.StartObject();
        json::field(to, "x", each.at.x);
        json::field(to, "y", each.at.y);
        json::field(to, "anchor", each.side < 0 ? "end" : each.side == 0 ? "middle" : "start");
        json::field(to, "text", each.text);
        to.EndObject();
    }
    to.EndArray();
    to.EndObject();
}

// Letters of a page are about half as wide as they are high.
Sheet page_sheet() {
    constexpr double em = 14;
    return {340, em, [](std::string_view text) {
                return 0.54 * em *
                       static_cast<double>(std::count_if(
                           text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
            }};
}

void write_pictures(Writer& to, const Session& session, std::size_t l,
                    const geometry::Section& section) {
    const Sheet sheet = page_sheet();
    json::key(to, "pictures");
    to.StartArray();
    if (l == section.line)
        write_picture(to, geometry::tank_view(session, section, sheet, {50, 50}, 190, 90).drawing);
    if (l == timing::day_line(session)) write_picture(to, timing::day_ribbon(session, sheet));
    const Line& line = session.slip().line(l);
    for (std::size_t s = 0; s < line.slots.size(); ++s)
        if (line.slots[s].kind == Kind::curve)
            write_picture(to, curve_drawing(session, l, s, sheet));
    to.EndArray();
}

void write_slot(Writer& to, const Session& session, std::size_t l, std::size_t s,
                const SlotView& view) {
    const Slot& slot = session.slip().line(l).slots[s];
    const auto say = [&](const char* english) { return session.say(english); };
    to.StartObject();
    json::field(to, "id", slot.id);
    json::field(to, "name", say(slot.name));
    json::field(to, "kind", word(slot.kind));
    json::field(to, "role", word(view.role));
    if (view.locked) {
        json::key(to, "locked");
        to.Bool(true);
    }
    if (slot.kind == Kind::table) write_table(to, session.table(l, s), session.style());
    else if (slot.kind != Kind::curve) {
        json::field(to, "number", view.shown.number);
        json::field(to, "unit", view.shown.unit);
        json::field(to, "plus_minus", view.plus_minus);
        json::field(to, "value", view.value);
        json::field(to, "doubt", view.doubt);
        if (view.measured != no_day)
            json::field(to, "measured", round::write_day(round::day_numbered(view.measured)));
        if (slot.kind == Kind::choice) {
            texts(to, "options", slot.options, say);
        } else {
            if (!slot.offers.empty())
                texts(to, "offers", slot.offers,
                      [&](const Offer& offer) { return say(offer.name); });
            json::field(to, "range", session.range(l, s));
            texts(to, "units", slot.dimension->units, [](const Unit& unit) { return unit.symbol; });
        }
        const std::size_t way = session.gives_way(l, s);
        json::field(to, "gives_way",
                    way == Line::npos ? "" : say(session.slip().line(l).slots[way].name));
    }
    to.EndObject();
}

void write_line(Writer& to, const Session& session, std::size_t l,
                const geometry::Section& section) {
    const Line& line = session.slip().line(l);
    const LineView view = session.view(l);
    to.StartObject();
    json::field(to, "id", line.about.id);
    json::field(to, "title", session.say(line.about.title));
    json::field(to, "standing", word(view.standing));
    json::field(to, "trouble", view.trouble);
    json::key(to, "sentence");
    to.StartArray();
    for (const Piece& piece : view.pieces) {
        to.StartObject();
        if (piece.slot == Line::npos) {
            json::field(to, "text", piece.words);
        } else {
            json::key(to, "slot");
            to.Uint(static_cast<unsigned>(piece.slot));
        }
        if (piece.quiet) {
            json::key(to, "quiet");
            to.Bool(true);
        }
        to.EndObject();
    }
    to.EndArray();
    json::key(to, "slots");
    to.StartArray();
    for (std::size_t s = 0; s < line.slots.size(); ++s)
        write_slot(to, session, l, s, view.slots[s]);
    to.EndArray();
    write_pictures(to, session, l, section);
    write_remarks(to, view.remarks);
    const Working working = session.working(l);
    json::key(to, "working");
    to.StartObject();
    texts(to, "names", working.in_names);
    texts(to, "numbers", working.in_numbers);
    texts(to, "assumes", working.assumes);
    texts(to, "sources", working.sources);
    to.EndObject();
    to.EndObject();
}

// Every line there is, by its family, and whether it is on the slip.
void write_catalogue(Writer& to, const Session& session) {
    json::key(to, "catalogue");
    to.StartArray();
    for (const Family& family : families()) {
        const auto lines = lines_of(family, session.catalogue());
        if (lines.empty()) continue;
        to.StartObject();
        json::field(to, "family", session.say(family.title));
        json::key(to, "lines");
        to.StartArray();
        for (const Line* line : lines) {
            to.StartObject();
            json::field(to, "id", line->about.id);
            json::field(to, "title", session.say(line->about.title));
            json::key(to, "on");
            to.Bool(session.in_sight(*line));
            to.EndObject();
        }
        to.EndArray();
        to.EndObject();
    }
    to.EndArray();
}

} // namespace

std::string view_json(const Session& session) {
    return json::written([&](Writer& to) {
        to.StartObject();
        json::key(to, "revision");
        to.Uint(session.revision());
        json::field(to, "system", word(session.style().system));
        json::field(to, "decimal", std::string_view(&session.style().decimal, 1));
        json::key(to, "undo");
        to.Bool(session.can_undo());
        json::key(to, "redo");
        to.Bool(session.can_redo());
        json::key(to, "locked");
        to.Bool(session.terms().locked);
        json::key(to, "lines");
        to.StartArray();
        const geometry::Section section = geometry::section_of(session);
        for (std::size_t l = 0; l < session.slip().size(); ++l) write_line(to, session, l, section);
        to.EndArray();
        json::key(to, "order");
        to.StartArray();
        for (const std::size_t l : session.order()) to.Uint(static_cast<unsigned>(l));
        to.EndArray();
        write_catalogue(to, session);
        to.EndObject();
    });
}

} // namespace wetsleeve
