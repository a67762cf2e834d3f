// A book as what all changes to it come to, in the one order of their stamps.
//
// A change that comes late takes its place, and those after it are taken anew. A change that cannot
// be taken at its place is void: it is kept, with its sentence, and taken once it can be. Whoever
// has the same changes, whenever and however often each came, has the same book.
//
// To take a change back is to take the others without it. What could then no longer be taken was
// built on it: so the taking back is void, and all stays.
#pragma once

#include "core/book/change.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace wetsleeve::record {

class Fold {
  public:
    struct Taken {
        Change change;
        std::vector<Record> before{}; // the records that it changed, as they were
        std::string why{};            // it is void; "": it was taken, or taken back
        bool taken_back = false;
    };

    // `records` as the `taken` made them; these stand in the order of their stamps.
    explicit Fold(Records records, std::vector<Taken> taken = {}, Style style = {});

    // Nothing happens when it is known already.
    void add(Change change);

    const Records& records() const { return records_; }
    const std::vector<Taken>& taken() const { return taken_; }
    // Null: there is no such change.
    const Taken* find(const Stamp& at) const;

  private:
    std::size_t place_of(const Stamp& at) const; // of the first that does not come before
    void rewind(std::size_t place);
    void take_from(std::size_t place);
    void take_back(std::size_t place);
    std::string built_on(std::size_t place, std::size_t by) const;

    Records records_;
    std::vector<Taken> taken_;
    Style style_; // of the sentences
};

} // namespace wetsleeve::record
