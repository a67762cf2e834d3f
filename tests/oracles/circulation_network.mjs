// Operating points of pump and hoses by a network solver: npm epanet-js, run where it is installed.
// EPANET's g is 32.2 ft/s²; heads are scaled by 9.80665 over it, so that flows are those of standard
// gravity and heads lost are scaled back.
import { Project, Workspace } from "epanet-js";

// Its speed head is K × 0.02517 q²/d⁴, a rounded 8/(π² g): K is scaled to make up for it.
const minor = 8 / (32.2 * Math.PI ** 2) / 0.02517;
const scale = (32.2 * 0.3048) / 9.80665;
const ws = new Workspace();
await ws.loadModule?.();

// IAPWS SR6-08(2011) viscosity over IAPWS-95 density, m²/s, at the temperatures used (published tables).
const viscosity = { 10: 1.3063e-6, 20: 1.0034e-6, 24: 9.1315e-7, 25: 8.9266e-7, 30: 8.0071e-7 };

// h = h0 (1 − (q/qm)^n) through (0, h0), a point, and (qm, 0); L/h and m.
function run({ qm, h0, point, lift = 0, temperature, pipes }) {
  const [pq, ph] = point ?? [qm / 2, 0.75 * h0];
  const lph = 1 / 3600; // L/s
  const line = pipes.map(([id, from, to, m, mm, k]) => ` ${id} ${from} ${to} ${m} ${mm} 0.0015 ${k * minor} Open`).join("\n");
  const inp = `[RESERVOIRS]
 S ${100}
 T ${100 + lift / scale}
[JUNCTIONS]
 A 0 0
 B 0 0
 C 0 0
[PIPES]
${line}
[PUMPS]
 P A B HEAD 1
[CURVES]
 1 0 ${h0 / scale}
 1 ${pq * lph} ${ph / scale}
 1 ${qm * lph} 0
[OPTIONS]
 UNITS LPS
 HEADLOSS D-W
 VISCOSITY ${viscosity[temperature]}
 ACCURACY 0.000000001
 TRIALS 500
[END]
`;
  ws.writeFile("in.inp", inp);
  const model = new Project(ws);
  model.open("in.inp", "out.rpt", "out.bin");
  model.setOption(2, 1e-9); // relative error of flows
  model.solveH();
  const out = Object.fromEntries(
    pipes.map(([id]) => {
      const i = model.getLinkIndex(id);
      return [id, { lph: model.getLinkValue(i, 8) * 3600, loss: model.getLinkValue(i, 10) * scale, v: model.getLinkValue(i, 9) }];
    }),
  );
  model.close();
  return out;
}

const round = (x) => Number(x.toPrecision(7));
console.log("hose: flow L/h, speed m/s, head lost m");
for (const [qm, h0, point, m, mm, k, lift, temperature] of [
  [1000, 1.5, null, 3, 12, 6.1, 0, 24],
  [1000, 1.5, null, 3, 16, 6.1, 0, 24],
  [2500, 2.5, null, 4, 25, 4.0, 0.4, 20],
  [300, 0.6, null, 2, 9, 3.0, 0, 25],
  [60, 0.5, null, 3, 6, 3.0, 0, 20],
  [12000, 8, null, 30, 45.2, 12, 2, 10],
  [1200, 1.8, [700, 0.9], 3, 16, 6.1, 0, 24],
  [1200, 1.8, [700, 1.4], 3, 12, 6.1, 0.2, 30],
]) {
  // The suction end is a wide stub, so that all of the loss is in one pipe.
  const { H } = run({
    qm,
    h0,
    point,
    lift,
    temperature,
    pipes: [
      ["Z", "S", "A", 0.001, 5000, 0],
      ["H", "B", "C", m, mm, k],
      ["Y", "C", "T", 0.001, 5000, 0],
    ],
  });
  console.log([qm, h0, point ?? "", m, mm, k, lift, temperature, round(H.lph), round(H.v), round(H.loss)].join(", "));
}
console.log("two: first, second, both L/h");
for (const [qm, h0, first, second, common, temperature] of [
  [1000, 1.5, [1, 16, 3.7], [1, 12, 3.7], [2, 16, 3.4], 24],
  [2000, 2.2, [1, 19, 3.7], [2, 19, 3.7], [2, 25, 3.4], 20],
  [300, 0.6, [1.5, 9, 2], [0.8, 9, 5], [1, 12, 3], 25],
]) {
  const { F, G } = run({
    qm,
    h0,
    temperature,
    pipes: [
      ["F", "S", "A", ...first],
      ["G", "S", "A", ...second],
      ["H", "B", "C", ...common],
      ["Y", "C", "T", 0.001, 5000, 0],
    ],
  });
  console.log([qm, h0, first, second, common, temperature, round(F.lph), round(G.lph), round(F.lph + G.lph)].join(", "));
}
