// What visits take off the shelf, and out of the store. A dose is of one thing, and what is in
// stock is what there was less what was taken: so a visit can be added, corrected and taken back in
// any order.
#pragma once

#include "core/book/book.hpp"
#include "core/jobs/plan.hpp"

#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace wetsleeve::record {

// The things of a shelf, by what entries call them. The book must stay as it is meanwhile.
class Shelf {
  public:
    explicit Shelf(const Book& book);
    // The one thing that an entry is of: the one whose id it names; of those of the name, the first
    // with an amount that is measured as the entry is, by weight or by volume, or else the first.
    // Null: there is none.
    const Item* find(const Entry& entry) const;

  private:
    std::unordered_map<std::string_view, const Item*> by_id_;
    std::unordered_map<std::string_view, std::vector<const Item*>> by_name_;
};

struct StockChange {
    std::string item;  // its id
    double amount = 0; // in the thing's own unit; less than nothing: it was taken
    bool operator==(const StockChange&) const = default;
};

// Sums of them by the thing's id.
using StockSums = std::unordered_map<std::string_view, double>;
// Adds what a visit took, so many times: 1, or -1 to give it back.
void add_use(const Shelf& shelf, const Visit& visit, double times, StockSums& used);
// Less than nothing where more was used than there was: of the next correction all of it counts.
// To a millionth: what is left of 450 mL is no 443.49999999999994 mL.
double stock_left(double amount, double used);
// The same as a thing and the store keep it: never less than nothing, and what is owed.
double stock(const Item& item);
void set_stock(Item& item, double stock);

// What this visit changes in stock by being in the book: with it there, or as its last when it is
// not. To take it back, the same the other way round. A correction changes by the difference.
std::vector<StockChange> stock_changes(const Book& book, const Visit& visit);
// The RO water that it takes in the same sense, litres.
double ro_used(const Book& book, const Visit& visit);

// The things whose amount a visit changes by coming into the book as its last, with what is left.
std::vector<Item> shelf_after(const Book& book, const Visit& visit);

// The store, as the sums of a round have it.
round::RoStore ro_store(const Reserve& kept);
// From one moment on the wall's clock to another; 0 when the other came before, or one is unknown.
double minutes_between(std::string_view from, std::string_view to);

// The stop of its day that a visit is of and that is still to come; null: none.
const PlannedStop* open_stop(const Rounds& round, const Visit& visit);
PlannedStop* open_stop(Rounds& round, const Visit& visit);
// The round once a visit is in the book as its last, `now` being like "2026-05-04T10:20": its stop
// is done, and `ro_l` litres less are in the store, which was filled until then.
Rounds round_after(Rounds round, const Visit& visit, double ro_l, std::string_view now);

} // namespace wetsleeve::record
