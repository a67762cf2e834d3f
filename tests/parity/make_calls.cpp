// What the page asks of its core (core/page/calls.hpp), and what the native core answers: values
// typed at random into every line, kept and taken up again, typed over and read in other units;
// then all that is asked of a book.
//
//   make_calls CALLS ANSWERS BOOK…    writes the first two, a call and an answer a row
#include "core/book/json.hpp"
#include "core/page/calls.hpp"
#include "core/registry.hpp"
#include "tests/book/random_books.hpp"
#include "tests/support.hpp"

#include <cmath>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>
#include <type_traits>

namespace {

using namespace wetsleeve;

struct NoCanvas final : page::Canvas {
    bool start() override { return false; }
    void resize(double, double, double, double, double, double, double) override {}
    void look(int, std::string_view, double, bool, bool) override {}
    void tank(std::string_view, double) override {}
    std::string tank_place() override { return {}; }
    void find(std::string_view) override {}
    void languages(std::string_view) override {}
    void pointer(int, int, double, double, double) override {}
    void wheel(double, double) override {}
    bool key(std::string_view, bool) override { return false; }
    bool frame(double) override { return false; }
    void restored() override {}
    std::string wish() override { return {}; }
    std::string targets() override { return "[]"; }
    std::string tightest() override { return {}; }
};

class Asker {
  public:
    Asker(const char* calls, const char* answers) : calls_(calls), answers_(answers) {}

    Session session{all_lines(), everyday_lines()};

    template <class... Takes> std::string operator()(const char* name, const Takes&... takes) {
        const std::string asked = json::written([&](json::Writer& to) {
            to.StartArray();
            json::text(to, name);
            (put(to, takes), ...);
            to.EndArray();
        });
        page::Page page{session, canvas_};
        const page::Reply reply = page::ask(page, asked);
        calls_ << asked << '\n';
        answers_ << (reply.problem.empty()
                         ? R"({"line":")" + std::string(name) + R"(","answer":)" + reply.json + "}"
                         : json::written([&](json::Writer& to) {
                               to.StartObject();
                               json::field(to, "line", name);
                               json::field(to, "problem", reply.problem);
                               to.EndObject();
                           }))
                 << '\n';
        return reply.problem.empty() ? reply.json : std::string();
    }
    bool written() {
        return static_cast<bool>(calls_.flush()) && static_cast<bool>(answers_.flush());
    }

  private:
    template <class Take> static void put(json::Writer& to, const Take& take) {
        if constexpr (std::is_same_v<Take, bool>) to.Bool(take);
        else if constexpr (std::is_integral_v<Take>) to.Int(static_cast<int>(take));
        else json::text(to, take);
    }

    std::ofstream calls_, answers_;
    NoCanvas canvas_;
};

void ask_line(Asker& ask, const Line& line, test::Dice& dice) {
    const bool is_there = ask.session.slip().find_line(line.about.id) != Slip::none;
    if (!is_there) ask("choose", line.about.id, true);
    const std::size_t place = ask.session.slip().find_line(line.about.id);
    const auto type = [&](std::size_t slot, double value) {
        const Dimension* dimension = line.slots[slot].dimension;
        ask("enter", place, slot,
            write_shortest(value, 5, '.') +
                (dimension == nullptr ? "" : std::string(" ") + dimension->base().symbol));
    };
    const auto given = test::roll_givens(line, dice);
    for (std::size_t s = 0; s < line.givens; ++s)
        if (line.slots[s].kind == Kind::number) type(s, given[s]);
    ask("state");
    const std::size_t over = line.givens + dice.below(line.slots.size() - line.givens);
    if (const double value = ask.session.view(place).slots[over].value;
        std::isfinite(value) && line.slots[over].kind == Kind::number) {
        type(over, value * (0.5 + dice.unit()));
        if (const Dimension* dimension = line.slots[over].dimension; dimension != nullptr)
            ask("show_in", place, over,
                dimension->units[dice.below(dimension->units.size())].symbol);
        ask("state");
    }
    const std::string kept = ask("save");
    ask("clear");
    ask("load", kept);
    if (!is_there) ask("choose", line.about.id, false);
}

void ask_book(Asker& ask, const std::string& book, const std::string& other) {
    constexpr const char* today = "2026-05-04";
    ask("read_book", book);
    ask("preview", book, other);
    ask("merge", book, other, true);
    ask("visits_csv", book);
    ask("due_calendar", book, today, "20260504T120000Z");
    ask("due", book, today);
    ask("due_tanks", book, today, 14);
    ask("corrected", book);
    ask("plan_round", book);
    ask("begin_round", book);
    ask("opened", ask("hand_over", book));
    rapidjson::Document document;
    if (!json::parse(document, book)) return;
    if (const json::Value* tanks = json::find(document, "tanks"); tanks != nullptr)
        for (const json::Value& tank : tanks->GetArray())
            for (const char* quantity : {"nitrate", "phosphate"})
                ask("history", book, json::view(*json::find(tank, "id")), quantity, "");
}

std::string file(const char* path) {
    std::ifstream from(path);
    return {std::istreambuf_iterator<char>(from), {}};
}

} // namespace

int main(int argc, char** argv) {
    if (argc < 4) {
        std::fputs("usage: make_calls CALLS ANSWERS BOOK…\n", stderr);
        return 2;
    }
    Asker ask(argv[1], argv[2]);
    test::Dice dice(9);
    ask("offer");
    ask("set_today", "2026-05-04");
    for (const Line* line : all_lines()) ask_line(ask, *line, dice);
    ask("build");
    ask("build_text", "Front window");
    ask("build_csv");
    ask("visit_entries");
    std::string before = R"({"version":2,"tanks":[]})";
    const auto ask_next = [&](const std::string& book) {
        ask_book(ask, book, before);
        before = book;
    };
    for (int i = 3; i < argc; ++i) ask_next(file(argv[i]));
    test::Maker make(10);
    for (int i = 0; i < 20; ++i) ask_next(write_book(make.book()));
    return ask.written() ? 0 : 1;
}
