#include "core/page/words_json.hpp"

#include "core/book/json.hpp"

namespace wetsleeve {

namespace {

constexpr std::size_t largest_text = 1U << 20U;

bool read_list(const json::Value& from, const char* name, std::vector<std::string>& to) {
    const json::Value* list = json::find(from, name);
    if (list == nullptr || !list->IsArray()) return false;
    for (const json::Value& item : list->GetArray()) {
        if (!item.IsString()) return false;
        to.emplace_back(json::view(item));
    }
    return true;
}

} // namespace

std::string learn_words(Session& session, std::string_view text) {
    static constexpr const char* damaged = "The words of the formulas arrived damaged.";
    rapidjson::Document document;
    if (text.size() > largest_text || !json::parse(document, text) || !document.IsObject())
        return damaged;
    std::vector<WorkingWords> words;
    for (const auto& member : document.GetObject()) {
        WorkingWords& line = words.emplace_back();
        line.line = json::view(member.name);
        if (!member.value.IsObject() || !read_list(member.value, "formula", line.formula) ||
            !read_list(member.value, "assumes", line.assumes) ||
            !read_list(member.value, "sources", line.sources))
            return damaged;
        if (const json::Value* keywords = json::find(member.value, "keywords");
            keywords != nullptr && keywords->IsString())
            line.keywords = json::view(*keywords);
    }
    session.learn(std::move(words));
    return {};
}

std::string words_json(std::span<const Line* const> lines, const Messages* messages) {
    return json::written([&](json::Writer& to) {
        to.StartObject();
        for (const Line* line : lines) {
            const WorkingWords words = words_of(*line, messages);
            json::key(to, words.line);
            to.StartObject();
            for (const auto& [name, texts] :
                 {std::pair{"formula", &words.formula}, std::pair{"assumes", &words.assumes},
                  std::pair{"sources", &words.sources}}) {
                json::key(to, name);
                to.StartArray();
                for (const std::string& each : *texts) json::text(to, each);
                to.EndArray();
            }
            json::field(to, "keywords", words.keywords);
            to.EndObject();
        }
        to.EndObject();
    });
}

} // namespace wetsleeve
