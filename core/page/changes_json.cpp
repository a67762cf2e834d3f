#include "core/page/changes_json.hpp"

#include "core/book/fold.hpp"
#include "core/book/gate.hpp"
#include "core/book/json.hpp"

#include <optional>
#include <utility>
#include <vector>

namespace wetsleeve::record {

using json::Value;
using json::Writer;

namespace {

constexpr std::size_t small_change = 1024; // bytes that a full book has room for

bool read_record(const Value& from, Record& record) {
    if (!from.IsObject()) return false;
    const Value* key = json::find(from, "key");
    const Value* text = json::find(from, "text");
    if (key == nullptr || !key->IsString()) return false;
    record.key = json::view(*key);
    record.text.reset();
    if (text != nullptr && text->IsString()) record.text = json::view(*text);
    return true;
}
bool read_records(const Value* from, std::vector<Record>& records) {
    if (from == nullptr) return true;
    if (!from->IsArray()) return false;
    for (const Value& each : from->GetArray())
        if (!read_record(each, records.emplace_back())) return false;
    return true;
}

std::size_t counted(const Value& counts, const char* name) {
    const Value* count = json::find(counts, name);
    return count != nullptr && count->IsUint64() ? static_cast<std::size_t>(count->GetUint64()) : 0;
}
Counts counts_in(const Value& from) {
    return {.tanks = counted(from, "tanks"),
            .shelf = counted(from, "shelf"),
            .due = counted(from, "due"),
            .visits = counted(from, "visits"),
            .bytes = counted(from, "bytes")};
}

struct AskedChange {
    Records records;
    std::vector<Fold::Taken> since;
    Change change;
    Counts there;
};

bool read(std::string_view text, AskedChange& asked) {
    rapidjson::Document document;
    if (!json::parse(document, text, json::Halves::let_in) || !document.IsObject()) return false;
    std::vector<Record> records;
    const Value* change = json::find(document, "change");
    if (!read_records(json::find(document, "records"), records) || change == nullptr ||
        !read_change(*change, asked.change).empty())
        return false;
    for (Record& each : records) asked.records.put(std::move(each.key), std::move(each.text));
    if (const Value* since = json::find(document, "since"); since != nullptr) {
        if (!since->IsArray()) return false;
        for (const Value& each : since->GetArray()) {
            Fold::Taken& taken = asked.since.emplace_back();
            const Value* done = each.IsObject() ? json::find(each, "change") : nullptr;
            if (done == nullptr || !read_change(*done, taken.change).empty() ||
                !read_records(json::find(each, "before"), taken.before))
                return false;
        }
    }
    if (const Value* there = json::find(document, "there"); there != nullptr && there->IsObject())
        asked.there = counts_in(*there);
    return true;
}

// What is different, and what the whole book has after it of that which grows.
struct RecordsApart {
    std::vector<Record> puts{};
    Counts after{};
};
RecordsApart differences(const Records& before, const Records& now, const Counts& there) {
    RecordsApart found;
    Counts came;
    Counts went;
    const auto count = [](Counts& counts, std::string_view key, std::size_t bytes, bool whole) {
        counts.bytes += key.size() + bytes;
        const std::optional<Part> part = whole ? key::part(key) : std::nullopt;
        if (part == Part::tank) ++counts.tanks;
        if (part == Part::item) ++counts.shelf;
        if (part == Part::due) ++counts.due;
        if (part == Part::visit) ++counts.visits;
    };
    now.each("", [&](const std::string& key, const std::string& text) {
        const std::string* was = before.find(key);
        if (was != nullptr && *was == text) return;
        found.puts.push_back({key, text});
        count(came, key, text.size(), was == nullptr);
        if (was != nullptr) count(went, key, was->size(), false);
    });
    before.each("", [&](const std::string& key, const std::string& text) {
        if (now.find(key) != nullptr) return;
        found.puts.push_back({key, std::nullopt});
        count(went, key, text.size(), true);
    });
    for (std::size_t Counts::*const of :
         {&Counts::tanks, &Counts::shelf, &Counts::due, &Counts::visits, &Counts::bytes})
        if (came.*of > went.*of) found.after.*of = there.*of + came.*of - went.*of;
    if (came.bytes < small_change) found.after.bytes = 0;
    return found;
}

} // namespace

std::string change_json(std::string_view text, const Style& style, std::string& json) {
    AskedChange asked;
    if (!read(text, asked)) return "What is to be changed was not told as it must be.";
    const Stamp at = asked.change.at;
    Fold fold(asked.records, std::move(asked.since), style);
    fold.add(std::move(asked.change));
    RecordsApart found = differences(asked.records, fold.records(), asked.there);
    const Fold::Taken* taken = fold.find(at);
    std::string why = taken->why.empty() ? room_problem(found.after) : taken->why;
    if (!why.empty()) found.puts.clear();

    json = json::written([&](Writer& to) {
        to.StartObject();
        json::key(to, "puts");
        to.StartArray();
        for (const Record& put : found.puts) {
            to.StartObject();
            json::field(to, "key", put.key);
            json::key(to, "text");
            if (put.text.has_value()) json::text(to, *put.text);
            else to.Null();
            to.EndObject();
        }
        to.EndArray();
        json::field(to, "why", why);
        to.EndObject();
    });
    return {};
}

} // namespace wetsleeve::record
