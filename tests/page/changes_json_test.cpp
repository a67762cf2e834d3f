// Changes as the page asks for them: what becomes of its records, and whether there is room.
#include "core/page/changes_json.hpp"

#include "core/book/book.hpp"

#include <catch2/catch_test_macros.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>

namespace wetsleeve::record {

namespace {

using Catch::Matchers::ContainsSubstring;

std::string asked(const std::string& text) {
    std::string json;
    const std::string problem = change_json(text, {}, json);
    return problem.empty() ? json : "!" + problem;
}
const std::string tank = R"({"key":"tank/t1","text":"{\"id\":\"t1\",\"name\":\"A\"}"})";
const std::string bottle =
    R"({"key":"item/b1","text":"{\"id\":\"b1\",\"name\":\"B\",\"kind\":\"bottle\",\"amount\":50,\"unit\":\"mL\"}"})";

} // namespace

TEST_CASE("a change gives the records that it changes, or why not") {
    CHECK(
        asked(
            R"({"records":[)" + tank +
            R"(],"change":{"at":1,"steps":[{"do":"set","key":"tank/t1","fields":{"name":"B"}}]}})") ==
        R"({"puts":[{"key":"tank/t1","text":"{\"id\":\"t1\",\"name\":\"B\"}"}],"why":""})");
    CHECK(
        asked(
            R"({"records":[)" + tank +
            R"(],"change":{"at":1,"steps":[{"do":"set","key":"tank/t1","fields":{"name":""}}]}})") ==
        R"({"puts":[],"why":"The name of a tank is empty: give it one."})");
    CHECK(asked(R"({"records":[)" + bottle +
                R"(],"change":{"at":1,"steps":[{"do":"remove","key":"item/b1"}]}})") ==
          R"({"puts":[{"key":"item/b1","text":null}],"why":""})");
    for (const char* wrong :
         {"", "[]", "{}", R"({"change":7})", R"({"records":7,"change":{"at":1,"steps":[]}})",
          R"({"records":[{}],"change":{"at":1,"steps":[]}})",
          R"({"since":[7],"change":{"at":1,"steps":[]}})", R"({"change":{"at":1,"steps":7}})"})
        CHECK_THAT(asked(wrong), ContainsSubstring("!What is to be changed"));
}

TEST_CASE("to take a change back is told with what came since") {
    const std::string visit =
        R"({"change":{"at":5,"steps":[{"do":"visit","key":"visit/t1/000000000005-0","text":"{\"id\":\"v1\",\"tank\":\"t1\",\"day\":\"2026-05-04\",\"entries\":[{\"what\":\"dosed\",\"item\":\"b1\",\"value\":10,\"unit\":\"mL\"}]}"}]},)"
        R"("before":[{"key":"visit/t1/000000000005-0","text":null},{"key":"item/b1","text":"{\"id\":\"b1\",\"name\":\"B\",\"kind\":\"bottle\",\"amount\":60,\"unit\":\"mL\"}"}]})";
    const std::string renamed =
        R"({"change":{"at":6,"steps":[{"do":"set","key":"item/b1","fields":{"name":"B"}}]},)"
        R"("before":[{"key":"item/b1","text":"{\"id\":\"b1\",\"name\":\"old\",\"kind\":\"bottle\",\"amount\":50,\"unit\":\"mL\"}"}]})";
    const std::string records =
        R"({"records":[)" + tank + "," + bottle +
        R"(,{"key":"visit/t1/000000000005-0","text":"{\"id\":\"v1\",\"tank\":\"t1\",\"day\":\"2026-05-04\",\"entries\":[]}"}],)";
    // The name that it got since stays.
    CHECK(
        asked(records + R"("since":[)" + visit + "," + renamed +
              R"(],"change":{"at":7,"back":5}})") ==
        R"({"puts":[{"key":"item/b1","text":"{\"id\":\"b1\",\"name\":\"B\",\"kind\":\"bottle\",\"amount\":60,\"unit\":\"mL\"}"},)"
        R"({"key":"visit/t1/000000000005-0","text":null}],"why":""})");
    CHECK_THAT(asked(records + R"("since":[],"change":{"at":7,"back":5}})"),
               ContainsSubstring("changed since then"));
}

TEST_CASE("a book takes no more than its reader does, and what does not grow is let in") {
    const auto room = [](const char* there, const std::string& steps) {
        return asked(R"({"there":)" + std::string(there) + R"(,"records":[)" + tank +
                     R"(],"change":{"at":1,"steps":[)" + steps + "]}}");
    };
    const std::string more =
        R"({"do":"add","key":"tank/t2","text":"{\"id\":\"t2\",\"name\":\"B\"}"})";
    CHECK_THAT(room(R"({"tanks":5000})", more), ContainsSubstring("room for 5000 tanks"));
    CHECK_THAT(room(R"({"tanks":5000})", more), ContainsSubstring(R"("puts":[])"));
    CHECK_THAT(room(R"({"tanks":4999})", more), ContainsSubstring(R"("why":"")"));
    const std::string named = R"({"do":"set","key":"tank/t1","fields":{"name":"C"}})";
    CHECK_THAT(room(R"({"tanks":6000,"bytes":99999999})", named), ContainsSubstring(R"("why":"")"));
    const std::string note =
        R"({"do":"set","key":"tank/t1","fields":{"note":")" + std::string(2000, 'x') + R"("}})";
    CHECK_THAT(room(R"({"bytes":67108863})", note), ContainsSubstring("room for 64 MB"));
    CHECK_THAT(room(R"({"bytes":60000000})", note), ContainsSubstring(R"("why":"")"));
}

} // namespace wetsleeve::record
