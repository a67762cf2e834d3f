#include "core/cli/request.hpp"

#include "core/book/json.hpp"
#include "core/model/words.hpp"
#include "core/page/view_json.hpp"
#include "core/registry.hpp"

#include <algorithm>
#include <cmath>

namespace wetsleeve::cli {

namespace {

std::string joined(const std::vector<std::string>& words) {
    std::string all;
    for (const std::string& word : words) all += (all.empty() ? "" : ", ") + word;
    return all;
}

std::string slot_names(const Line& line) {
    std::vector<std::string> ids;
    for (const Slot& slot : line.slots)
        if (!slot.figure()) ids.emplace_back(slot.id);
    return joined(ids);
}

// A table as lines of text, columns as wide as they need to be.
std::string table_text(const Table& table, const Style& style) {
    std::vector<std::vector<std::string>> rows(1);
    for (const Column& column : table.columns) rows[0].emplace_back(style.say(column.name));
    for (const std::vector<Cell>& row : table.rows) {
        std::vector<std::string> out;
        for (std::size_t i = 0; i < row.size(); ++i)
            out.push_back(cell_text(table.columns[i], row[i], style));
        rows.push_back(std::move(out));
    }
    std::vector<std::size_t> width(table.columns.size(), 0);
    for (const auto& row : rows)
        for (std::size_t i = 0; i < row.size(); ++i) width[i] = std::max(width[i], row[i].size());
    std::string text;
    for (const auto& row : rows) {
        text += " ";
        for (std::size_t i = 0; i < row.size(); ++i)
            text += " " + std::string(width[i] - row[i].size(), ' ') + row[i];
        text += "\n";
    }
    return text;
}

void write_id(json::Writer& to, const std::string& id) {
    if (id.empty()) return;
    json::key(to, "id");
    to.RawValue(id.data(), id.size(), rapidjson::kStringType);
}

} // namespace

const Line* find_line(std::string_view id) {
    for (const Line* line : all_lines())
        if (id == line->about.id) return line;
    return nullptr;
}

Answer::Answer(const Request& request) : line_(find_line(request.line)), id_(request.id) {
    if (line_ == nullptr) {
        std::vector<std::string> ids;
        for (const Line* line : all_lines()) ids.emplace_back(line->about.id);
        problem_ = compose("There is no line “{0}”: it can be {1}.", {request.line, joined(ids)});
        return;
    }
    Session& session = session_.emplace_back(std::span(&line_, 1));
    session.set_style(request.style);
    if (request.style.messages != nullptr) session.speak(*request.style.messages);

    for (auto entry = request.entries.begin(); entry != request.entries.end(); ++entry)
        if (std::any_of(request.entries.begin(), entry,
                        [&](const auto& other) { return other.slot == entry->slot; })) {
            problem_ = compose("{0} is given twice: give it once.", {entry->slot});
            return;
        }

    std::string typed_over;
    const auto put = [&](const Request::Entry& entry, std::size_t slot) {
        std::string problem = entry.text.empty() ? session.enter_value(0, slot, entry.value)
                                                 : session.enter(0, slot, entry.text);
        if (!problem.empty()) problem_ = compose("{0}: {1}", {entry.slot, problem});
    };
    // Givens first, so that an answer that is typed over meets the numbers it must hold against.
    for (const bool answers : {false, true})
        for (const Request::Entry& entry : request.entries) {
            const std::size_t slot = line_->find(entry.slot);
            if (slot == Line::npos || line_->slots[slot].figure()) {
                problem_ = compose("“{0}” is no slot of {1} that can be given: it can be {2}.",
                                   {entry.slot, line_->about.id, slot_names(*line_)});
                return;
            }
            if (line_->slots[slot].answer != answers) continue;
            if (answers && !typed_over.empty()) {
                problem_ = compose(
                    "{0} and {1} are both answers of {2}: only one of them can be given at a time.",
                    {typed_over, entry.slot, line_->about.id});
                return;
            }
            if (answers) typed_over = entry.slot;
            put(entry, slot);
            if (!problem_.empty()) return;
        }

    const LineView view = session.view(0);
    if (view.standing == Slip::Standing::waiting) {
        std::vector<std::string> needed;
        double given[Line::max_slots];
        double answers[Line::max_slots];
        session.slip().gather(0, session.outcome(), given, answers);
        const std::uint32_t live = session.slip().live(0, given);
        const std::size_t way = session.slip().way(session.entered().state, 0);
        for (std::size_t s = 0; s < line_->givens; ++s)
            if ((live >> s & 1U) != 0 && std::isnan(given[s]) && s != way)
                needed.push_back(
                    compose("{0} ({1}, {2})",
                            {line_->slots[s].id, line_->slots[s].name, session.range(0, s)}));
        problem_ = compose("{0} still needs {1}.", {line_->about.id, joined(needed)});
    } else if (!view.trouble.empty()) {
        problem_ = view.trouble;
    }
}

std::string Answer::sentences() const {
    const Session& session = session_.front();
    const LineView view = session.view(0);
    const auto say = [&](const char* english) { return session.say(english); };
    std::string text;
    std::string quiet;
    for (const Piece& piece : view.pieces) {
        std::string& to = piece.quiet ? quiet : text;
        if (piece.slot == Line::npos) {
            to += piece.words;
            continue;
        }
        const SlotView& slot = view.slots[piece.slot];
        if (slot.role == Role::figure) {
            to += say(line_->slots[piece.slot].kind == Kind::table ? "see below" : "see --json");
            continue;
        }
        to += slot.shown.both();
        if (line_->slots[piece.slot].answer && slot.role == Role::answer &&
            !slot.plus_minus.empty())
            to += " (" + slot.plus_minus + ")";
    }
    text += "\n";
    if (!quiet.empty()) text += quiet + "\n";
    for (std::size_t s = 0; s < view.slots.size(); ++s) {
        if (view.slots[s].role == Role::gave_way)
            text += compose(say("What gave way: {0}, now {1}."),
                            {say(line_->slots[s].name), view.slots[s].shown.both()}) +
                    "\n";
        if (line_->slots[s].kind == Kind::table)
            text += table_text(session.table(0, s), session.style());
    }
    const char* heads[] = {say("Note"), say("Caution"), say("Stop")};
    for (const SpokenRemark& remark : view.remarks)
        text +=
            compose(say("{0}: {1}"), {heads[static_cast<std::size_t>(remark.level)], remark.text}) +
            "\n";
    return text;
}

std::string Answer::working() const {
    const Session& session = session_.front();
    const Working working = session.working(0);
    const auto labelled = [&](const char* label, const std::string& words) {
        return compose(session.say("{0}: {1}"), {session.say(label), words}) + "\n";
    };
    std::string text;
    for (std::size_t i = 0; i < working.in_names.size(); ++i)
        text += working.in_names[i] + "\n    " + working.in_numbers[i] + "\n";
    for (const std::string& line : working.assumes) text += labelled("Holds when", line);
    for (const std::string& line : working.sources) text += labelled("Sources", line);
    return text;
}

std::string Answer::json() const {
    const Session& session = session_.front();
    const LineView view = session.view(0);
    return json::written([&](json::Writer& to) {
        to.StartObject();
        write_id(to, id_);
        json::field(to, "line", line_->about.id);
        json::key(to, "slots");
        to.StartObject();
        std::size_t way = Line::npos;
        for (std::size_t s = 0; s < view.slots.size(); ++s) {
            const Slot& slot = line_->slots[s];
            if (slot.figure()) continue;
            const SlotView& seen = view.slots[s];
            if (seen.role == Role::gave_way) way = s;
            json::key(to, slot.id);
            to.StartObject();
            json::field(to, "role", word(seen.role));
            json::field(to, "value", seen.value);
            if (slot.dimension != nullptr && *slot.dimension->base().symbol != '\0')
                json::field(to, "unit", slot.dimension->base().symbol);
            json::field(to, "plus_minus", seen.doubt);
            json::field(to, "shown", seen.shown.both());
            to.EndObject();
        }
        to.EndObject();
        json::key(to, "gave_way");
        if (way == Line::npos) to.Null();
        else json::text(to, line_->slots[way].id);
        json::key(to, "figures");
        to.StartObject();
        for (std::size_t s = 0; s < view.slots.size(); ++s) {
            const Slot& slot = line_->slots[s];
            if (!slot.figure()) continue;
            json::key(to, slot.id);
            to.StartArray();
            if (slot.kind == Kind::table) {
                for (const auto& row : session.table(0, s).rows) {
                    to.StartArray();
                    for (const Cell& cell : row)
                        if (cell.text != nullptr) json::text(to, cell.text);
                        else json::number(to, cell.value);
                    to.EndArray();
                }
            } else {
                for (const auto& [x, y] : session.curve(0, s).points) {
                    to.StartArray();
                    json::number(to, x);
                    json::number(to, y);
                    to.EndArray();
                }
            }
            to.EndArray();
        }
        to.EndObject();
        write_remarks(to, view.remarks);
        to.EndObject();
    });
}

std::string read_request(std::string_view text, Request& request) {
    rapidjson::Document document;
    if (!json::parse(document, text) || !document.IsObject())
        return "This is not a JSON object on one line: write {\"line\": \"…\", \"given\": {…}}.";
    if (const json::Value* id = json::find(document, "id"); id != nullptr) {
        if (!id->IsString() && !id->IsNumber()) return "“id” can be text or a number.";
        request.id = json::written([&](json::Writer& to) { id->Accept(to); });
    }
    for (const auto& member : document.GetObject()) {
        const std::string_view name = json::view(member.name);
        const json::Value& value = member.value;
        if (name == "line" && value.IsString()) {
            request.line = json::view(value);
        } else if (name == "system" && value.IsString()) {
            bool known = false;
            for (const System system : {System::metric, System::us, System::imperial})
                if (json::view(value) == word(system)) {
                    request.style.system = system;
                    known = true;
                }
            if (!known) return "“system” can be \"metric\", \"us\" or \"imperial\".";
        } else if (name == "decimal" && value.IsString() &&
                   (json::view(value) == "." || json::view(value) == ",")) {
            request.style.decimal = json::view(value)[0];
        } else if (name == "given" && value.IsObject()) {
            for (const auto& entry : value.GetObject()) {
                const std::string slot(json::view(entry.name));
                if (entry.value.IsNumber())
                    request.entries.push_back({slot, "", entry.value.GetDouble()});
                else if (entry.value.IsString() && entry.value.GetStringLength() > 0)
                    request.entries.push_back({slot, std::string(json::view(entry.value)), blank});
                else
                    return compose("{0}: give a number in base units, or text like \"120 L\".",
                                   {slot});
            }
        } else if (name != "id") {
            return compose("“{0}” is not understood here: a request has \"line\" (text), \"given\" "
                           "(object), and may have \"system\", \"decimal\" and \"id\".",
                           {std::string(name)});
        }
    }
    return {};
}

std::string problem_json(const std::string& problem, const std::string& id) {
    return json::written([&](json::Writer& to) {
        to.StartObject();
        write_id(to, id);
        json::field(to, "problem", problem);
        to.EndObject();
    });
}

} // namespace wetsleeve::cli
