// The roof in three dimensions, drawn with flat faces on a plain canvas.
//
// mount(root, data) draws into the markup of parts/solid.html. `data` is what documents.solid_picture makes: places in
// millimetres in the van's frame (x to the cab, y to the left, z up), closed, and the table of poses between which this
// file interpolates. Faces are put in order by a tree that cuts them with one another's planes; it is built once for an
// opening and only walked through while the view turns. Nothing runs while nothing changes.

const NEAR = 0.6; // places closer than this to a plane lie in it [mm]
const CREASE = Math.cos((15 * Math.PI) / 180); // edges bent less than this are inked only where they bound the shape
const LIGHT = unit([-0.42, 0.3, 0.86]); // where the light comes from, fixed to the van
const STEPS = 6; // tones of wash between light and shade
const RAD = Math.PI / 180;
const VIEWS = {
  "behind-left": [142, 20],
  "front-right": [-38, 20],
  side: [-90, 4],
  above: [-90, 84],
};
const TONES = ["floor", "roof", "upstand", "shell", "inside", "rim", "arm", "rail", "board", "item", "hinge", "pin",
  "handle", "tube", "rod", "strap", "person"];

// Half of a standing person as seen from the front: across and up, as shares of the height.
const HALF = [
  [0.008, 0.46], [0.014, 0.25], [0.018, 0.05], [0.016, 0], [0.07, 0], [0.066, 0.02], [0.054, 0.05], [0.058, 0.18],
  [0.064, 0.28], [0.082, 0.42], [0.096, 0.465], [0.104, 0.425], [0.122, 0.425], [0.131, 0.5], [0.13, 0.62],
  [0.128, 0.74], [0.114, 0.795], [0.07, 0.822], [0.033, 0.845], [0.031, 0.868], [0.046, 0.892], [0.053, 0.932],
  [0.044, 0.975], [0.016, 0.998],
];

function unit(v) {
  const l = Math.hypot(v[0], v[1], v[2]) || 1;
  return [v[0] / l, v[1] / l, v[2] / l];
}

