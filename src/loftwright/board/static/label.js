// The words beside a point that is moved: on the side of it where they cover least of the drawing.
// To the right or the left of the point, and above, below or beside it.
const PLACES = [[0, -1], [-1, -1], [0, 1], [-1, 1], [0, 0], [-1, 0]];
const GAP = 28, ASIDE = 10, LOOK = 150, FINGER = 40, SHELL = 120, OUT = 10000;

// How much of the line from a to b lies in a box [px].
function inside(a, b, box) {
  let low = 0, high = 1;
  for (const i of [0, 1]) {
    const far = b[i] - a[i];
    if (Math.abs(far) < 1e-9) {
      if (a[i] < box[i] || a[i] > box[i + 2]) return 0;
      continue;
    }
    const t = [(box[i] - a[i]) / far, (box[i + 2] - a[i]) / far];
    low = Math.max(low, Math.min(...t));
    high = Math.min(high, Math.max(...t));
  }
  return high > low ? (high - low) * Math.hypot(b[0] - a[0], b[1] - a[1]) : 0;
}

function within(p, ring) {
  let odd = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length];
    if ((a[1] > p[1]) !== (b[1] > p[1]) && p[0] < a[0] + ((p[1] - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) odd = !odd;
  });
  return odd;
}

// Every line of the drawing on the paper [px]; dimensions may be covered.
function lines(svg) {
  const found = [];
  for (const el of svg.querySelectorAll("polygon, polyline, line")) {
    const group = el.closest("[data-part]"), how = el.getCTM();
    if (!how || (group && group.dataset.part === "dimensions")) continue;
    const ends = el.points ? [...el.points] : [{ x: el.x1.baseVal.value, y: el.y1.baseVal.value }, { x: el.x2.baseVal.value, y: el.y2.baseVal.value }];
    const points = ends.map(({ x, y }) => [how.a * x + how.c * y + how.e, how.b * x + how.d * y + how.f]);
    found.push({ points, closed: el.tagName === "polygon", shell: Boolean(group) && group.dataset.part === "shell" });
  }
  return found;
}

// The same shift for the browser, which then need not be asked how large the words are.
function shifted([left, down]) {
  const aside = down === 0 ? GAP : ASIDE;
  const across = left < 0 ? `calc(-100% - ${aside}px)` : `${aside}px`;
  return `translate(${across}, ${down < 0 ? `calc(-100% - ${GAP}px)` : down > 0 ? `${GAP}px` : "-50%"})`;
}

export function label(says, paper, svgOf) {
  let chosen = null, looked = 0;

  function boxAt([x, y], [left, down]) {
    const w = says.offsetWidth, h = says.offsetHeight, aside = down === 0 ? GAP : ASIDE;
    const x0 = left < 0 ? x - w - aside : x + aside, y0 = down < 0 ? y - h - GAP : down > 0 ? y + GAP : y - h / 2;
    return [x0, y0, x0 + w, y0 + h];
  }

  function covered(at, one, drawn) {
    const box = boxAt(at, one), middle = [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
    // A finger lies below the point.
    let cost = one[1] > 0 ? FINGER : 0;
    if (box[0] < 0 || box[1] < 0 || box[2] > paper.clientWidth || box[3] > paper.clientHeight) cost += OUT;
    for (const { points, closed, shell } of drawn) {
      for (let i = 0; i + 1 < points.length; i++) cost += inside(points[i], points[i + 1], box);
      if (closed) cost += inside(points[points.length - 1], points[0], box);
      if (closed && shell && within(middle, points)) cost += SHELL;
    }
    return cost;
  }

  return {
    show(text, at) {
      says.hidden = false;
      if (says.textContent !== text) says.textContent = text;
      const time = performance.now();
      if (!chosen || time - looked > LOOK) {
        looked = time;
        const drawn = lines(svgOf()), costs = PLACES.map((one) => covered(at, one, drawn));
        const best = costs.indexOf(Math.min(...costs)), now = chosen ? costs[PLACES.indexOf(chosen)] : Infinity;
        // It stays where it is unless another side is clearly better.
        if (costs[best] < 0.7 * now) chosen = PLACES[best];
      }
      says.style.transform = `translate(${at[0].toFixed(1)}px, ${at[1].toFixed(1)}px) ${shifted(chosen)}`;
    },
    hide() {
      says.hidden = true;
      chosen = null;
    },
  };
}
