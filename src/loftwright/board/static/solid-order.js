// In which order faces and lines are painted: a tree of cuts, made once for an opening, walked as the view turns.
import { along, side } from "./solid-space.js";

const NEAR = 0.6; // places closer than this to a plane lie in it [mm]

// Cut a polygon by a plane: [in front, behind], either may be null. Cut edges carry -1.
function cut(polygon, plane) {
  const { points, edges } = polygon, n = points.length;
  const d = points.map((p) => {
    const s = side(plane, p);
    return Math.abs(s) < NEAR ? 0 : s;
  });
  let some = false, none = false;
  for (const s of d) {
    if (s > 0) some = true;
    if (s < 0) none = true;
  }
  if (!none) return [polygon, null];
  if (!some) return [null, polygon];
  const halves = [1, -1].map((sign) => {
    const p = [], e = [];
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n, a = d[i] * sign, b = d[j] * sign;
      if (a >= 0) {
        p.push(points[i]);
        // An edge that leaves this half, or lies in the plane, goes on along the cut.
        e.push(a > 0 || b > 0 ? edges[i] : -1);
      }
      if ((a > 0 && b < 0) || (a < 0 && b > 0)) {
        p.push(along(points[i], points[j], d[i] / (d[i] - d[j])));
        e.push(a > 0 ? -1 : edges[i]);
      }
      if (a === 0 && b < 0) e[e.length - 1] = -1;
    }
    return { ...polygon, points: p, edges: e };
  });
  return halves.map((half) => (half.points.length > 2 ? half : null));
}

function cutLine(line, plane) {
  let a = side(plane, line.a), b = side(plane, line.b);
  if (Math.abs(a) < NEAR) a = 0;
  if (Math.abs(b) < NEAR) b = 0;
  if (a >= 0 && b >= 0) return [line, null];
  if (a <= 0 && b <= 0) return [null, line];
  const middle = along(line.a, line.b, a / (a - b));
  const first = { ...line, b: middle, ends: [line.ends[0], false] };
  const second = { ...line, a: middle, ends: [false, line.ends[1]] };
  return a > 0 ? [first, second] : [second, first];
}

// Which polygon's plane to cut with: one that cuts few others and leaves even halves.
function chosen(polygons) {
  let best = 0, least = Infinity;
  const step = Math.max(1, Math.floor(polygons.length / 8));
  for (let c = 0; c < polygons.length; c += step) {
    const { plane } = polygons[c];
    let front = 0, back = 0, cuts = 0;
    for (const { points } of polygons) {
      let some = false, none = false;
      for (const p of points) {
        const s = side(plane, p);
        if (s > NEAR) some = true;
        else if (s < -NEAR) none = true;
      }
      if (some && none) cuts++;
      else if (some) front++;
      else if (none) back++;
    }
    const cost = 6 * cuts + Math.abs(front - back);
    if (cost < least) [best, least] = [c, cost];
  }
  return best;
}

export function tree(polygons, lines) {
  if (!polygons.length) return lines.length ? { lines } : null;
  const { plane } = polygons[chosen(polygons)];
  const here = [], front = [], back = [], frontLines = [], backLines = [];
  for (const polygon of polygons) {
    if (polygon.points.every((p) => Math.abs(side(plane, p)) < NEAR)) {
      here.push(polygon);
      continue;
    }
    const [a, b] = cut(polygon, plane);
    if (a) front.push(a);
    if (b) back.push(b);
  }
  for (const line of lines) {
    const [a, b] = cutLine(line, plane);
    if (a) frontLines.push(a);
    if (b) backLines.push(b);
  }
  return { plane, here, front: tree(front, frontLines), back: tree(back, backLines) };
}

// Walk from far to near; `loose` are polygons that turn with the view and are sorted in on the way.
export function walk(node, eye, loose, paint) {
  if (!node || !node.plane) {
    const rest = [...loose, ...(node ? node.lines : [])];
    if (rest.length > 1) rest.sort((a, b) => apart(b, eye) - apart(a, eye));
    rest.forEach(paint);
    return;
  }
  const before = [], behind = [];
  for (const polygon of loose) {
    const [a, b] = cut(polygon, node.plane);
    if (a) before.push(a);
    if (b) behind.push(b);
  }
  const near = side(node.plane, eye) >= 0;
  walk(near ? node.back : node.front, eye, near ? behind : before, paint);
  node.here.forEach(paint);
  walk(near ? node.front : node.back, eye, near ? before : behind, paint);
}

function apart(thing, eye) {
  const points = thing.points || [thing.a, thing.b];
  let sum = 0;
  for (const p of points) sum += Math.hypot(p[0] - eye[0], p[1] - eye[1], p[2] - eye[2]);
  return sum / points.length;
}
