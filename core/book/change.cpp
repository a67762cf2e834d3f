#include "core/book/change.hpp"

#include "core/book/checks.hpp"
#include "core/book/fields.hpp"
#include "core/book/stock.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace wetsleeve::record {

using json::Value;
using json::Writer;

namespace {

constexpr const char* acts[] = {"add", "set", "bring", "visit", "remove", "put"};
constexpr const char* not_a_change = "What is to be changed was not told as it must be.";

std::string id_in(std::string_view key) { return std::string(key.substr(key.find('/') + 1)); }
std::string tank_of_visit(std::string_view key) {
    const std::string rest = id_in(key);
    return rest.substr(0, rest.find('/'));
}

// What of it can be used.
template <class T> T read_part(std::string_view text) {
    T part{};
    std::vector<Aside> aside;
    Fields fields(aside);
    rapidjson::Document document;
    if (json::parse(document, text, json::Halves::let_in)) read(fields, document, part);
    return part;
}

std::vector<std::string> ids_in(const std::string* text) {
    std::vector<std::string> ids;
    rapidjson::Document document;
    if (text != nullptr && json::parse(document, *text) && document.IsArray())
        for (const Value& id : document.GetArray())
            if (id.IsString()) ids.emplace_back(json::view(id));
    return ids;
}
void put_order(Records& records, const std::vector<std::string>& ids) {
    records.put(std::string(key::order), json::written([&](Writer& to) {
                    to.StartArray();
                    for (const std::string& id : ids) json::text(to, id);
                    to.EndArray();
                }));
}

// What was owed when it is counted anew.
void forget_owed(Value& whole, const Value& patch, const char* counted, const char* owed) {
    if (json::find(patch, counted) != nullptr && json::find(patch, owed) == nullptr)
        whole.RemoveMember(owed);
}

// The text with these fields in place of its own of their names.
std::string with_fields(const std::string& text, const std::string& fields, std::string& changed) {
    rapidjson::Document whole;
    rapidjson::Document patch;
    if (nesting(fields) > limit::nesting || !json::parse(whole, text, json::Halves::let_in) ||
        !json::parse(patch, fields, json::Halves::let_in) || !patch.IsObject())
        return not_a_change;
    json::merge_patch(whole, patch);
    forget_owed(whole, patch, "amount", "owed");
    const auto store = whole.FindMember("store");
    const Value* counted = json::find(patch, "store");
    if (store != whole.MemberEnd() && store->value.IsObject() && counted != nullptr &&
        counted->IsObject())
        forget_owed(store->value, *counted, "holds_l", "owed_l");
    changed = json::written([&](Writer& to) { whole.Accept(to); });
    return {};
}

Stamp take_stamp(Value& record) {
    Stamp stamp;
    const auto found = record.FindMember(stamp_name);
    if (found == record.MemberEnd()) return stamp;
    (void)read_stamp(found->value, stamp);
    record.RemoveMember(found);
    return stamp;
}

enum class Stamps : std::uint8_t { anew, may_come_along };

// The record as it is to be kept: as it was where both say the same, or else with the stamp of the
// change, or a later one that came along.
std::string stamped(const std::string& text, const std::string* before, const Stamp& at,
                    Stamps stamps) {
    rapidjson::Document now;
    rapidjson::Document was;
    if (!json::parse(now, text, json::Halves::let_in) || !now.IsObject()) return text;
    const Stamp brought = take_stamp(now);
    Stamp had;
    if (before != nullptr && json::parse(was, *before, json::Halves::let_in) && was.IsObject()) {
        had = take_stamp(was);
        if (now == was) return *before;
    }
    Stamp stamp = stamps == Stamps::may_come_along && had < brought ? brought : at;
    if (stamp < had) stamp.clock = had.clock + 1;
    return json::written([&](Writer& to) {
        to.StartObject();
        for (const auto& member : now.GetObject()) {
            json::key(to, json::view(member.name));
            member.value.Accept(to);
        }
        json::key(to, stamp_name);
        write_stamp(to, stamp);
        to.EndObject();
    });
}

// `at`: of the change.
std::string put_checked(Records& records, const std::string& key, const std::string& text,
                        const Stamp& at, Stamps stamps = Stamps::anew) {
    const std::optional<Part> part = key::part(key);
    std::string problem = part.has_value() ? part_problem(*part, text) : std::string();
    if (!problem.empty()) return problem;
    const bool bears = part.has_value() && part != Part::slip && !at.device.empty();
    const std::string* before = records.find(key);
    std::string made = bears ? stamped(text, before, at, stamps) : text;
    if (before == nullptr || *before != made) records.put(key, std::move(made));
    return {};
}

std::string not_as_it_was(const Style& style) {
    return style.say("This no longer fits what is there now.");
}

// ---- each kind of step --------------------------------------------------------------------------

std::string add(const Step& step, Records& records, const Stamp& at, const Style& style) {
    if (records.find(step.key) != nullptr) return not_as_it_was(style);
    std::string problem = put_checked(records, step.key, step.text.value_or(""), at);
    if (!problem.empty() || key::part(step.key) != Part::tank) return problem;
    std::vector<std::string> ids = ids_in(records.find(key::order));
    if (std::string id = id_in(step.key); std::find(ids.begin(), ids.end(), id) == ids.end())
        ids.push_back(std::move(id));
    put_order(records, ids);
    return {};
}

std::string set(const Step& step, Records& records, const Stamp& at, const Style& style) {
    const std::optional<Part> part = key::part(step.key);
    const std::string* text = records.find(step.key);
    static const std::string nothing = "{}";
    if (text == nullptr && part == Part::round) text = &nothing;
    if (text == nullptr) return not_as_it_was(style);
    std::string changed;
    std::string problem = with_fields(*text, step.text.value_or(""), changed);
    return problem.empty() ? put_checked(records, step.key, changed, at) : problem;
}

// With the amount of the item, and what is owed of it.
std::string put_stock(const Item& item, Records& records, const Stamp& at) {
    const std::string key = key::of(key::item, item.id);
    const std::string amount = json::written([&](Writer& to) {
        to.StartObject();
        json::field(to, "amount", *item.amount);
        json::key(to, "owed");
        if (item.owed.has_value()) to.Double(*item.owed);
        else to.Null();
        to.EndObject();
    });
    std::string changed;
    std::string problem = with_fields(*records.find(key), amount, changed);
    return problem.empty() ? put_checked(records, key, changed, at) : problem;
}

std::string bring(const Step& step, Records& records, const Stamp& at, const Style& style) {
    if (key::part(step.key) != Part::item || !(step.amount > 0)) return not_a_change;
    const std::string* text = records.find(step.key);
    auto item = text == nullptr ? Item{} : read_part<Item>(*text);
    if (!item.amount.has_value()) return not_as_it_was(style);
    const double left = stock_left(stock(item), -step.amount);
    if (!std::isfinite(left)) return not_a_change;
    set_stock(item, left);
    return put_stock(item, records, at);
}

std::string add_visit(const Step& step, Records& records, const Stamp& at, const Style& style) {
    const std::string text = step.text.value_or("");
    std::string problem = part_problem(Part::visit, text);
    if (!problem.empty()) return problem;
    const auto visit = read_part<Visit>(text);
    if (visit.tank != tank_of_visit(step.key)) return not_a_change;
    if (records.find(key::of(key::tank, visit.tank)) == nullptr)
        return style.say("The tank of this visit is not here. Restore the tank first.");
    Book book;
    // What it takes hangs on what else counts, and that on its own tank's visits alone.
    if (!visit.corrects.empty()) {
        records.each(key::visits_of(visit.tank), [&](const std::string&, const std::string& each) {
            book.visits.push_back(read_part<Visit>(each));
        });
        if (with_id(book.visits, visit.corrects) == nullptr) return not_as_it_was(style);
    }
    records.each(key::item, [&](const std::string&, const std::string& each) {
        book.shelf.push_back(read_part<Item>(each));
    });
    for (const Item& item : shelf_after(book, visit))
        if (problem = put_stock(item, records, at); !problem.empty()) return problem;
    if (const std::string* kept = records.find(key::round); kept != nullptr) {
        const auto round = read_part<Rounds>(*kept);
        const Rounds after = round_after(round, visit, ro_used(book, visit), step.now);
        if (after != round)
            problem = put_checked(records, std::string(key::round),
                                  json::written([&](Writer& to) { write(to, after); }), at);
    }
    return problem.empty() ? put_checked(records, step.key, text, at) : problem;
}

std::string remove_tank(const Step& step, Records& records, const Style& style) {
    const std::string id = id_in(step.key);
    std::vector<std::string> gone = {step.key, key::of(key::slip, id)};
    bool more = false;
    records.each(key::visits_of(id), [&](const std::string& key, const std::string&) {
        more = more || std::find(step.with.begin(), step.with.end(), key) == step.with.end();
        gone.push_back(key);
    });
    if (more) {
        return kept_by_visits(id, records, style);
    }
    records.each(key::due, [&](const std::string& key, const std::string& text) {
        if (read_part<Due>(text).tank == id) gone.push_back(key);
    });
    for (std::string& key : gone)
        if (records.find(key) != nullptr) records.put(std::move(key), std::nullopt);
    std::vector<std::string> ids = ids_in(records.find(key::order));
    if (std::erase(ids, id) > 0) put_order(records, ids);
    return {};
}

std::string remove(const Step& step, Records& records, const Style& style) {
    if (key::part(step.key) == Part::tank) return remove_tank(step, records, style);
    if (records.find(step.key) != nullptr) records.put(step.key, std::nullopt);
    return {};
}

std::string put(const Step& step, Records& records, const Stamp& at) {
    if (step.key == key::order) {
        std::vector<std::string> ids = ids_in(step.text.has_value() ? &*step.text : nullptr);
        std::erase_if(ids, [&](const std::string& id) {
            return records.find(key::of(key::tank, id)) == nullptr;
        });
        put_order(records, ids);
        return {};
    }
    if (step.text.has_value())
        return put_checked(records, step.key, *step.text, at, Stamps::may_come_along);
    if (records.find(step.key) != nullptr) records.put(step.key, std::nullopt);
    return {};
}

std::string take(const Step& step, Records& records, const Stamp& at, const Style& style) {
    switch (step.act) {
    case Do::add:
        return add(step, records, at, style);
    case Do::set:
        return set(step, records, at, style);
    case Do::bring:
        return bring(step, records, at, style);
    case Do::visit:
        return add_visit(step, records, at, style);
    case Do::remove:
        return remove(step, records, style);
    case Do::put:
        return put(step, records, at);
    }
    return {};
}

// ---- their form ---------------------------------------------------------------------------------

bool read_word(std::string_view word, Do& act) {
    const auto* const found = std::find(std::begin(acts), std::end(acts), word);
    if (found == std::end(acts)) return false;
    act = static_cast<Do>(found - std::begin(acts));
    return true;
}

bool read_text(const Value& from, const char* name, std::string& to) {
    const Value* value = json::find(from, name);
    if (value == nullptr) return true;
    if (!value->IsString()) return false;
    to = json::view(*value);
    return true;
}

bool read_step(const Value& from, Step& step) {
    if (!from.IsObject()) return false;
    const Value* act = json::find(from, "do");
    if (act == nullptr || !act->IsString() || !read_word(json::view(*act), step.act) ||
        !read_text(from, "key", step.key) || !read_text(from, "now", step.now))
        return false;
    if (const Value* fields = json::find(from, "fields"); fields != nullptr)
        step.text = as_json(*fields);
    if (const Value* text = json::find(from, "text"); text != nullptr && text->IsString())
        step.text = json::view(*text);
    if (const Value* amount = json::find(from, "amount"); amount != nullptr && amount->IsNumber())
        step.amount = amount->GetDouble();
    if (const Value* with = json::find(from, "with"); with != nullptr && with->IsArray())
        for (const Value& each : with->GetArray())
            if (each.IsString()) step.with.emplace_back(json::view(each));
    if (const Value* stays = json::find(from, "stays"); stays != nullptr && stays->IsBool())
        step.stays = stays->GetBool();
    return !step.key.empty();
}

} // namespace

