// What the page may ask: every call of the table, rightly and wrongly.
#include "core/page/calls.hpp"

#include "core/book/json.hpp"
#include "core/registry.hpp"

#include <catch2/catch_test_macros.hpp>

#include <string>
#include <utility>
#include <vector>

using namespace wetsleeve;

namespace {

// Notes what it was told.
class Noting final : public page::Canvas {
  public:
    std::string told;

    bool start() override { return note("start"); }
    void resize(double width, double height, double ratio, double top, double right, double bottom,
                double left) override {
        note("resize");
        for (const double each : {width, height, ratio, top, right, bottom, left})
            told += " " + std::to_string(static_cast<int>(each));
    }
    void look(int shade, std::string_view chosen, double text, bool still, bool left) override {
        note("look " + std::to_string(shade) + " " + std::string(chosen) + " " +
             std::to_string(static_cast<int>(text)) + (still ? " still" : "") +
             (left ? " left" : ""));
    }
    void tank(std::string_view name, double) override { note("tank " + std::string(name)); }
    std::string tank_place() override { return "1 2 3 4 5 6"; }
    void find(std::string_view words) override { note("find " + std::string(words)); }
    void languages(std::string_view rows) override { note("languages " + std::string(rows)); }
    void pointer(int phase, int kind, double x, double, double) override {
        note("pointer " + std::to_string(phase) + std::to_string(kind) +
             std::to_string(static_cast<int>(x)));
    }
    void wheel(double, double dy) override {
        note("wheel " + std::to_string(static_cast<int>(dy)));
    }
    bool key(std::string_view key, bool shift) override {
        note("key " + std::string(key));
        return shift;
    }
    bool frame(double) override { return note("frame"); }
    void restored() override { note("restored"); }
    std::string wish() override { return "tanks"; }
    std::string targets() override { return "[]"; }
    std::string tightest() override { return "1\t"; }

  private:
    bool note(std::string what) {
        told = std::move(what);
        return true;
    }
};

struct Asking {
    Session session{all_lines(), everyday_lines()};
    Noting canvas;
    page::Page page{session, canvas};
    page::Reply operator()(const std::string& asked) { return ask(page, asked); }
};

struct Called {
    std::string name;
    std::vector<std::string> takes; // "number", "string", "boolean"
};
std::vector<Called> table() {
    rapidjson::Document document;
    REQUIRE(json::parse(document, page::calls_json()));
    std::vector<Called> all;
    for (const json::Value& row : document.GetArray()) {
        Called& call = all.emplace_back(Called{std::string(json::view(row["name"])), {}});
        for (const json::Value& each : row["takes"].GetArray()) {
            CHECK(each["name"].GetStringLength() > 0);
            call.takes.emplace_back(json::view(each["type"]));
        }
    }
    return all;
}
std::string asked_of(const std::string& name, const std::vector<std::string>& given) {
    std::string text = "[\"" + name + "\"";
    for (const std::string& each : given) text += "," + each;
    return text + "]";
}

constexpr const char* not_known = "The core was asked for something that it does not know.";

} // namespace

TEST_CASE("Every call of the page takes what its row says, and nothing else", "[page]") {
    for (const Called& call : table()) {
        CAPTURE(call.name);
        std::vector<std::string> right;
        for (const std::string& type : call.takes)
            right.emplace_back(type == "string" ? "\"\"" : type == "boolean" ? "true" : "0");
        Asking asking;
        const page::Reply reply = asking(asked_of(call.name, right));
        CHECK(reply.problem != not_known);
        rapidjson::Document given;
        // Some refuse an empty text in a sentence of their own.
        if (reply.problem.empty()) CHECK(json::parse(given, reply.json));
        else CHECK(reply.json.empty());

        std::vector<std::string> wrong = right;
        wrong.emplace_back("0");
        CHECK(asking(asked_of(call.name, wrong)).problem == not_known);
        if (right.empty()) continue;
        wrong = right;
        wrong.pop_back();
        CHECK(asking(asked_of(call.name, wrong)).problem == not_known);
        for (std::size_t i = 0; i < right.size(); ++i)
            for (const char* other : {"null", "[]", "{}", "\"0\"", "0", "true"}) {
                const std::string type = other[0] == '"'                     ? "string"
                                         : std::string_view(other) == "true" ? "boolean"
                                         : other[0] == '0'                   ? "number"
                                                                             : "";
                if (type == call.takes[i]) continue;
                wrong = right;
                wrong[i] = other;
                CAPTURE(i, other);
                CHECK(asking(asked_of(call.name, wrong)).problem == not_known);
            }
    }
}

