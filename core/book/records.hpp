// A book as a storage holds it: texts under keys.
//
//   tank/ID  item/ID  due/ID     as core/book/book.hpp has them, a tank without its slip
//   slip/ID                      the slip of the tank of that id
//   visit/TANK/PLACE             in the order of writing
//   round/day                    the round
//   setting/order                ids of the tanks in their order
//
// Records of other kinds may lie beside these: they are carried along unread.
#pragma once

#include "core/book/gate.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace wetsleeve::record {

struct Record {
    std::string key;
    std::optional<std::string> text{}; // nothing: there is none under this key
    bool operator==(const Record&) const = default;
};

class Records {
  public:
    // Null: there is none.
    const std::string* find(std::string_view key) const;
    // Hands on key and text of those whose key begins so, in the order of their keys.
    template <class Take> void each(std::string_view prefix, Take&& take) const {
        for (auto at = texts_.lower_bound(prefix);
             at != texts_.end() && std::string_view(at->first).starts_with(prefix); ++at)
            take(at->first, at->second);
    }
    void put(std::string key, std::optional<std::string> text);

    // The records that were put since this was last asked, each as it was then.
    std::vector<Record> replaced();

    bool operator==(const Records& other) const { return texts_ == other.texts_; }

  private:
    std::map<std::string, std::string, std::less<>> texts_{};
    std::map<std::string, std::optional<std::string>> replaced_{};
};

// How keys begin.
namespace key {
inline constexpr std::string_view tank = "tank/";
inline constexpr std::string_view slip = "slip/";
inline constexpr std::string_view item = "item/";
inline constexpr std::string_view due = "due/";
inline constexpr std::string_view visit = "visit/";
inline constexpr std::string_view round = "round/day";
inline constexpr std::string_view order = "setting/order";

inline std::string of(std::string_view kind, std::string_view id) {
    return std::string(kind).append(id);
}
inline std::string visits_of(std::string_view tank_id) { return of(visit, tank_id) + "/"; }
// What is under it is part of a book as this; nothing: it is no part of one.
std::optional<Part> part(std::string_view key);
} // namespace key

} // namespace wetsleeve::record
