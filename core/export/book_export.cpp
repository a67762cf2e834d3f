#include "core/export/book_export.hpp"

#include "core/book/checks.hpp"
#include "core/book/entries.hpp"
#include "core/export/csv.hpp"

#include <algorithm>
#include <string>
#include <unordered_map>

namespace wetsleeve::record {

namespace {

std::unordered_map<std::string_view, std::string_view> tank_names(const Book& book) {
    std::unordered_map<std::string_view, std::string_view> names;
    for (const Tank& tank : book.tanks) names.emplace(tank.id, tank.name);
    return names;
}

// ---- iCalendar ----------------------------------------------------------------------------------

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\' || c == ';' || c == ',') out += '\\';
        if (c == '\n') out += "\\n";
        else out += c;
    }
    return out;
}

// A content line: after 75 octets it goes on in the next, which begins with a space; no character
// is split.
void add_line(std::string& to, std::string_view name, std::string_view value) {
    constexpr std::size_t most_octets = 75;
    const std::string line = std::string(name) + std::string(value);
    std::size_t used = 0;
    for (std::size_t i = 0; i < line.size();) {
        std::size_t end = i + 1;
        while (end < line.size() && (static_cast<unsigned char>(line[end]) & 0xc0U) == 0x80) ++end;
        if (used + (end - i) > most_octets) {
            to += "\r\n ";
            used = 1;
        }
        to.append(line, i, end - i);
        used += end - i;
        i = end;
    }
    to += "\r\n";
}

bool is_stamp(std::string_view stamp) {
    if (stamp.size() != 16 || stamp[8] != 'T' || stamp[15] != 'Z') return false;
    for (std::size_t i = 0; i < 15; ++i)
        if (i != 8 && (stamp[i] < '0' || stamp[i] > '9')) return false;
    const std::string day = std::string(stamp.substr(0, 4)) + "-" +
                            std::string(stamp.substr(4, 2)) + "-" + std::string(stamp.substr(6, 2));
    return is_day(day) && stamp.substr(9, 2) < "24" && stamp.substr(11, 2) < "60" &&
           stamp.substr(13, 2) <= "60"; // 60: a leap second
}

} // namespace

std::string visits_csv(const Book& book) {
    const auto names = tank_names(book);
    const Families families(book);
    std::unordered_map<std::string_view, std::string_view> things;
    for (const Item& item : book.shelf) things.emplace(item.id, item.name);
    const auto named = [&](const Entry& entry) -> std::string_view {
        const auto thing = things.find(entry.item);
        return thing == things.end() ? std::string_view(subject(entry)) : thing->second;
    };

    std::string out =
        "visit,day,tank,tank_name,what,quantity,value,unit,measured,corrects,corrected_by\r\n";
    for (std::size_t place = 0; place < book.visits.size(); ++place) {
        const Visit& visit = book.visits[place];
        const auto name = names.find(visit.tank);
        const std::size_t counts = families.stands_for(place);
        for (const Entry& entry : visit.entries)
            out += csv_text(visit.id) + "," + csv_text(visit.day) + "," + csv_text(visit.tank) +
                   "," + csv_text(name == names.end() ? std::string_view() : name->second) + "," +
                   csv_text(word(entry.what)) + "," + csv_text(named(entry)) + "," +
                   (entry.value.has_value() ? csv_number(*entry.value) : "") + "," +
                   csv_text(entry.unit) + "," + csv_text(measured_on(entry, visit)) + "," +
                   csv_text(visit.corrects) + "," +
                   csv_text(counts == place ? std::string_view()
                                            : std::string_view(book.visits[counts].id)) +
                   "\r\n";
    }
    return out;
}

std::string due_ical(const Book& book, std::string_view now, std::string& calendar) {
    if (!is_stamp(now)) return "The time of writing must be given in UTC, as 20260504T120000Z.";
    const auto names = tank_names(book);
    std::string out;
    add_line(out, "BEGIN:", "VCALENDAR");
    add_line(out, "VERSION:", "2.0");
    add_line(out, "PRODID:", "-//Wetsleeve//Due dates//EN");
    for (const Due& due : book.due) {
        std::string day = due.day;
        std::erase(day, '-');
        const auto name = names.find(due.tank);
        add_line(out, "BEGIN:", "VEVENT");
        add_line(out, "UID:", due.id + "@wetsleeve");
        add_line(out, "DTSTAMP:", now);
        add_line(out, "DTSTART;VALUE=DATE:", day);
        add_line(
            out, "SUMMARY:",
            escaped(name == names.end() ? due.what : std::string(name->second) + ": " + due.what));
        if (due.every_days > 0)
            add_line(out, "RRULE:", "FREQ=DAILY;INTERVAL=" + std::to_string(due.every_days));
        add_line(out, "TRANSP:", "TRANSPARENT"); // it takes up no time of the day
        add_line(out, "END:", "VEVENT");
    }
    add_line(out, "END:", "VCALENDAR");
    calendar = std::move(out);
    return {};
}

} // namespace wetsleeve::record
