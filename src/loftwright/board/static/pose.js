// Looks up between two stations of a table and places points; nothing is solved here.

export function station(xs, x) {
  let low = 0, high = xs.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (xs[middle] <= x) low = middle; else high = middle - 1;
  }
  return [low, Math.min(Math.max((x - xs[low]) / (xs[low + 1] - xs[low]), 0), 1)];
}

export const between = (ys, at) => ys[at[0]] + at[1] * (ys[at[0] + 1] - ys[at[0]]);

export const poseAt = (rows, at) => [0, 1, 2].map((k) => rows[at[0]][k] + at[1] * (rows[at[0] + 1][k] - rows[at[0]][k]));

export const AT_REST = [0, 0, 0];

export function posesAt(table, at) {
  const found = { van: AT_REST };
  for (const body of Object.keys(table)) found[body] = poseAt(table[body], at);
  return found;
}

// Where a point of the closed roof lies in a pose.
export function moved(pose, spot) {
  const c = Math.cos(pose[2]), s = Math.sin(pose[2]);
  return [pose[0] + c * spot[0] - s * spot[1], pose[1] + s * spot[0] + c * spot[1]];
}

// Where a point in a pose lies on the closed roof.
export function closed(pose, place) {
  const c = Math.cos(pose[2]), s = Math.sin(pose[2]), dx = place[0] - pose[0], dz = place[1] - pose[1];
  return [c * dx + s * dz, c * dz - s * dx];
}

// The way of an arrow key as the drawing shows it, turned to the nearest axis of the closed roof.
export function alongAxis(pose, dx, dz) {
  const x = Math.cos(pose[2]) * dx + Math.sin(pose[2]) * dz, z = Math.cos(pose[2]) * dz - Math.sin(pose[2]) * dx;
  return Math.abs(x) >= Math.abs(z) ? [Math.sign(x), 0] : [0, Math.sign(z)];
}

// To the nearest step, without the last digits that sums leave.
export const rounded = (spot, step) => spot.map((v) => Number((Math.round(v / step) * step).toFixed(7)));

export function figure(value, decimals) {
  const text = Math.abs(value).toFixed(decimals);
  return (value < 0 && Number(text) !== 0 ? "\u2212" : "") + text;
}
