#include "core/page/late_calls.hpp"

#include "core/answers/build_list.hpp"
#include "core/answers/rounds.hpp"
#include "core/answers/visit.hpp"
#include "core/book/book.hpp"
#include "core/book/fields.hpp"
#include "core/book/gate.hpp"
#include "core/book/json.hpp"
#include "core/export/book_export.hpp"
#include "core/link/handover.hpp"
#include "core/link/meeting.hpp"
#include "core/page/changes_json.hpp"
#include "core/page/history_json.hpp"
#include "core/page/merge_json.hpp"
#include "core/page/reply.hpp"
#include "core/page/rounds_json.hpp"
#include "core/page/view_json.hpp"
#include "core/registry.hpp"

#include <string>
#include <utility>

namespace wetsleeve::page::late {

using namespace record;

namespace {

constexpr std::string_view digits = "0123456789abcdef";

std::string hex(std::string_view bytes) {
    std::string text;
    for (const char c : bytes) {
        text += digits[static_cast<unsigned char>(c) >> 4U];
        text += digits[static_cast<unsigned char>(c) & 15U];
    }
    return text;
}
// The page's own script wrote it.
std::string unhex(std::string_view text) {
    std::string bytes;
    for (std::size_t i = 0; i + 1 < text.size(); i += 2)
        bytes += static_cast<char>(digits.find(text[i]) * 16 + digits.find(text[i + 1]));
    return bytes;
}

// Reads the book and replies what `work` makes of it.
template <class Work> Reply of_book(Text text, Work&& work) {
    Book book;
    std::string problem = read_what_stands(text, book);
    return problem.empty() ? reply(work(book)) : refused(std::move(problem));
}
// Of a function that makes JSON, or a text, and may refuse.
template <class Make> Reply json_by(Make&& make) {
    std::string json;
    std::string problem = make(json);
    return problem.empty() ? reply(Json{std::move(json)}) : refused(std::move(problem));
}
template <class Make> Reply text_by(Make&& make) {
    std::string text;
    std::string problem = make(text);
    return problem.empty() ? reply(text) : refused(std::move(problem));
}
template <class Write> Json json_of(Write&& write) {
    return {json::written(std::forward<Write>(write))};
}

} // namespace

Reply read_book(Page&, Text text) {
    return json_by([&](std::string& json) { return read_book_json(text, json); });
}
Reply gate(Page&, Text puts) {
    return json_by([&](std::string& json) { return gate_json(puts, json); });
}
Reply change(Page& page, Text asked) {
    return json_by(
        [&](std::string& json) { return change_json(asked, page.session.style(), json); });
}
Reply preview(Page&, Text ours, Text theirs) {
    return json_by([&](std::string& json) { return preview_json(ours, theirs, json); });
}
Reply merge(Page& page, Text ours, Text theirs, bool take_theirs) {
    return json_by([&](std::string& json) {
        return merge_json(ours, theirs, take_theirs ? Changed::take_theirs : Changed::keep_ours,
                          page.session.style(), json);
    });
}

Reply visits_csv(Page&, Text book) {
    return of_book(book, [](const Book& read) { return record::visits_csv(read); });
}
Reply due_calendar(Page& page, Text book, Text today, Text now) {
    return text_by([&](std::string& calendar) {
        Book read;
        std::string problem = read_what_stands(book, read);
        if (!problem.empty()) return problem;
        return record::due_calendar(read, round::read_day(today).value_or(round::first_day),
                                    usual_lead, now, page.session.style(), calendar);
    });
}

Reply history(Page& page, Text book, Text tank, Text quantity, Text since) {
    return json_by([&](std::string& json) {
        return history_json(page.session, book, tank, quantity, since, json);
    });
}
Reply due(Page& page, Text book, Text today) {
    return json_by([&](std::string& json) { return due_json(page.session, book, today, json); });
}
Reply due_done(Page& page, Text book, Text id, Text today) {
    return json_by(
        [&](std::string& json) { return done_json(page.session, book, id, today, json); });
}
Reply look_over(Page& page, Text book, Text visit) {
    return json_by(
        [&](std::string& json) { return visit_check_json(page.session, book, visit, json); });
}

Reply corrected(Page&, Text book) {
    return of_book(book, [](const Book& read) {
        const Families families(read);
        return json_of([&](json::Writer& to) {
            to.StartArray();
            for (const Visit& visit : read.visits) {
                const Visit* counts = families.of(visit.id);
                if (counts->id == visit.id) continue;
                to.StartObject();
                json::field(to, "visit", visit.id);
                json::field(to, "by", counts->id);
                to.EndObject();
            }
            to.EndArray();
        });
    });
}

Reply plan_round(Page& page, Text book) {
    return of_book(book, [&](const Book& read) {
        return Json{round_json(read, all_lines(), page.session.style())};
    });
}
Reply begin_round(Page& page, Text book) {
    return of_book(book, [&](const Book& read) {
        return Json{begun_json(read, all_lines(), page.session.style())};
    });
}
Reply left(Page& page, Text book) {
    return of_book(book, [&](const Book& read) {
        if (read.visits.empty()) return Json{"null"};
        Book before = read;
        before.visits.pop_back();
        return Json{left_json(before, read.visits.back(), all_lines(), page.session.style())};
    });
}
Reply due_tanks(Page& page, Text book, Text day, int days_after) {
    return of_book(book, [&](const Book& read) {
        return Json{due_tanks_json(read, day, days_after, page.session.style())};
    });
}

Reply visit_entries(Page& page) {
    return reply(json_of([&](json::Writer& to) {
        to.StartArray();
        for (const Noted& noted : record::visit_entries(page.session)) {
            to.StartObject();
            json::key(to, "entry");
            record::write(to, noted.entry);
            if (noted.day_unknown) {
                json::key(to, "day_unknown");
                to.Bool(true);
            }
            to.EndObject();
        }
        to.EndArray();
    }));
}

Reply build(Page& page) {
    const BuildList list = build_list(page.session);
    return reply(json_of([&](json::Writer& to) {
        to.StartObject();
        json::key(to, "steps");
        to.StartArray();
        for (const BuildStep& step : list.steps) {
            to.StartObject();
            json::field(to, "line", step.line);
            json::field(to, "title", step.title);
            json::field(to, "standing", word(step.standing));
            json::field(to, "sentence", step.sentence);
            json::field(to, "trouble", step.trouble);
            json::key(to, "blank");
            to.StartArray();
            for (const std::string& slot : step.blank) json::text(to, slot);
            to.EndArray();
            write_remarks(to, step.cautions);
            to.EndObject();
        }
        to.EndArray();
        json::key(to, "wares");
        to.StartArray();
        for (const Ware& ware : list.wares) {
            to.StartObject();
            json::field(to, "line", ware.line);
            json::field(to, "what", ware.what);
            json::field(to, "amount", ware.number);
            json::field(to, "unit", ware.unit);
            json::field(to, "details", ware.details);
            to.EndObject();
        }
        to.EndArray();
        to.EndObject();
    }));
}
Reply build_text(Page& page, Text tank) {
    return reply(record::build_text(page.session, build_list(page.session), tank));
}
Reply build_csv(Page& page) {
    return reply(record::build_csv(page.session, build_list(page.session)));
}

Reply hand_over(Page&, Text book) {
    return text_by([&](std::string& text) {
        Handover handover;
        std::string bytes;
        std::string problem = handover_from_book(book, handover);
        if (problem.empty()) problem = write_handover(handover, all_lines(), bytes);
        text = hex(bytes);
        return problem;
    });
}
Reply opened(Page&, Text bytes) {
    Handover handover;
    std::string problem = read_handover(unhex(bytes), all_lines(), handover);
    return problem.empty() ? reply(Json{handover_as_book(handover)}) : refused(std::move(problem));
}
Reply meetings(Page& page, Text ours, Text handed) {
    return of_book(ours, [&](const Book& read) {
        Handover handover;
        // It was made of a link a moment ago.
        (void)handover_from_book(handed, handover);
        return json_of([&](json::Writer& to) {
            to.StartArray();
            for (const Meeting& meeting :
                 record::meetings(handover, read.tanks, all_lines(), page.session.style())) {
                to.StartObject();
                json::key(to, "handed");
                to.Uint64(meeting.handed);
                json::field(to, "ours", meeting.ours);
                json::key(to, "differs");
                to.StartArray();
                for (const std::string& sentence : meeting.differs) json::text(to, sentence);
                to.EndArray();
                to.EndObject();
            }
            to.EndArray();
        });
    });
}
Reply wrap(Page&, Text compressed) {
    return text_by(
        [&](std::string& fragment) { return write_fragment(unhex(compressed), fragment); });
}
Reply unwrap(Page&, Text link) {
    return text_by([&](std::string& text) {
        std::string compressed;
        std::string problem = read_fragment(link, compressed);
        text = hex(compressed);
        return problem;
    });
}
Reply damaged_link(Page&) { return reply(std::string_view(record::damaged_link)); }
Reply too_long_link(Page&) { return reply(std::string_view(record::too_long_link)); }

} // namespace wetsleeve::page::late
