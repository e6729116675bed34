// The walls in space, turned by a slider: an illustration.
const SVG = "http://www.w3.org/2000/svg";
const TILT = (22 * Math.PI) / 180, EDGE = 14, MOST = 360, FULL = 360, EIGHTH = 45;
const FROM = ["the front", "the front left", "the left", "behind left", "behind", "behind right", "the right", "the front right"];

const triples = (flat) => Array.from({ length: flat.length / 3 }, (_, i) => flat.slice(3 * i, 3 * i + 3));

export function start() {
  const root = document.querySelector("[data-wallturn]");
  if (!root) return;
  const find = (name) => root.querySelector(`[data-${name}]`);
  const drawn = find("drawn"), slider = find("slider"), seen = find("seen");
  let walls = null, saved = "";

  function make(tag, css, points) {
    const made = document.createElementNS(SVG, tag);
    made.setAttribute("class", css);
    made.setAttribute("points", points);
    drawn.append(made);
  }

  function show() {
    if (!walls || root.hidden) return;
    const degrees = Number(slider.value), a = (degrees * Math.PI) / 180, c = Math.cos(a), s = Math.sin(a);
    const words = `seen from ${FROM[Math.round(degrees / EIGHTH) % FROM.length]}`;
    seen.textContent = words;
    slider.setAttribute("aria-valuetext", words);
    drawn.setAttribute("aria-label", `The walls in space, an illustration, ${words}`);
    // Right, up and away from the eye.
    const to = ([x, y, z]) => { const away = -c * x - s * y; return [-s * x + c * y, z * Math.cos(TILT) + away * Math.sin(TILT), away]; };
    const every = [...walls.lower, ...walls.upper].map(to), width = drawn.parentElement.clientWidth, height = Math.min(0.75 * width, MOST);
    // The room is that of any turn, so that turning changes no size.
    const [mx, my] = [0, 1].map((i) => (Math.min(...every.map((p) => p[i])) + Math.max(...every.map((p) => p[i]))) / 2);
    const k = Math.min((width - 2 * EDGE) / walls.wide, (height - 2 * EDGE) / walls.tall);
    const px = (p) => `${(width / 2 + k * (p[0] - mx)).toFixed(1)},${(height / 2 - k * (p[1] - my)).toFixed(1)}`;
    drawn.setAttribute("width", width);
    drawn.setAttribute("height", height.toFixed(0));
    drawn.replaceChildren();
    const quads = walls.rulings.map((one, i) => {
      const next = walls.rulings[(i + 1) % walls.rulings.length], spots = [...one, ...[...next].reverse()].map(to);
      const area = spots.reduce((sum, p, j) => { const q = spots[(j + 1) % 4]; return sum + p[0] * q[1] - p[1] * q[0]; }, 0);
      return { spots, inside: area * walls.turn > 0, away: (spots[0][2] + spots[3][2]) / 2 };
    });
    quads.sort((one, other) => other.away - one.away);
    for (const { spots, inside } of quads) make("polygon", inside ? "inside" : "outside", spots.map(px).join(" "));
    for (const line of [walls.lower, walls.upper]) make("polygon", "rim", line.map((p) => px(to(p))).join(" "));
  }

  function read() {
    const data = document.querySelector("[data-space-tables]"), next = data ? data.textContent : "";
    root.hidden = !next;
    if (!next || next === saved) return;
    saved = next;
    const table = JSON.parse(next);
    walls = { lower: triples(table.lower), upper: triples(table.upper), rulings: table.rulings.map(triples) };
    const every = [...walls.lower, ...walls.upper], reach = (i) => { const v = every.map((p) => p[i]); return Math.max(...v) - Math.min(...v); };
    const flat = Math.hypot(reach(0), reach(1));
    Object.assign(walls, { wide: flat, tall: reach(2) * Math.cos(TILT) + flat * Math.sin(TILT) });
    // Whether the lines run to the right or the left, seen from outside.
    const [first, second] = [walls.rulings[0][0], walls.rulings[1][0]], middle = [0, 1].map((i) => every.reduce((sum, p) => sum + p[i], 0) / every.length);
    const left = (first[0] - middle[0]) * (second[1] - middle[1]) - (first[1] - middle[1]) * (second[0] - middle[0]);
    walls.turn = left > 0 ? 1 : -1;
    show();
  }

  slider.addEventListener("input", show);
  document.addEventListener("loftwright:parts", (event) => { if (event.detail.parts.wallspace !== undefined) read(); });
  new ResizeObserver(show).observe(root);
  read();
}