std::string kept_by_visits(const std::string& tank, const Records& records, const Style& style) {
    const std::string* text = records.find(key::of(key::tank, tank));
    return compose(
        style.say("Something has been written down for {0} since then, so the tank stays."),
        {text == nullptr ? tank : read_part<Tank>(*text).name});
}

std::string apply(const Change& change, Records& records, std::vector<Record>& before,
                  const Style& style, bool staying) {
    (void)records.replaced();
    std::string problem;
    for (const Step& step : change.steps)
        if (problem.empty() && (step.stays || !staying))
            problem = take(step, records, change.at, style);
    before = records.replaced();
    if (problem.empty()) return problem;
    put_back(before, records);
    before.clear();
    return problem;
}

void put_back(const std::vector<Record>& before, Records& records) {
    for (const Record& each : before) records.put(each.key, each.text);
    (void)records.replaced();
}

std::string read_change(const Value& from, Change& change) {
    if (!from.IsObject()) return not_a_change;
    Change found;
    const Value* at = json::find(from, "at");
    if (at == nullptr || !read_stamp(*at, found.at)) return not_a_change;
    if (const Value* back = json::find(from, "back"); back != nullptr)
        if (!read_stamp(*back, found.back.emplace())) return not_a_change;
    if (const Value* steps = json::find(from, "steps"); steps != nullptr) {
        if (!steps->IsArray()) return not_a_change;
        for (const Value& each : steps->GetArray())
            if (!read_step(each, found.steps.emplace_back())) return not_a_change;
    }
    change = std::move(found);
    return {};
}

} // namespace wetsleeve::record
