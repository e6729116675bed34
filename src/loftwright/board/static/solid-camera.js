// How the roof is looked at: from where, and how a place in space lies on the canvas.
import { along, dot } from "./solid-space.js";

const RAD = Math.PI / 180;

export const VIEWS = {
  "behind-left": [142, 20],
  "front-right": [-38, 20],
  side: [-90, 4],
  above: [-90, 84],
};

export function seenFrom(az, el) {
  if (el > 70) return "from above";
  const eighth = ((Math.round(az / 45) % 8) + 8) % 8;
  const from = ["the front", "the front left", "the left", "behind left", "behind", "behind right", "the right",
    "the front right"][eighth];
  return `from ${from}${el > 40 ? ", high up" : ""}`;
}

export function camera(data, { az, el, zoom, shift }, width, height) {
  const [low, high] = data.box;
  const middle = along(low, high, 0.5);
  const half = [0, 1, 2].map((i) => (high[i] - low[i]) / 2);
  const flat = Math.hypot(half[0], half[1]);
  const ca = Math.cos(az * RAD), sa = Math.sin(az * RAD), ce = Math.cos(el * RAD), se = Math.sin(el * RAD);
  const out = [ce * ca, ce * sa, se], right = [-sa, ca, 0], up = [-se * ca, -se * sa, ce];
  const away = 4.2 * Math.hypot(flat, half[2]);
  // Turning left and right leaves the size alone: highest far and lowest near corner of a drum round everything.
  const drum = 0.84 * flat;
  const edge = (r, z) => (away * (z * ce - r * se)) / (away - r * ce - z * se);
  const top = Math.max(edge(-drum, half[2]), edge(drum, half[2]));
  const foot = Math.min(edge(-drum, -half[2]), edge(drum, -half[2]));
  const scale = zoom * Math.min(width / (2.2 * flat), height / (1.15 * (top - foot)));
  const rise = (scale * (top + foot)) / 2;
  const at = (p) => {
    const q = [p[0] - middle[0], p[1] - middle[1], p[2] - middle[2]];
    const k = (scale * away) / (away - dot(q, out));
    return [width / 2 + shift[0] + k * dot(q, right), height / 2 + shift[1] + rise - k * dot(q, up), k];
  };
  return { at, right, out, eye: along(middle, [middle[0] + out[0], middle[1] + out[1], middle[2] + out[2]], away) };
}