function dot(a, b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function along(a, b, t) {
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
}

// Plane [nx, ny, nz, w] of a loop of points, by the sum over its edges; its length is twice the area.
function planeOf(points) {
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

function side(plane, p) {
  return plane[0] * p[0] + plane[1] * p[1] + plane[2] * p[2] - plane[3];
}

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

// ---- shapes ---------------------------------------------------------------------------------------------------------

// Faces with their neighbours: across each edge the number of the other face, and whether the edge is always inked.
function readFaces(data) {
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
function posed(data, faces, share) {
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

// ---- order ----------------------------------------------------------------------------------------------------------

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

function tree(polygons, lines) {
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
function walk(node, eye, loose, paint) {
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

// ---- colours --------------------------------------------------------------------------------------------------------

function palette(element, pen) {
  const style = getComputedStyle(element);
  const read = (name, otherwise) => {
    pen.fillStyle = otherwise;
    pen.fillStyle = style.getPropertyValue(name).trim() || otherwise;
    const text = pen.fillStyle;
    return [1, 3, 5].map((i) => parseInt(text.slice(i, i + 2), 16));
  };
  const css = (c) => `rgb(${c.map(Math.round).join(",")})`;
  const shade = read("--solid-shade", "#1b1f24");
  const deep = parseFloat(style.getPropertyValue("--solid-deep")) || 0.3;
  const washes = {};
  for (const tone of TONES) {
    const base = read(`--solid-${tone}`, "#f1ede2");
    washes[tone] = Array.from({ length: STEPS }, (_, k) => css(along(base, shade, (deep * k) / (STEPS - 1))));
  }
  return {
    washes,
    ink: css(read("--ink", "#1b1f24")),
    soft: css(read("--soft", "#4a4f57")),
    line: css(read("--line", "#c8c6bd")),
    paper: css(read("--paper", "#fdfcf8")),
    font: style.fontFamily || "sans-serif",
  };
}

// ---- the view -------------------------------------------------------------------------------------------------------

function seenFrom(az, el) {
  if (el > 70) return "from above";
  const eighth = ((Math.round(az / 45) % 8) + 8) % 8;
  const from = ["the front", "the front left", "the left", "behind left", "behind", "behind right", "the right",
    "the front right"][eighth];
  return `from ${from}${el > 40 ? ", high up" : ""}`;
}

export function mount(root, first) {
  const canvas = root.querySelector("canvas");
  const pen = canvas.getContext("2d");
  const slider = root.querySelector("[data-solid-opening]");
  const said = root.querySelector("[data-solid-said]");
  const seen = root.querySelector("[data-solid-seen]");
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  const dark = matchMedia("(prefers-color-scheme: dark)");
  const done = new AbortController();
  const listen = (target, type, call, more = {}) => target.addEventListener(type, call, { signal: done.signal, ...more });

  let data = first, faces = readFaces(first), percent = 100, order = null, colours = null;
  let az = VIEWS["behind-left"][0], el = VIEWS["behind-left"][1], zoom = 1, shift = [0, 0];
  let waiting = 0, turning = 0;

  function schedule() {
    if (!waiting) waiting = requestAnimationFrame(() => { waiting = 0; draw(); });
  }

  function words() {
    const much = percent === 0 ? "closed" : percent === 100 ? "fully open" : `${percent} % open`;
    const far = percent > 0 ? `, ${data.opening[percent]}` : "";
    if (said) said.textContent = much + far;
    if (slider) {
      slider.value = String(percent);
      slider.setAttribute("aria-valuetext", much + far);
    }
    if (seen) seen.textContent = `Seen ${seenFrom(az, el)}.`;
    canvas.setAttribute(
      "aria-label",
      `${data.name}: illustration of the roof in three dimensions, ${much}${far}, seen ${seenFrom(az, el)}. ` +
        "Arrow keys turn it, plus and minus change its size.",
    );
  }

  function camera(width, height) {
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

  // The person turns with the view like a figure cut from card; from high up shoulders and head are seen.
  function figure(view) {
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

  function draw() {
    const width = canvas.clientWidth, height = canvas.clientHeight, dense = window.devicePixelRatio || 1;
    if (!width || !height) return;
    const w = Math.round(width * dense), h = Math.round(height * dense);
    if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h];
    colours = colours || palette(root, pen);
    if (!order) {
      const { polygons, lines } = posed(data, faces, percent / 100);
      // A face without an area has no plane.
      order = { root: tree(polygons.filter((p) => p.area > 1), lines), polygons };
    }
    const view = camera(width, height);
    const facing = order.polygons.map(({ plane }) => side(plane, view.eye) > 0);
    const fine = Math.min(1, 0.62 + width / 1800);
    pen.setTransform(dense, 0, 0, dense, 0, 0);
    pen.clearRect(0, 0, width, height);
    pen.lineJoin = pen.lineCap = "round";

    const trace = (points) => {
      pen.beginPath();
      points.forEach(([x, y], i) => (i ? pen.lineTo(x, y) : pen.moveTo(x, y)));
    };
    const ink = (a, b) => {
      pen.moveTo(a[0], a[1]);
      pen.lineTo(b[0], b[1]);
    };

    function polygon(piece) {
      if (!piece.figure && !facing[piece.face]) return;
      const face = piece.figure ? null : faces[piece.face];
      const there = piece.points.map(view.at), n = there.length;
      const { plane } = order.polygons[piece.face] || piece;
      const lit = piece.figure ? 0 : Math.round(((1 - dot(plane, LIGHT)) / 2) * (STEPS - 1));
      const wash = colours.washes[piece.figure ? "person" : face.tone][lit];
      trace(there);
      pen.closePath();
      pen.fillStyle = wash;
      pen.fill();
      const lines = [], seams = [];
      for (let k = 0; k < n; k++) {
        const e = piece.edges[k];
        const drawn = e >= 0 && (!face || face.inked[e] || face.next[e] < 0 || !facing[face.next[e]]);
        (drawn ? lines : seams).push([there[k], there[(k + 1) % n]]);
      }
      if (seams.length) {
        pen.beginPath();
        seams.forEach(([a, b]) => ink(a, b));
        pen.strokeStyle = wash;
        pen.lineWidth = 0.7;
        pen.lineCap = "butt";
        pen.stroke();
        pen.lineCap = "round";
      }
      if (lines.length) {
        pen.beginPath();
        lines.forEach(([a, b]) => ink(a, b));
        const quiet = face && (face.tone === "floor" || face.tone === "roof");
        pen.strokeStyle = piece.figure || quiet ? colours.soft : colours.ink;
        pen.lineWidth = fine * (quiet ? 0.8 : face && (face.tone === "rim" || face.tone === "shell") ? 1.4 : 0.95);
        pen.stroke();
      }
    }

    function line(piece) {
      const a = view.at(piece.a), b = view.at(piece.b);
      if (piece.tone === "trace" || piece.tone === "strap") {
        trace([a, b]);
        pen.strokeStyle = piece.tone === "trace" ? colours.line : colours.washes.strap[2];
        pen.lineWidth = piece.tone === "trace" ? 1 : 2 * fine;
        pen.lineCap = "butt";
        pen.setLineDash(piece.tone === "trace" ? [2, 4] : [4, 2.5]);
        pen.stroke();
        pen.setLineDash([]);
        pen.lineCap = "round";
        return;
      }
      const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const wide = [a, b].map((p) => Math.max(piece.wide * p[2], piece.tone === "rod" ? 1.2 : 2.2) / 2);
      if (l < 0.3) {
        if (!piece.ends[0] && !piece.ends[1]) return;
        pen.beginPath();
        pen.arc(a[0], a[1], wide[0], 0, 2 * Math.PI);
        pen.fillStyle = colours.washes[piece.tone][0];
        pen.fill();
        pen.strokeStyle = colours.ink;
        pen.lineWidth = 0.9 * fine;
        pen.stroke();
        return;
      }
      const nx = -(b[1] - a[1]) / l, ny = (b[0] - a[0]) / l;
      const [p, q] = [[a[0] + nx * wide[0], a[1] + ny * wide[0]], [b[0] + nx * wide[1], b[1] + ny * wide[1]]];
      const [r, s] = [[b[0] - nx * wide[1], b[1] - ny * wide[1]], [a[0] - nx * wide[0], a[1] - ny * wide[0]]];
      trace([p, q, r, s]);
      pen.closePath();
      pen.fillStyle = colours.washes[piece.tone][1];
      pen.fill();
      pen.beginPath();
      ink(p, q);
      ink(r, s);
      if (piece.ends[0]) ink(s, p);
      if (piece.ends[1]) ink(q, r);
      pen.strokeStyle = colours.ink;
      pen.lineWidth = 0.9 * fine;
      pen.stroke();
    }

    walk(order.root, view.eye, figure(view), (piece) => (piece.points ? polygon(piece) : line(piece)));

    pen.font = `${Math.max(13, Math.min(16, width / 40))}px ${colours.font}`;
    pen.textAlign = "center";
    pen.textBaseline = "middle";
    for (const caption of data.captions) {
      // On the floor, where nothing lies before it; seen from high up, beside the roof.
      const [x, y] = view.at(el > 45 ? caption.at : [caption.at[0], caption.at[1], data.box[0][2]]);
      const half = pen.measureText(caption.text).width / 2 + 4;
      const cx = Math.min(Math.max(x, half), width - half);
      pen.lineWidth = 4;
      pen.strokeStyle = colours.paper;
      pen.strokeText(caption.text, cx, y);
      pen.fillStyle = colours.soft;
      pen.fillText(caption.text, cx, y);
    }
  }

  function setOpening(value) {
    const next = Math.min(100, Math.max(0, Math.round(Number(value))));
    if (!Number.isFinite(next) || (next === percent && order)) return;
    percent = next;
    order = null;
    words();
    schedule();
  }

  function update(next) {
    data = next;
    faces = readFaces(next);
    order = null;
    words();
    schedule();
  }

  function look(nextAz, nextEl) {
    az = ((((nextAz + 180) % 360) + 360) % 360) - 180;
    el = Math.min(88, Math.max(-12, nextEl));
    words();
    schedule();
  }

  function turnTo([toAz, toEl]) {
    cancelAnimationFrame(turning);
    [zoom, shift] = [1, [0, 0]];
    if (still.matches) {
      look(toAz, toEl);
      return;
    }
    const fromAz = az, fromEl = el, round = ((((toAz - az + 180) % 360) + 360) % 360) - 180;
    let began = 0;
    const step = (now) => {
      began = began || now;
      const t = Math.min(1, (now - began) / 320), eased = t * t * (3 - 2 * t);
      look(fromAz + round * eased, fromEl + (toEl - fromEl) * eased);
      if (t < 1) turning = requestAnimationFrame(step);
    };
    turning = requestAnimationFrame(step);
  }

  function size(factor) {
    const before = zoom;
    zoom = Math.min(6, Math.max(0.6, zoom * factor));
    shift = zoom <= 1 ? [0, 0] : shift.map((s) => (s * zoom) / before);
    schedule();
  }

  const TURNS = { left: [-9, 0], right: [9, 0], up: [0, 7], down: [0, -7] };
  const turn = (way) => {
    cancelAnimationFrame(turning);
    look(az + TURNS[way][0], el + TURNS[way][1]);
  };

  listen(root, "click", (event) => {
    const button = event.target.closest("button");
    if (!button || !root.contains(button)) return;
    const { solidView, solidTurn, solidZoom } = button.dataset;
    if (solidView) turnTo(VIEWS[solidView]);
    if (solidTurn) turn(solidTurn);
    if (solidZoom) size(solidZoom === "in" ? 1.25 : 0.8);
  });
  listen(canvas, "keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const way = { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down" }[event.key];
    if (way && event.shiftKey) {
      shift = [shift[0] - 3 * TURNS[way][0], shift[1] + 4 * TURNS[way][1]];
      schedule();
    } else if (way) turn(way);
    else if (event.key === "+" || event.key === "=") size(1.25);
    else if (event.key === "-") size(0.8);
    else if (event.key === "Home" || event.key === "0") turnTo(VIEWS["behind-left"]);
    else return;
    event.preventDefault();
  });

  // One finger or the mouse turns, with Shift it shifts; two fingers change the size and shift.
  const held = new Map();
  const spread = () => {
    const [a, b] = [...held.values()];
    return [Math.hypot(a[0] - b[0], a[1] - b[1]) || 1, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  };
  listen(canvas, "pointerdown", (event) => {
    if (event.button !== 0) return;
    cancelAnimationFrame(turning);
    canvas.setPointerCapture(event.pointerId);
    held.set(event.pointerId, [event.clientX, event.clientY]);
  });
  listen(canvas, "pointermove", (event) => {
    const from = held.get(event.pointerId);
    if (!from) return;
    const [dx, dy] = [event.clientX - from[0], event.clientY - from[1]];
    if (held.size === 2) {
      const before = spread();
      held.set(event.pointerId, [event.clientX, event.clientY]);
      const after = spread();
      size(after[0] / before[0]);
      if (zoom > 1) shift = [shift[0] + after[1] - before[1], shift[1] + after[2] - before[2]];
      return;
    }
    held.set(event.pointerId, [event.clientX, event.clientY]);
    if (held.size !== 1) return;
    if (event.shiftKey) {
      shift = [shift[0] + dx, shift[1] + dy];
      schedule();
    } else look(az - dx * 0.4, el + dy * 0.35);
  });
  for (const type of ["pointerup", "pointercancel", "lostpointercapture"]) {
    listen(canvas, type, (event) => held.delete(event.pointerId));
  }
  listen(canvas, "wheel", (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    size(Math.exp(-event.deltaY * 0.004));
  }, { passive: false });

  // Its own slider speaks to whatever else on the page follows how far open the roof is.
  if (slider) {
    listen(slider, "input", () => {
      document.dispatchEvent(new CustomEvent("loftwright:opening", { detail: { percent: Number(slider.value) } }));
    });
  }
  listen(document, "loftwright:opening", (event) => {
    const { detail } = event;
    setOpening(detail !== null && typeof detail === "object" ? detail.percent : detail);
  });
  const repaint = () => {
    colours = null;
    schedule();
  };
  listen(dark, "change", repaint);
  const marked = new MutationObserver(repaint);
  marked.observe(document.documentElement, { attributes: true, attributeFilter: ["data-look", "class"] });
  const sized = new ResizeObserver(schedule);
  sized.observe(canvas);

  words();
  schedule();
  return {
    update,
    setOpening,
    destroy() {
      done.abort();
      marked.disconnect();
      sized.disconnect();
      cancelAnimationFrame(waiting);
      cancelAnimationFrame(turning);
    },
  };
}
