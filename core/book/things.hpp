// The names by which one thing goes. What is done at a tank is written down under the key of a slot
// ("refill", "water.blend/tap"), under a word that every language has ("ro", "trim"), as a thing of
// the shelf by name or id, or in words typed by hand; and it is planned under any of these, or
// under the title of a line.
#pragma once

#include "core/book/book.hpp"
#include "core/model/session.hpp"

#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace wetsleeve::record {

// Whether what the line answers goes out of a bottle or jar.
bool doses(const Line& line);

class Things {
  public:
    // Knows words, shelf, waters and trims; with a session, the catalogue's slots and lines as
    // well, in English and in the reader's language. The book must stay as it is meanwhile.
    Things(const Book& book, const Style& style);
    Things(const Book& book, const Session& session);

    // Whether both are one thing.
    bool same(std::string_view a, std::string_view b) const;
    // Whether what was written down may be, or hold, what is asked after: a water change is of all
    // its waters, and a dose that a line reckoned may be of anything on the shelf. In doubt it is.
    bool says(std::string_view written, std::string_view asked) const;

    // The same in words to look up: what was written down says what is asked after when they share
    // one.
    using Marks = std::vector<std::string>;
    const Marks& marks_of_written(std::string_view name) const { return known(name).says; }
    const Marks& marks_of_asked(std::string_view name) const { return known(name).asks; }

  private:
    struct Named {
        Marks called{}, asks{}, says{};
    };
    // A slot of a line, or with none the line by its title.
    struct Ref {
        const Line* line;
        const Slot* slot;
    };
    const Named& known(std::string_view name) const;
    Named made(std::string_view name) const;
    const std::vector<Ref>& called_so(const std::string& words) const;
    void learn(const char* name, Ref ref);

    const Style& style_;
    std::vector<const Line*> catalogue_{};
    std::unordered_map<std::string, std::vector<Ref>> refs_{};   // by words in small letters
    std::unordered_map<std::string, std::string> plain_words_{}; // the same to a mark
    std::unordered_map<std::string, Marks> shelf_{};             // by id, and by words
    mutable std::unordered_map<std::string, Named> known_;
};

} // namespace wetsleeve::record