TEST_CASE("What is no call is refused in a sentence", "[page]") {
    Asking asking;
    for (const char* asked :
         {"", "[", "[]", "{}", "\"state\"", "[1]", "[\"stat\"]", "[\"State\"]",
          "[\"enter\", 0.5, 0, \"50\"]", "[\"enter\", 1e300, 0, \"50\"]", "[\"state\"] []"})
        CHECK(asking(asked).problem == not_known);
}

TEST_CASE("A slip is typed into, kept and taken up by calls alone", "[page]") {
    Asking asking;
    CHECK(asking(R"(["enter", 0, 1, "50"])").json == "\"\"");
    CHECK(asking(R"(["enter", 0, 1, "wide"])").json.size() > 10); // a sentence
    CHECK(asking(R"(["enter", 99, 0, "50"])").json == R"("There is no such slot.")");
    CHECK(asking(R"(["enter", 0, -1, "50"])").json == R"("There is no such slot.")");
    const std::string kept = asking(R"(["save"])").json;
    CHECK(kept == page::ask(asking.page, R"(["save"])").json);

    Asking other;
    rapidjson::StringBuffer buffer;
    json::Writer to(buffer);
    to.StartArray();
    json::text(to, "load");
    json::text(to, kept);
    to.EndArray();
    CHECK(other(buffer.GetString()).json == "\"\"");
    CHECK(other(R"(["save"])").json == kept);
    CHECK(other(R"(["is_later", "{\"wetsleeve\":99}"])").json == "true");

    CHECK(asking(R"(["undo"])").json == "null");
    CHECK(asking(R"(["number", "1.25"])").json == "1.25");
    CHECK(!asking(R"(["number", "a"])").problem.empty());
    CHECK(asking(R"(["set_style", "us", ","])").json == "null");
    CHECK(asking(R"(["number", "1,25"])").json == "1.25");
    CHECK(asking(R"(["find", "drain"])").json.find("\"water.change\"") != std::string::npos);
}

TEST_CASE("What is asked of the canvas reaches it as it was told", "[page]") {
    const std::pair<const char*, const char*> cases[] = {
        {R"(["canvas_start"])", "start"},
        {R"(["canvas_resize", 1, 2, 3, 4, 5, 6, 7])", "resize 1 2 3 4 5 6 7"},
        {R"(["canvas_look", 2, "sun", 2, true, false])", "look 2 sun 2 still"},
        {R"(["canvas_look", 1, "dark", 1, false, true])", "look 1 dark 1 left"},
        {R"(["canvas_tank", "Reef", 12.5])", "tank Reef"},
        {R"(["canvas_find", "drain"])", "find drain"},
        {R"(["canvas_languages", "de\tDeutsch\n"])", "languages de\tDeutsch\n"},
        {R"(["canvas_pointer", 2, 1, 30.5, 4, 5])", "pointer 2130"},
        {R"(["canvas_wheel", 0, -20])", "wheel -20"},
        {R"(["canvas_key", "Enter", true])", "key Enter"},
        {R"(["canvas_frame", 16.7])", "frame"},
        {R"(["canvas_restored"])", "restored"}};
    for (const auto& [asked, told] : cases) {
        Asking asking;
        CHECK(asking(asked).problem.empty());
        CHECK(asking.canvas.told == told);
    }
}
