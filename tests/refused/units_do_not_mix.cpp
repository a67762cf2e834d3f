// refused: could not convert|no viable conversion
#include "core/model/quantity.hpp"

double litres(wetsleeve::Litres volume) { return volume.value; }
double wrong = litres(wetsleeve::Grams{5});
