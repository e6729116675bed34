// The shapes of the roof in three dimensions: faces with their neighbours, and all of it at one opening.
import { along, dot, planeOf } from "./solid-space.js";

const CREASE = Math.cos((15 * Math.PI) / 180); // edges bent less than this are inked only where they bound the shape

// Faces with their neighbours: across each edge the number of the other face, and whether the edge is always inked.
export function readFaces(data) {
  const faces = [], open = new Map();
  for (const part of data.parts) {
    for (const loop of part.faces) {
      const rest = loop.map((i) => data.points[i]);
      const number = faces.length;
      faces.push({ rest, body: part.body, tone: part.tone, normal: planeOf(rest).plane, next: [], inked: [] });
      loop.forEach((a, k) => {
        const b = loop[(k + 1) % loop.length];
        faces[number].next.push(-1);
        faces[number].inked.push(true);
        const key = `${part.name} ${Math.min(a, b)} ${Math.max(a, b)}`;
        const other = open.get(key);
        if (!other) {
          open.set(key, [number, k]);
          return;
        }
        const [f, e] = other;
        const bent = dot(faces[f].normal, faces[number].normal) < CREASE || faces[f].tone !== part.tone;
        faces[f].next[e] = number;
        faces[number].next[k] = f;
        faces[f].inked[e] = faces[number].inked[k] = bent;
      });
    }
  }
  return faces;
}

function poseAt(data, share) {
  const at = data.fraction, last = at.length - 1;
  let i = 0;
  while (i < last - 1 && at[i + 1] <= share) i++;
  const t = Math.min(Math.max((share - at[i]) / (at[i + 1] - at[i]), 0), 1);
  const poses = {};
  for (const [body, table] of Object.entries(data.poses)) poses[body] = along(table[i], table[i + 1], t);
  return poses;
}

function mover(data, poses) {
  const [ox, oy, ex, ey] = data.swing;
  return (body, p) => {
    const pose = poses[body];
    if (!pose) return p;
    const x = p[0] - ox, y = p[1] - oy;
    const u = x * ex + y * ey, v = y * ex - x * ey;
    const cos = Math.cos(pose[2]), sin = Math.sin(pose[2]);
    const w = pose[0] + cos * u - sin * p[2];
    return [ox + w * ex - v * ey, oy + w * ey + v * ex, pose[1] + sin * u + cos * p[2]];
  };
}

// Everything at one opening: polygons with their planes, and lines.
export function posed(data, faces, share) {
  const move = mover(data, poseAt(data, share));
  const polygons = faces.map((face, number) => {
    const points = face.rest.map((p) => move(face.body, p));
    return { points, edges: points.map((_, k) => k), face: number, ...planeOf(points) };
  });
  const lines = [];
  const line = (tone, a, b, wide) => lines.push({ tone, a, b, wide, ends: [true, true] });
  for (const bar of data.bars) line(bar.tone, move(bar.body, bar.a), move(bar.body, bar.b), bar.wide);
  for (const s of data.lifters) {
    const foot = move(s.foot_on, s.foot), head = move(s.head_on, s.head);
    const length = Math.hypot(head[0] - foot[0], head[1] - foot[1], head[2] - foot[2]) || 1;
    const joint = along(head, foot, Math.min(1, s.tube / length));
    line("rod", foot, joint, s.wide * 0.42);
    if (s.tube > 0) line("tube", joint, head, s.wide);
  }
  for (const s of data.straps) {
    const top = move(s.body, s.at);
    line("strap", top, [top[0], top[1], top[2] - s.length], 0);
  }
  return { polygons, lines };
}
