// The terminal face: every line reckoned from a shell, alone or in batches.
#include "core/book/json.hpp"
#include "core/cli/records.hpp"
#include "core/cli/request.hpp"
#include "core/cli/rounds.hpp"
#include "core/export/schema.hpp"
#include "core/model/words.hpp"
#include "core/page/calls.hpp"
#include "core/page/limits_json.hpp"
#include "core/page/messages_json.hpp"
#include "core/page/view_json.hpp"
#include "core/page/words_json.hpp"
#include "core/registry.hpp"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <iterator>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

namespace wetsleeve::cli {

namespace {

constexpr int wrong_request = 2;

constexpr int unwritten_output = 1;

void print(const std::string& text) { std::fwrite(text.data(), 1, text.size(), stdout); }

int fail(const std::string& problem, bool json) {
    if (json) print(problem_json(problem) + "\n");
    std::fprintf(stderr, "wetsleeve: %s\n", problem.c_str());
    return wrong_request;
}

// ---- lines --------------------------------------------------------------------------------------

std::string describe(const Line& line) {
    std::string text = compose("{0}: {1}\n", {line.about.id, line.about.title});
    for (const std::string_view sentence : line.about.sentences) {
        text += "  ";
        for (const char c : sentence) text += c == '\n' ? std::string("\n  ") : std::string(1, c);
        text += "\n";
    }
    for (const Slot& slot : line.slots) {
        std::string how = slot.answer ? "answer" : "given";
        if (slot.figure()) {
            how = word(slot.kind);
        } else if (slot.kind == Kind::choice) {
            how += ":";
            for (const char* option : slot.options) how += std::string(" “") + option + "”";
        } else {
            const Unit& base = slot.dimension->base();
            how += ", " + show_range(slot, slot.range, base, {});
            if (slot.usual == slot.usual)
                how += ", usually " + show(slot, slot.usual, base, {}, Digits::typed).both();
            if (slot.tolerance.absolute > 0)
                how += ", ±" + show(slot, slot.tolerance.absolute, base, {}, Digits::typed).both();
            if (slot.tolerance.relative > 0)
                how += ", ±" + write_shortest(100 * slot.tolerance.relative, 4, '.') + " %";
            for (const Offer& offer : slot.offers)
                how += compose("{0}{1} {2}",
                               {&offer == slot.offers.data() ? ", or by name: " : " · ", offer.name,
                                show(slot, offer.value, base, {}, Digits::exact).both()});
            if (slot.gives_way.size() > 0) how += ", gives way:";
            for (const char* way : slot.gives_way) how += std::string(" ") + way;
        }
        text += compose("    {0}  {1} ({2})\n", {slot.id, slot.name, how});
    }
    return text;
}

void describe_json(json::Writer& to, const Line& line) {
    to.StartObject();
    json::field(to, "id", line.about.id);
    json::field(to, "title", line.about.title);
    json::field(to, "keywords", line.about.keywords);
    json::key(to, "everyday");
    to.Bool(line.about.everyday);
    const auto texts = [&](const char* name, const auto& all) {
        json::key(to, name);
        to.StartArray();
        for (const char* text : all) json::text(to, text);
        to.EndArray();
    };
    texts("sentences", line.about.sentences);
    if (line.about.variant != nullptr) json::field(to, "variant", line.about.variant);
    texts("formula", line.about.formula);
    texts("assumes", line.about.assumes);
    texts("always", line.about.always);
    json::key(to, "sources");
    to.StartArray();
    for (const Source& source : line.about.sources)
        if (source.key != nullptr) json::text(to, source.citation);
    to.EndArray();
    json::key(to, "slots");
    to.StartArray();
    for (const Slot& slot : line.slots) {
        to.StartObject();
        json::field(to, "id", slot.id);
        json::field(to, "name", slot.name);
        json::field(to, "kind", word(slot.kind));
        json::key(to, "answer");
        to.Bool(slot.answer);
        json::key(to, "travels");
        to.Bool(slot.travels);
        if (slot.kind == Kind::choice) texts("options", slot.options);
        if (!slot.figure() && slot.kind != Kind::choice) {
            json::field(to, "dimension", slot.dimension->name);
            json::key(to, "units");
            to.StartArray();
            for (const Unit& unit : slot.dimension->units) json::text(to, unit.symbol);
            to.EndArray();
            json::field(to, "low", slot.range.low);
            json::field(to, "high", slot.range.high);
            json::field(to, "absolute_tolerance", slot.tolerance.absolute);
            json::field(to, "relative_tolerance", slot.tolerance.relative);
            if (!slot.offers.empty()) {
                json::key(to, "offers");
                to.StartArray();
                for (const Offer& offer : slot.offers) {
                    to.StartArray();
                    json::text(to, offer.name);
                    json::number(to, offer.value);
                    to.EndArray();
                }
                to.EndArray();
            }
        }
        if (!slot.figure()) json::field(to, "usual", slot.usual);
        if (slot.gives_way.size() > 0) texts("gives_way", slot.gives_way);
        to.EndObject();
    }
    to.EndArray();
    to.EndObject();
}

int lines(const std::vector<std::string>& names, bool json) {
    std::vector<const Line*> chosen(all_lines().begin(), all_lines().end());
    if (!names.empty()) {
        chosen.clear();
        for (const std::string& name : names) {
            const Line* line = find_line(name);
            if (line == nullptr)
                return fail(Answer({.line = name, .entries = {}, .style = {}}).problem(), json);
            chosen.push_back(line);
        }
    }
    if (json) {
        print(json::written([&](json::Writer& to) {
                  to.StartArray();
                  for (const Family& family : families()) {
                      const std::vector<const Line*> members = lines_of(family, chosen);
                      if (members.empty()) continue;
                      to.StartObject();
                      json::field(to, "family", family.id);
                      json::field(to, "title", family.title);
                      json::key(to, "lines");
                      to.StartArray();
                      for (const Line* line : members) describe_json(to, *line);
                      to.EndArray();
                      to.EndObject();
                  }
                  to.EndArray();
              }) +
              "\n");
        return 0;
    }
    for (const Family& family : families()) {
        const std::vector<const Line*> members = lines_of(family, chosen);
        if (!members.empty()) print(std::string("== ") + family.title + " ==\n\n");
        for (const Line* line : members) print(describe(*line) + "\n");
    }
    return 0;
}

// ---- reckon -------------------------------------------------------------------------------------

// `style`: of all requests, where they name no other.
int batch(const Style& style) {
    int status = 0;
    std::string text;
    const auto answer_one = [&] {
        if (text.empty()) return;
        Request request;
        request.style = style;
        std::string problem = read_request(text, request);
        if (problem.empty()) {
            const Answer answer(request);
            problem = answer.problem();
            if (problem.empty()) print(answer.json() + "\n");
        }
        if (!problem.empty()) {
            print(problem_json(problem, request.id) + "\n");
            status = wrong_request;
        }
        text.clear();
    };
    for (int c = std::getchar(); c != EOF; c = std::getchar())
        if (c == '\n') answer_one();
        else text += static_cast<char>(c);
    answer_one();
    return status;
}

// ---- books and links ----------------------------------------------------------------------------

// "-" is standard input. Stops once the text is longer than any book.
bool read_file(const std::string& name, std::string& text) {
    std::FILE* file = name == "-" ? stdin : std::fopen(name.c_str(), "rb");
    if (file == nullptr) return false;
    char chunk[65536];
    for (std::size_t n = 1; n > 0 && text.size() <= record::limit::file_bytes;) {
        n = std::fread(chunk, 1, sizeof chunk, file);
        text.append(chunk, n);
    }
    const bool good = std::ferror(file) == 0;
    if (file != stdin) std::fclose(file);
    return good;
}

// In UTC, as a calendar names it.
std::string time_now() {
    const std::time_t now = std::time(nullptr);
    char text[32];
    const std::tm* utc = std::gmtime(&now); // NOLINT(concurrency-mt-unsafe): there is one thread
    return std::string(text, std::strftime(text, sizeof text, "%Y%m%dT%H%M%SZ", utc));
}
// The day that it is here.
std::string today() {
    const std::time_t now = std::time(nullptr);
    char text[32];
    const std::tm* here =
        std::localtime(&now); // NOLINT(concurrency-mt-unsafe): there is one thread
    return std::string(text, std::strftime(text, sizeof text, "%Y-%m-%d", here));
}

std::vector<std::string> ids_in(const std::string& list) {
    std::vector<std::string> ids;
    for (std::size_t at = 0; at <= list.size();) {
        const std::size_t end = std::min(list.find(',', at), list.size());
        ids.push_back(list.substr(at, end - at));
        at = end + 1;
    }
    return ids;
}

int tell(const Said& said) {
    print(said.text);
    return said.problem.empty() ? 0 : fail(said.problem, false);
}

int sound_book(const std::string& text, const std::string& apart) {
    // Nothing is written over, least of all the book itself.
    std::error_code none;
    const std::filesystem::file_status there = std::filesystem::symlink_status(apart, none);
    const bool device = std::filesystem::is_character_file(there);
    if (std::filesystem::exists(there) && !device)
        return fail(compose("“{0}” is there already: name a file that is not.", {apart}), false);
    std::string asides;
    const int status = tell(book(text, asides));
    // Not before the book is out: what is set aside stands nowhere else.
    if (status != 0 || std::fflush(stdout) != 0) return status;
    std::FILE* file = std::fopen(apart.c_str(), device ? "wb" : "wbx");
    bool good = file != nullptr;
    if (good) good = std::fwrite(asides.data(), 1, asides.size(), file) == asides.size();
    if (file != nullptr) good = std::fclose(file) == 0 && good;
    if (good) return 0;
    fail(compose("“{0}” cannot be written.", {apart}), false);
    return unwritten_output;
}

int records(const std::vector<std::string>& args) {
    const std::string& command = args[0];
    HandoverRequest request;
    std::string name;
    std::string list;
    std::string now;
    std::string apart;
    bool csv = false;
    bool calendar = false;
    bool json = false;
    for (std::size_t i = 1; i < args.size(); ++i) {
        const std::string& arg = args[i];
        const bool making = command == "handover" && i + 1 < args.size();
        if (arg == "--csv" && command == "visits") csv = true;
        else if (arg == "--ical" && command == "visits") calendar = true;
        else if (arg == "--now" && command == "visits" && i + 1 < args.size()) now = args[++i];
        else if (arg == "--set-aside" && command == "book" && i + 1 < args.size())
            apart = args[++i];
        else if (arg == "--json" && command == "opened") json = true;
        else if (arg == "--locked" && command == "handover") request.locked = true;
        else if (arg == "--base" && making) request.base = args[++i];
        else if (arg == "--shop" && making) request.shop = args[++i];
        else if (arg == "--contact" && making) request.contact = args[++i];
        else if (arg == "--list" && making) list = args[++i];
        else if (arg == "--lines" && making) request.lines = ids_in(args[++i]);
        else if (arg == "--shelf" && making) {
            request.whole_shelf = false;
            if (args[++i] != "none") request.shelf = ids_in(args[i]);
        } else if (arg.starts_with("--")) {
            return fail(
                compose("“{0}” is no option of {1}: see wetsleeve {1} --help.", {arg, command}),
                false);
        } else if (name.empty()) {
            name = arg;
        } else {
            return fail(compose("{0} takes one {1}: “{2}” is one too many.",
                                {command, command == "opened" ? "link" : "file", arg}),
                        false);
        }
    }
    if (name.empty())
        return fail(compose("{0} needs a {1}: see wetsleeve {0} --help.",
                            {command, command == "opened" ? "link" : "file"}),
                    false);
    if (command == "opened") return tell(opened(name, json));
    std::string text;
    if (!read_file(name, text)) return fail(compose("“{0}” cannot be read.", {name}), false);
    if (command == "book") return apart.empty() ? tell(book(text)) : sound_book(text, apart);
    if (command == "visits") {
        if (csv == calendar) return fail("visits needs --csv or --ical, one of them.", false);
        return tell(visits(text, calendar, now.empty() ? time_now() : now));
    }
    if (!list.empty() && !read_file(list, request.list))
        return fail(compose("“{0}” cannot be read.", {list}), false);
    return tell(handover_links(text, request));
}

int rounds(const std::vector<std::string>& args) {
    const std::string& command = args[0];
    Options options;
    std::vector<std::string> names;
    for (std::size_t i = 1; i < args.size(); ++i) {
        const std::string& arg = args[i];
        if (!arg.starts_with("--")) {
            names.push_back(arg);
            continue;
        }
        if (!knows_option(command, arg))
            return fail(
                compose("“{0}” is no option of {1}: see wetsleeve {1} --help.", {arg, command}),
                false);
        if (takes_value(arg) && i + 1 == args.size())
            return fail(compose("{0} needs a value: see wetsleeve {1} --help.", {arg, command}),
                        false);
        options.emplace_back(arg, takes_value(arg) ? args[++i] : "");
    }
    const std::size_t wanted = command == "history" ? 3 : command == "build" ? 2 : 1;
    if (names.size() != wanted)
        return fail(wanted == 3   ? "history takes a book, a tank's id and a quantity."
                    : wanted == 2 ? "build takes a book and a tank's id."
                                  : compose("{0} takes one book.", {command}),
                    false);
    std::string text;
    if (!read_file(names[0], text))
        return fail(compose("“{0}” cannot be read.", {names[0]}), false);
    if (command == "round") return tell(round_of(text, options, today()));
    if (command == "due") return tell(due_of(text, options, today(), time_now()));
    if (command == "build") return tell(build_of(text, names[1], options));
    return tell(history_of(text, names[1], names[2], options));
}

int reckoning(const std::vector<std::string>& args) {
    Request request;
    bool json = false;
    bool working = false;
    bool batched = false;
    std::vector<std::string> names;
    std::string language; // the text of its file
    for (std::size_t i = 1; i < args.size(); ++i) {
        const std::string& arg = args[i];
        const bool more = i + 1 < args.size();
        if (arg == "--json") json = true;
        else if (arg == "--working") working = true;
        else if (arg == "--batch") batched = true;
        else if (arg == "--units" && more) {
            ++i;
            if (args[i] == "us") request.style.system = System::us;
            else if (args[i] == "imperial") request.style.system = System::imperial;
            else if (args[i] != "metric")
                return fail("--units can be metric, us or imperial.", json);
        } else if (arg == "--decimal" && more) {
            ++i;
            if (args[i] != "." && args[i] != ",") return fail("--decimal can be . or ,.", json);
            request.style.decimal = args[i][0];
        } else if (arg == "--messages" && more) {
            ++i;
            if (!read_file(args[i], language))
                return fail(compose("“{0}” cannot be read.", {args[i]}), json);
        } else if (arg.starts_with("--")) {
            return fail(
                compose("“{0}” is no option here: see wetsleeve {1} --help.", {arg, args[0]}),
                json);
        } else if (const std::size_t equals = arg.find('='); equals != std::string::npos) {
            if (equals + 1 == arg.size())
                return fail(compose("“{0}” gives no value: write it like share=50%.", {arg}), json);
            request.entries.push_back({arg.substr(0, equals), arg.substr(equals + 1), blank});
        } else {
            names.push_back(arg);
        }
    }
    Messages messages;
    if (!language.empty()) {
        const std::string problem = read_messages(language, messages);
        if (!problem.empty()) return fail(problem, json);
        request.style.messages = &messages;
    }
    if (args[0] == "lines") return lines(names, json);
    if (args[0] == "words") {
        print(words_json(all_lines(), request.style.messages) + "\n");
        return 0;
    }
    if (args[0] == "messages") {
        std::string problem;
        print(messages_rows(language.empty() ? "{}" : language, problem));
        return 0;
    }
    if (batched) return batch(request.style);
    if (names.size() != 1)
        return fail("reckon takes one line, like: wetsleeve reckon water.change share=50% …", json);
    request.line = names[0];
    const Answer answer(request);
    if (!answer.problem().empty()) return fail(answer.problem(), json);
    if (json) print(answer.json() + "\n");
    else print(answer.sentences() + (working ? "\n" + answer.working() : ""));
    return 0;
}

// ---- the commands -------------------------------------------------------------------------------

int schema(const std::vector<std::string>& args) {
    const std::string of = args.size() == 2 ? args[1] : "";
    if (args.size() > 1 && of != "calls" && of != "forms" && of != "limits")
        return fail("“schema” takes “calls”, “forms”, “limits”, or nothing more.", false);
    print((of == "calls"    ? page::calls_json()
           : of == "forms"  ? record::forms_json()
           : of == "limits" ? record::limits_json()
                            : record::book_schema()) +
          "\n");
    return 0;
}

struct Command {
    const char* word;
    const char* usage;
    int (*run)(const std::vector<std::string>& args);
};

constexpr Command commands[] = {
    {"lines", R"(
  wetsleeve lines [LINE] [--json]         every line and its slots
)",
     reckoning},
    {"words",
     R"(  wetsleeve words                         formula, assumptions and sources of every line, as JSON
)",
     reckoning},
    {"messages",
     R"(  wetsleeve messages                      a language's messages, as the page takes them
)",
     reckoning},
    {"reckon",
     R"(  wetsleeve reckon LINE SLOT=VALUE …      answers in sentences; type an answer to see what gives way
      --json                              values in base units at full precision, ± and remarks
      --working                           formula, numbers, assumptions and sources
      --units metric|us|imperial          units to answer in, and what "gal" means
      --decimal .|,                       decimal mark to read and write
      --messages FILE                     the language to answer in: presets/messages/*.json, or - for
                                          standard input; also for words and messages
  wetsleeve reckon --batch                one JSON request a line in, one JSON answer a line out:
      {"line": "water.change", "given": {"share": 50, "net_water": "287 L"}}
      numbers are in base units; optional: "system", "decimal", and an "id" that the answer repeats
)",
     reckoning},
    {"book", R"(
  wetsleeve book FILE                     reads a book, or a kept slip, and writes it as a book
      --set-aside FILE                    leaves out what cannot be kept, and writes that to this file:
                                          a JSON list of what it is, why, and its text
)",
     records},
    {"schema", R"(  wetsleeve schema                        the form of a book, as a JSON Schema
  wetsleeve schema calls                  what the page may ask of the core, as JSON
  wetsleeve schema forms                  what the page asks the reader for, as JSON
  wetsleeve schema limits                 what else the page holds to, as JSON
)",
     schema},
    {"visits", R"(  wetsleeve visits FILE --csv             its visits, a row for each entry
  wetsleeve visits FILE --ical            its due dates as a calendar
      --now 20260504T120000Z              the time of writing that the calendar names
)",
     records},
    {"handover", R"(  wetsleeve handover --base URL FILE      a link for each tank of the book
      --list FILE                         a link a row: tanks' ids with blanks between
      --shop TEXT --contact TEXT          who hands over, and how to reach them
      --lines ID,ID…                      the lines to show; all unless told
      --shelf ID,ID…|none                 what of the shelf goes along; all of it unless told
      --locked                            ask before numbers are changed
)",
     records},
    {"opened", R"(  wetsleeve opened LINK [--json]          what a link holds
)",
     records},
    {"round",
     R"(
  wetsleeve round BOOK                    a day's round: loads, lifts, store, shelf, what to leave out; the
                                          book's own, but for what is told here
      --stops ID,ID…                      the tanks in the order to drive
      --vessel 6x25L/1.3kg                what the van carries water in: number, size, weight when empty;
                                          again for each kind; 1x200L/9kg/fixed is not lifted
      --payload KG --gear KG              of the van; tools and people in it
      --lift KG --standard TEXT           limit for one lift, and whose it is; 23 kg unless told
      --stored L --capacity L             RO water in store now, and what the store holds
      --output L/h --rated-at °C --feed-temperature °C
                                          what the membrane makes, at which temperature; the tap water's
      --until TIME --leave 08:00          time to departure, and when that is
      --travel TIME --work TIME --back TIME --day-length TIME
                                          of each stop; to go back and fill; the longest day
      --done ID=52L --loaded L            a stop that is done, with the RO water it took; what the van left
                                          with
      --day 2026-05-04                    reckon as on this day; today unless told
)",
     rounds},
    {"history",
     R"(  wetsleeve history BOOK TANK QUANTITY    uptake a day from readings, doses and changes; the next reading
      --adds ID=0.05                      what a millilitre or gram of a thing of the shelf adds, mg/L
      --fresh mg/L --net-water L          the new water's level; what the tank holds
      --band 5,20 --dose mg/L/d           the band to keep, and what is dosed now
      --since 2026-01-01                  readings to count
)",
     rounds},
    {"due",
     R"(  wetsleeve due BOOK [--ical]             all that is due, with the reason; or as a calendar
      --lead DAYS                         time for a new bottle to come; 7 unless told
      --day 2026-05-04                    reckon as on this day; today unless told
      --now 20260504T120000Z              the time of writing that the calendar names
)",
     rounds},
    {"build",
     R"(  wetsleeve build BOOK TANK [--csv]       a new tank: what to get, and the lines in the order of building;
                                          or what to get as a table
)",
     rounds}};

const Command* command_of(std::string_view word) {
    const auto* const found = std::find_if(std::begin(commands), std::end(commands),
                                           [&](const Command& each) { return each.word == word; });
    return found == std::end(commands) ? nullptr : found;
}

int no_command(const std::string& word, bool json) {
    std::string all;
    for (const Command& each : commands) {
        if (&each != commands) all += &each + 1 == std::end(commands) ? " or " : ", ";
        all += each.word;
    }
    return fail(compose("“{0}” is no command: it can be {1}.", {word, all}), json);
}

int whole_usage() {
    print("wetsleeve reckons for planted aquariums.\n");
    for (const Command& each : commands) print(each.usage);
    print(R"(
  wetsleeve help COMMAND                  of one command alone; also wetsleeve COMMAND --help
  wetsleeve --version

FILE and BOOK may be - for standard input. A wrong name, unit, number or range ends with status 2 and one
sentence, output that cannot be written with status 1.
)");
    return 0;
}

int usage_of(const Command& command) {
    const std::string_view usage = command.usage;
    print(std::string(usage.substr(usage.find_first_not_of('\n'))));
    return 0;
}

int run(const std::vector<std::string>& args) {
    const auto has = [&](const char* option) {
        return std::find(args.begin(), args.end(), option) != args.end();
    };
    if (args.empty()) {
        whole_usage();
        return wrong_request;
    }
    if (args[0] == "--version") {
        print("wetsleeve " WETSLEEVE_VERSION "\n");
        return 0;
    }
    const bool help = args[0] == "help" || args[0] == "--help";
    if (help && args.size() == 1) return whole_usage();
    const Command* command = command_of(args[help ? 1 : 0]);
    if (command == nullptr) return no_command(args[help ? 1 : 0], has("--json"));
    return help || has("--help") ? usage_of(*command) : command->run(args);
}

// Output waits in memory: a full disk or a closed end may show as late as here.
int finish(int status) {
    const bool flushed = std::fflush(stdout) == 0 && std::ferror(stdout) == 0;
    // What was closed from the beginning has lost nothing when there was nothing to write.
    if (flushed && (std::fclose(stdout) == 0 || errno == EBADF)) return status;
    std::fputs("wetsleeve: The output could not be written: make room for it, or write it to "
               "another place.\n",
               stderr);
    return unwritten_output;
}

} // namespace

} // namespace wetsleeve::cli

int main(int argc, char** argv) {
    using namespace wetsleeve::cli;
    return finish(run(std::vector<std::string>(argv + 1, argv + argc)));
}
