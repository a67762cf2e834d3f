// Two states of one thing put together, field by field: what only one of them has is kept, and
// where both have one and they differ, one gives way.
#pragma once

#include "core/book/book.hpp"
#include "core/book/merge.hpp"
#include "core/book/tables.hpp"

#include <string>
#include <unordered_map>
#include <vector>

namespace wetsleeve::record {

class Meld {
  public:
    explicit Meld(Changed changed) : changed_(changed) {}

    bool gave_way = false; // something did: of theirs, or with take_theirs of ours
    bool takes_theirs() const { return changed_ == Changed::take_theirs; }

    // Of what each of them has.
    template <class T> void differ(T& ours, const T& theirs) {
        if (ours == theirs) return;
        gave_way = true;
        if (takes_theirs()) ours = theirs;
    }
    // Of what may be left out.
    template <class T> void field(T& ours, const T& theirs, const T& none = T()) {
        if (theirs == none) return;
        if (ours == none) ours = theirs;
        else differ(ours, theirs);
    }
    // What goes by a key: ours first, in our order. Of those of one key the first is put together
    // with the first, the second with the second.
    template <class T, class Key, class Both>
    void list(std::vector<T>& ours, const std::vector<T>& theirs, Key&& key, Both&& both) {
        if (ours == theirs) return;
        std::unordered_map<std::string, std::vector<std::size_t>> places;
        for (std::size_t i = ours.size(); i > 0; --i) places[key(ours[i - 1])].push_back(i - 1);
        for (const T& each : theirs) {
            const auto found = places.find(key(each));
            if (found == places.end() || found->second.empty()) {
                ours.push_back(each);
                continue;
            }
            both(ours[found->second.back()], each);
            found->second.pop_back();
        }
    }
    void unknown(Unknown& ours, const Unknown& theirs);

    // Row by row (core/book/tables.hpp), but where a part has a way of its own.
    template <Kept T> void together(T& ours, const T& theirs);
    void together(Band& ours, const Band& theirs);
    void together(Item& ours, const Item& theirs); // but for amount and unit
    void together(Reserve& ours, const Reserve& theirs);
    void together(Today& ours, const Today& theirs);

  private:
    // All rows but those of these members.
    template <Kept T, class... Members> void all_but(T& ours, const T& theirs, Members... members);

    Changed changed_;
};

// What one has and the other lacks, after what is there. Two readings that are alike are two.
void unite(std::vector<Reading>& ours, const std::vector<Reading>& theirs);

} // namespace wetsleeve::record
