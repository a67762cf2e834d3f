// The words of a language. Each English text of the program is its own key: where a language has
// nothing for it, the English stands.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve {

class Messages {
  public:
    // Takes rows of key and text, a tab between them, as `row` writes them. False when a row is
    // none; the rows before it are taken.
    bool add(std::string_view rows);
    void add(std::string_view english, std::string_view text);

    // What to say for `english`; good until more is added.
    const char* say(const char* english) const;

    std::size_t size() const { return entries_.size(); }

    // 32 bits of an English text (FNV-1a), so that a language's file need not hold the English
    // too. tests/messages.py refuses two texts of one key.
    static std::uint32_t key(std::string_view english);
    static std::string row(std::string_view english, std::string_view text);

  private:
    struct Entry {
        std::uint32_t key;
        std::uint32_t at; // in texts_
    };
    static bool before(const Entry& a, std::uint32_t key);
    void put(std::uint32_t key, std::string_view text,
             bool marked); // marked: "\\n" is a line's end

    std::string texts_;          // one behind the other, each with a NUL at its end
    std::vector<Entry> entries_; // sorted by key
};

} // namespace wetsleeve
