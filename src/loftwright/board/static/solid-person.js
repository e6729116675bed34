// The person who stands under the roof, as a figure cut from card.
import { planeOf } from "./solid-space.js";

// Half of a standing person as seen from the front: across and up, as shares of the height.
const HALF = [
  [0.008, 0.46], [0.014, 0.25], [0.018, 0.05], [0.016, 0], [0.07, 0], [0.066, 0.02], [0.054, 0.05], [0.058, 0.18],
  [0.064, 0.28], [0.082, 0.42], [0.096, 0.465], [0.104, 0.425], [0.122, 0.425], [0.131, 0.5], [0.13, 0.62],
  [0.128, 0.74], [0.114, 0.795], [0.07, 0.822], [0.033, 0.845], [0.031, 0.868], [0.046, 0.892], [0.053, 0.932],
  [0.044, 0.975], [0.016, 0.998],
];


function rounded(ring) {
  const out = [], n = ring.length;
  for (let i = 0; i < n; i++) {
    const [a, b, c, d] = [i - 1, i, i + 1, i + 2].map((k) => ring[(k + n) % n]);
    for (const t of [0, 0.33, 0.67]) {
      const w = [t * (-1 + t * (2 - t)), 2 + t * t * (3 * t - 5), t * (1 + t * (4 - 3 * t)), t * t * (t - 1)];
      out.push([0, 1].map((k) => (w[0] * a[k] + w[1] * b[k] + w[2] * c[k] + w[3] * d[k]) / 2));
    }
  }
  return out.map(([x, z]) => [x, Math.max(0, z)]);
}

const FIGURE = rounded([...HALF, ...HALF.map(([x, z]) => [-x, z]).reverse()]);

// The person turns with the view like a figure cut from card; from high up shoulders and head are seen.
export function figure(data, percent, el, view) {
  const f = data.figure;
  if (!f || (f.from === null ? percent < 100 : percent / 100 < f.from - 1e-6)) return [];
  const [x, y, z] = f.at, h = f.height;
  const shape = (points) => ({ points, edges: points.map((_, k) => k), figure: true, ...planeOf(points) });
  if (el > 58) {
    const ring = (wide, deep, up) => shape(Array.from({ length: 28 }, (_, k) => {
      const c = Math.cos((k * Math.PI) / 14) * deep * h, s = Math.sin((k * Math.PI) / 14) * wide * h;
      return [x + c, y + s, z + up * h];
    }));
    return [ring(0.138, 0.07, 0.8), ring(0.052, 0.062, 0.97)];
  }
  const [rx, ry] = view.right;
  return [shape(FIGURE.map(([a, b]) => [x + a * h * rx, y + a * h * ry, z + b * h]))];
}
