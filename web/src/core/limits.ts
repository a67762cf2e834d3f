// The most characters of a text, the most parts of a list, the ends of what a number may be. Made by types.mjs: edit
// core/book/tables.hpp; the last two rows are of core/page/limits_json.hpp.

export const limits = {
  tank: { name: 80, note: 4000, customer_note: 4000, readings: 20000, bands: 100 },
  origin: { shop: 80, contact: 400, name: 80 },
  reading: { quantity: 200, unit: 24 },
  band: { quantity: 200, unit: 24 },
  item: { name: 80, strength: 200, amount: [0, Infinity], unit: 24, adds: 40, owed: [0, Infinity] },
  adds: { quantity: 200, mg: [0, Infinity] },
  visit: { entries: 200 },
  entry: { quantity: 200, words: 200, unit: 24 },
  due: { what: 200, every_days: [0, 3660] },
  wear: { days: [1, 7300], litres: [1, 1000000], waste: [0, 20], hours: [1, 1000000], hours_a_day: [0.1, 24], months: [0, 60] },
  van: { payload_kg: [0, 1000000], gear_kg: [0, 1000000], vessels: 50 },
  vessel: { name: 80, holds_l: [0.1, 5000], empty_kg: [0, 1000000], count: [0, 1000] },
  store: { holds_l: [0, 1000000], capacity_l: [0, 1000000], output_l_h: [0, 1000000], rated_at_c: [1, 45], feed_c: [1, 45], owed_l: [0, 1000000] },
  lift: { most_kg: [0, 1000000], standard: 80 },
  usual: { travel_min: [0, 1000000], work_min: [0, 1000000], back_min: [0, 1000000], day_min: [0, 1000000], drain_l_min: [0.1, 1000000], fill_l_min: [0.1, 1000000] },
  today: { stops: 5000, store_l: [0, 1000000], loaded_l: [0, 1000000] },
  stop: { travel_min: [0, 1000000], work_min: [0, 1000000], planned: 200 },
  link: { tanks: 20, items: 200 },
  days: ["1900-01-01", "2999-12-31"],
} as const;
