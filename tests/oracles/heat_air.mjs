// Moist air by the npm library psychrolib (ASHRAE Fundamentals 2017, chapter 1), and from it
// ASHRAE's evaporation in inch-pound units. Run: node tests/oracles/heat_air.mjs, beside psychrolib.
import psychrolib from "psychrolib";
psychrolib.SetUnitSystem(psychrolib.SI);
for (const [t, rh] of [
  [27, 50],
  [28, 60],
  [30, 30],
  [35, 20],
  [5, 90],
])
  console.log(
    "air",
    t,
    rh,
    "saturation Pa",
    psychrolib.GetSatVapPres(t),
    "ratio",
    psychrolib.GetHumRatioFromRelHum(t, rh / 100, 101325),
    "wet bulb",
    psychrolib.GetTWetBulbFromRelHum(t, rh / 100, 101325),
  );
// ASHRAE HVAC Applications, natatoriums, inch-pound: lb/h = A (pw − pa) (95 + 0.425 V) / Y with ft²,
// inHg, ft/min, Btu/lb.
const inHg = 3386.389;
for (const [t, room, rh, v] of [
  [28, 28, 60, 0.2],
  [26, 24, 50, 0.1],
  [30, 25, 40, 1.0],
]) {
  const dp = (psychrolib.GetSatVapPres(t) - (rh / 100) * psychrolib.GetSatVapPres(room)) / inHg;
  const latent = (2500.9 - 2.365 * t) / 2.326; // Btu/lb
  const pounds = ((50 / 0.09290304) * dp * (95 + (0.425 * v) / 0.00508)) / latent;
  console.log("50 m²", t, room, rh, v, "kg/h", pounds * 0.45359237, "kg/d", pounds * 0.45359237 * 24);
}
