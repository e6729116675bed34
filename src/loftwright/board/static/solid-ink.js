// Washes and ink: what the tones of the roof look like, how one piece of it is painted, and how captions are written.
import { along, dot, side, unit } from "./solid-space.js";

const LIGHT = unit([-0.42, 0.3, 0.86]); // where the light comes from, fixed to the van
const STEPS = 6; // tones of wash between light and shade
const TONES = ["floor", "roof", "upstand", "shell", "inside", "rim", "arm", "rail", "board", "item", "hinge", "pin",
  "handle", "tube", "rod", "strap", "person"];

export function palette(element, pen) {
  const style = getComputedStyle(element);
  // The page says by its colour scheme which look it has, whoever chose it.
  const look = style.colorScheme.includes("dark") ? "--solid-dark" : "--solid";
  const read = (name, otherwise) => {
    pen.fillStyle = otherwise;
    pen.fillStyle = style.getPropertyValue(name).trim() || otherwise;
    const text = pen.fillStyle;
    return [1, 3, 5].map((i) => parseInt(text.slice(i, i + 2), 16));
  };
  const css = (c) => `rgb(${c.map(Math.round).join(",")})`;
  const shade = read(`${look}-shade`, "#1b1f24");
  const deep = parseFloat(style.getPropertyValue(`${look}-deep`)) || 0.3;
  const washes = {};
  for (const tone of TONES) {
    const base = read(`${look}-${tone}`, "#f1ede2");
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

// Returns what paints one piece, a polygon or a line, of what is seen so on a canvas `width` wide [CSS px].
export function brush(pen, colours, { faces, polygons, view, width }) {
  const facing = polygons.map(({ plane }) => side(plane, view.eye) > 0);
  const fine = Math.min(1, 0.62 + width / 1800);

  const trace = (points) => {
    pen.beginPath();
    points.forEach(([x, y], i) => (i ? pen.lineTo(x, y) : pen.moveTo(x, y)));
  };
  const stroke = (a, b) => {
    pen.moveTo(a[0], a[1]);
    pen.lineTo(b[0], b[1]);
  };

  function polygon(piece) {
    if (!piece.figure && !facing[piece.face]) return;
    const face = piece.figure ? null : faces[piece.face];
    const there = piece.points.map(view.at), n = there.length;
    const { plane } = polygons[piece.face] || piece;
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
      seams.forEach(([a, b]) => stroke(a, b));
      pen.strokeStyle = wash;
      pen.lineWidth = 0.7;
      pen.lineCap = "butt";
      pen.stroke();
      pen.lineCap = "round";
    }
    if (lines.length) {
      pen.beginPath();
      lines.forEach(([a, b]) => stroke(a, b));
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
    stroke(p, q);
    stroke(r, s);
    if (piece.ends[0]) stroke(s, p);
    if (piece.ends[1]) stroke(q, r);
    pen.strokeStyle = colours.ink;
    pen.lineWidth = 0.9 * fine;
    pen.stroke();
  }

  return (piece) => (piece.points ? polygon(piece) : line(piece));
}

export function write(pen, colours, data, { el, view, width }) {
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
