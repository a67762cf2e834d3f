#include "core/record/view_json.hpp"

#include "core/record/json.hpp"
#include "core/registry.hpp"

#include <algorithm>

namespace wetsleeve {

const char* word(Level level) {
    static constexpr const char* words[] = {"note", "caution", "stop"};
    return words[static_cast<std::size_t>(level)];
}
const char* word(Kind kind) {
    static constexpr const char* words[] = {"number", "count", "choice", "clock", "table", "curve"};
    return words[static_cast<std::size_t>(kind)];
}
const char* word(Role role) {
    static constexpr const char* words[] = {"given", "fed", "answer", "held", "gave_way", "figure"};
    return words[static_cast<std::size_t>(role)];
}
const char* word(Slip::Standing standing) {
    static constexpr const char* words[] = {"done", "waiting", "refused", "unreachable", "outside"};
    return words[static_cast<std::size_t>(standing)];
}
const char* word(System system) {
    static constexpr const char* words[] = {"metric", "us", "imperial"};
    return words[static_cast<std::size_t>(system)];
}

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

template <class Items> void texts(Writer& to, std::string_view name, const Items& items) {
    json::key(to, name);
    to.StartArray();
    for (const auto& item : items) json::text(to, item);
    to.EndArray();
}

std::string axis_name(const Axis& axis, const Style& style) {
    const Unit& unit = habitual_unit(*axis.dimension, axis.shown, style.system);
    return *unit.symbol == '\0' ? std::string(style.say(axis.name))
                                : compose("{0}, {1}", {style.say(axis.name), unit.symbol});
}

void write_table(Writer& to, const Table& table, const Style& style) {
    json::key(to, "columns");
    to.StartArray();
    for (const Column& column : table.columns) json::text(to, style.say(column.name));
    to.EndArray();
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

void write_curve(Writer& to, const Curve& curve, const Style& style) {
    if (curve.points.empty()) return;
    const Unit& x_unit = habitual_unit(*curve.x.dimension, curve.x.shown, style.system);
    const Unit& y_unit = habitual_unit(*curve.y.dimension, curve.y.shown, style.system);
    json::field(to, "x", axis_name(curve.x, style));
    json::field(to, "y", axis_name(curve.y, style));
    json::key(to, "points");
    to.StartArray();
    for (const auto& [x, y] : curve.points) {
        to.StartArray();
        json::number(to, (x - x_unit.offset) / x_unit.factor);
        json::number(to, (y - y_unit.offset) / y_unit.factor);
        to.EndArray();
    }
    to.EndArray();
    // The ends of both axes in words, so that a face needs no number format of its own.
    const auto lower = [](const auto& a, const auto& b) { return a.second < b.second; };
    const auto [low, high] = std::minmax_element(curve.points.begin(), curve.points.end(), lower);
    texts(to, "x_text",
          std::vector{axis_text(curve.x, curve.points.front().first, style),
                      axis_text(curve.x, curve.points.back().first, style)});
    texts(to, "y_text",
          std::vector{axis_text(curve.y, low->second, style),
                      axis_text(curve.y, high->second, style)});
}

void write_slot(Writer& to, const Session& session, std::size_t l, std::size_t s,
                const SlotView& view) {
    const Slot& slot = session.slip().line(l).slots[s];
    const auto say = [&](const char* english) { return session.style().say(english); };
    to.StartObject();
    json::field(to, "id", slot.id);
    json::field(to, "name", say(slot.name));
    json::field(to, "kind", word(slot.kind));
    json::field(to, "role", word(view.role));
    if (slot.kind == Kind::table) write_table(to, session.table(l, s), session.style());
    else if (slot.kind == Kind::curve) write_curve(to, session.curve(l, s), session.style());
    else {
        json::field(to, "number", view.shown.number);
        json::field(to, "unit", view.shown.unit);
        json::field(to, "plus_minus", view.plus_minus);
        json::field(to, "value", view.value);
        json::field(to, "doubt", view.doubt);
        if (slot.kind == Kind::choice) {
            json::key(to, "options");
            to.StartArray();
            for (const char* option : slot.options) json::text(to, say(option));
            to.EndArray();
        } else {
            if (!slot.offers.empty()) {
                json::key(to, "offers");
                to.StartArray();
                for (const Offer& offer : slot.offers) json::text(to, say(offer.name));
                to.EndArray();
            }
            json::field(to, "range", session.range(l, s));
            json::key(to, "units");
            to.StartArray();
            for (const Unit& unit : slot.dimension->units) json::text(to, unit.symbol);
            to.EndArray();
        }
        const std::size_t way = session.gives_way(l, s);
        json::field(to, "gives_way",
                    way == Line::npos ? "" : say(session.slip().line(l).slots[way].name));
    }
    to.EndObject();
}

void write_line(Writer& to, const Session& session, std::size_t l) {
    const Line& line = session.slip().line(l);
    const LineView view = session.view(l);
    to.StartObject();
    json::field(to, "id", line.about.id);
    json::field(to, "title", session.style().say(line.about.title));
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
        json::field(to, "family", session.style().say(family.title));
        json::key(to, "lines");
        to.StartArray();
        for (const Line* line : lines) {
            to.StartObject();
            json::field(to, "id", line->about.id);
            json::field(to, "title", session.style().say(line->about.title));
            json::key(to, "on");
            to.Bool(session.on_slip(*line));
            to.EndObject();
        }
        to.EndArray();
        to.EndObject();
    }
    to.EndArray();
}

} // namespace

std::string view_json(const Session& session) {
    rapidjson::StringBuffer buffer;
    Writer to(buffer);
    to.StartObject();
    json::key(to, "revision");
    to.Uint(session.revision());
    json::field(to, "system", word(session.style().system));
    json::field(to, "decimal", std::string_view(&session.style().decimal, 1));
    json::key(to, "undo");
    to.Bool(session.can_undo());
    json::key(to, "redo");
    to.Bool(session.can_redo());
    json::key(to, "lines");
    to.StartArray();
    for (std::size_t l = 0; l < session.slip().size(); ++l) write_line(to, session, l);
    to.EndArray();
    json::key(to, "order");
    to.StartArray();
    for (const std::size_t l : session.order()) to.Uint(static_cast<unsigned>(l));
    to.EndArray();
    write_catalogue(to, session);
    to.EndObject();
    return {buffer.GetString(), buffer.GetSize()};
}

} // namespace wetsleeve
