// Directions, planes and places in space, in millimetres.

export function unit(v) {
  const l = Math.hypot(v[0], v[1], v[2]) || 1;
  return [v[0] / l, v[1] / l, v[2] / l];
}

export function dot(a, b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function along(a, b, t) {
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
}

// Plane [nx, ny, nz, w] of a loop of points, by the sum over its edges; its length is twice the area.
export function planeOf(points) {
  let x = 0, y = 0, z = 0;
  for (let i = 0; i < points.length; i++) {
    const a = points[i], b = points[(i + 1) % points.length];
    x += (a[1] - b[1]) * (a[2] + b[2]);
    y += (a[2] - b[2]) * (a[0] + b[0]);
    z += (a[0] - b[0]) * (a[1] + b[1]);
  }
  const n = unit([x, y, z]);
  return { plane: [n[0], n[1], n[2], dot(n, points[0])], area: Math.hypot(x, y, z) / 2 };
}

export function side(plane, p) {
  return plane[0] * p[0] + plane[1] * p[1] + plane[2] * p[2] - plane[3];
}
