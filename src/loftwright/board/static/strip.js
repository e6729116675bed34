// The walls unrolled: windows and seams under mouse, finger or arrow keys; a touch chooses where the fold is shown.
import { post } from "./forms.js";
import { figure } from "./pose.js";

const SVG = "http://www.w3.org/2000/svg";
const PER = 10000, PX_PER_M = 94, TOP = 50, UNDER = 34, SIDE = 24, HALF = 22, STILL = 3, PAUSE = 400;
const LETTER = 8.2, MARK = 7;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

const pairs = (flat) => Array.from({ length: flat.length / 2 }, (_, i) => [flat[2 * i], flat[2 * i + 1]]);
const box = (points) => [0, 1].flatMap((i) => [Math.min(...points.map((p) => p[i])), Math.max(...points.map((p) => p[i]))]);

export function start() {
  const root = document.querySelector("[data-strip]");
  if (!root) return;
  const find = (name) => root.querySelector(`[data-${name}]`);
  const paper = find("paper"), drawn = find("drawn"), grips = find("grips"), line = find("said"), says = find("says"), stations = find("stations");
  // `shifts` is how far what was moved lies from where the table has it, until the walls are judged anew.
  let table = null, saved = "", chosen = 0, held = null, keys = null, scale = 1, news = true;
  const shifts = new Map(), buttons = new Map();

  const tell = (text, bad = false) => { line.textContent = text; line.classList.toggle("bad", bad); };
  const moving = () => (held && held.moved ? held : keys);
  const px = ([x, y]) => [SIDE + x * scale, TOP + (table.top - y) * scale];
  const shiftOf = (id) => shifts.get(id) || [0, 0];

  function make(parent, name, css, more = {}) {
    const made = document.createElementNS(SVG, name);
    made.setAttribute("class", css);
    for (const [key, value] of Object.entries(more)) made.setAttribute(key, value);
    parent.append(made);
    return made;
  }
  const points = (list) => list.map((p) => px(p).map((v) => v.toFixed(1)).join()).join(" ");
  function text(parent, css, [x, y], words, anchor = "middle") {
    make(parent, "text", css, { x: x.toFixed(1), y: y.toFixed(1), "text-anchor": anchor }).textContent = words;
  }

  // Where along the lower line a place of the strip lies, and back.
  function arcAt(x) {
    const far = (panel) => Math.max(panel.lower[0][0] - x, x - panel.lower[panel.lower.length - 1][0], 0);
    const panel = table.panels.reduce((a, b) => (far(b) < far(a) ? b : a));
    const n = panel.lower.length - 1;
    let i = 0;
    while (i < n - 1 && panel.lower[i + 1][0] < x) i += 1;
    const [x0, x1] = [panel.lower[i][0], panel.lower[i + 1][0]], t = Math.min(Math.max((x - x0) / (x1 - x0 || 1), 0), 1);
    return panel.arcs[i] + t * (panel.arcs[i + 1] - panel.arcs[i]);
  }
  function spotAt(arc) {
    for (const lap of [0, 1, -1]) {
      const at = arc + lap * table.around;
      for (const panel of table.panels) {
        for (let i = 0; i + 1 < panel.arcs.length; i++) {
          const [a, b] = [panel.arcs[i], panel.arcs[i + 1]];
          if (at < a || at > b || a === b) continue;
          return [0, 1].map((k) => panel.lower[i][k] + ((at - a) / (b - a)) * (panel.lower[i + 1][k] - panel.lower[i][k]));
        }
      }
    }
    return null;
  }
  function nearest(arc) {
    const apart = (place) => { const far = Math.abs(place.arc - arc) % table.around; return Math.min(far, table.around - far); };
    return table.places.reduce((best, place, i) => (apart(place) < apart(table.places[best]) ? i : best), 0);
  }

  const words = (tenths) => { const { unit, per_metre: per, decimals } = table.length; return `${figure((tenths / PER) * per, decimals)} ${unit}`; };
  const lapped = (arc) => ((arc % table.around) + table.around) % table.around;
  function things() {
    const found = table.windows.map((window) => ({ id: `window ${window.entry}`, window }));
    const seen = new Set();
    for (const seam of table.seams) {
      if (seen.has(seam.name)) continue;
      seen.add(seam.name);
      found.push({ id: `seam ${seam.name}`, seam, ends: table.seams.filter((other) => other.name === seam.name) });
    }
    return found;
  }
  function placeOf({ id, window, seam }) {
    const [dx, dy] = shiftOf(id);
    return window ? [window.move + dx, Math.max(window.rise + dy, 0)] : [lapped(seam.arc + dx)];
  }
  function saidOf(thing) {
    const at = placeOf(thing);
    return thing.window ? `${words(Math.abs(at[0]))} ${at[0] < 0 ? "left" : "right"} of the middle, ${words(at[1])} above the lower line` : `${words(at[0])} along the lower line`;
  }
  function shortOf(thing) {
    const at = placeOf(thing);
    return thing.window ? `${thing.window.name}: ${words(Math.abs(at[0]))} ${at[0] < 0 ? "left" : "right"}, ${words(at[1])} up` : `${thing.seam.sign}: ${words(at[0])} along`;
  }

  function draw() {
    if (!table) return;
    const wide = Math.ceil((table.size[0] / PER) * PX_PER_M) + 2 * SIDE;
    paper.style.minWidth = `${wide}px`;
    scale = (paper.clientWidth - 2 * SIDE) / table.size[0];
    const height = TOP + (table.top - table.bottom) * scale + UNDER;
    drawn.setAttribute("width", paper.clientWidth);
    drawn.setAttribute("height", height.toFixed(0));
    drawn.replaceChildren();
    const base = TOP + (table.top - table.bottom) * scale;
    for (const panel of table.panels) make(drawn, "polygon", "panel", { points: points(panel.outline) });
    for (const panel of table.panels) make(drawn, "polyline", "hem", { points: points(panel.lower) });
    for (const seam of table.seams) {
      const [dx] = shiftOf(`seam ${seam.name}`), moved = (p) => [p[0] + dx, p[1]];
      make(drawn, "polyline", "seam", { points: points([moved(seam.low), moved(seam.high)]) });
      const [x, y] = px(moved(seam.high));
      // The seam that closes the ring has its button at its first place.
      if (seam.low[0] === seam.first) make(drawn, "line", "lead", { x1: x, y1: HALF + 15, x2: x, y2: y.toFixed(1) });
      else closing(x, y, seam.sign);
    }
    // Where the seam that closes the ring stands once only, the right end says that it is the first one again.
    const first = table.seams.reduce((a, b) => (b.low[0] < a.low[0] ? b : a), table.seams[0]);
    if (first && table.seams.filter((seam) => seam.name === first.name).length === 1 && table.seams.length === table.panels.length) {
      const spots = table.panels.flatMap((panel) => panel.outline), most = (far) => spots.reduce((a, b) => (far(b) > far(a) ? b : a));
      const low = most((p) => p[0] - p[1]), high = most((p) => p[0] + p[1]), [x, y] = px(high);
      make(drawn, "polyline", "seam", { points: points([low, high]) });
      closing(x, y, first.sign);
    }
    for (const thing of things()) if (thing.window) drawWindow(thing);
    table.places.forEach((place, i) => {
      const spot = spotAt(place.arc);
      if (!spot) return;
      const [x, y] = px(spot), css = i === chosen ? " chosen" : "";
      if (i === chosen) make(drawn, "line", "station", { x1: x, y1: TOP - 6, x2: x, y2: y });
      make(drawn, "path", `mark-at${css}`, { d: `M${x.toFixed(1)} ${(y + 3).toFixed(1)}l${MARK} ${1.4 * MARK}h${-2 * MARK}z` });
      text(drawn, `number${css}`, [x, base + UNDER - 4], String(i + 1));
    });
    for (const panel of table.panels) {
      const [x0, x1] = box(panel.lower).slice(0, 2), label = panel.number;
      if ((x1 - x0) * scale > label.length * LETTER + 8) text(drawn, "who", [px([x0, 0])[0] + 6, px([0, Math.max(...panel.lower.map((p) => p[1]))])[1] - 8], label, "start");
    }
    place();
  }

  function closing(x, y, sign) {
    make(drawn, "line", "lead", { x1: x, y1: HALF + 15, x2: x, y2: y.toFixed(1) });
    make(drawn, "circle", "again", { cx: x.toFixed(1), cy: HALF, r: 15 });
    text(drawn, "sign", [x, HALF + 5], sign);
  }

  function drawWindow({ id, window }) {
    const [dx, dy] = shiftOf(id), moved = (list) => list.map((p) => [p[0] + dx, p[1] + dy]);
    const group = make(drawn, "g", window.fits ? "window" : "window bad");
    const sight = moved(window.sight), [x0, x1, y0, y1] = box(sight), middle = px([(x0 + x1) / 2, (y0 + y1) / 2]);
    make(group, "polygon", "largest", { points: points(moved(window.largest)) });
    make(group, "polygon", "sight", { points: points(sight) });
    const label = window.fits ? window.name : `${window.name}: does not fit`;
    const fit = (words) => words.length * LETTER < (x1 - x0) * scale - 6 && (y1 - y0) * scale > 20;
    const shown = [label, window.name, window.fits ? "" : "×"].find((words) => words && fit(words));
    if (shown) text(group, "called", [middle[0], middle[1] + 5], shown);
  }

  // One button a window or seam; those that stay are the same elements: focus and a held pointer stay with them.
  function place() {
    const wanted = things(), ids = new Set(wanted.map((thing) => thing.id));
    for (const [id, button] of buttons) if (!ids.has(id)) { button.remove(); buttons.delete(id); }
    for (const thing of wanted) {
      const { id, window, seam, ends } = thing;
      let button = buttons.get(id);
      if (!button) {
        button = document.createElement("button");
        button.type = "button";
        button.dataset.id = id;
        button.setAttribute("aria-describedby", "strip-help");
        buttons.set(id, button);
        grips.append(button);
      }
      const [dx, dy] = shiftOf(id);
      let area = null;
      if (window) {
        const [x0, x1, y0, y1] = box(window.largest.map((p) => [p[0] + dx, p[1] + dy])), a = px([x0, y1]), b = px([x1, y0]);
        const w = Math.max(b[0] - a[0], 2 * HALF), h = Math.max(b[1] - a[1], 2 * HALF);
        area = [(a[0] + b[0] - w) / 2, (a[1] + b[1] - h) / 2, w, h];
      } else {
        const [x] = px([ends[0].high[0] + dx, 0]);
        area = [x - HALF, 0, 2 * HALF, 2 * HALF];
        if (button.textContent !== seam.sign) button.textContent = seam.sign;
      }
      button.className = window ? "grip-window" : "grip-seam";
      button.toggleAttribute("data-held", Boolean(held && held.thing.id === id));
      button.style.transform = `translate(${area[0].toFixed(1)}px, ${area[1].toFixed(1)}px)`;
      Object.assign(button.style, { width: `${area[2].toFixed(1)}px`, height: `${area[3].toFixed(1)}px` });
      const label = `${window ? window.name : `Seam ${seam.sign}, ${seam.name}`}: ${saidOf(thing)}${window && !window.fits ? "; does not fit there" : ""}; arrow keys move it`;
      if (button.getAttribute("aria-label") !== label) button.setAttribute("aria-label", label);
    }
    const focused = document.activeElement && grips.contains(document.activeElement) ? document.activeElement.dataset.id : "";
    const one = moving()?.thing || wanted.find((thing) => thing.id === focused);
    says.hidden = !one;
    if (!one) return;
    says.textContent = shortOf(one);
    const at = buttons.get(one.id).getBoundingClientRect(), own = paper.getBoundingClientRect(), roll = find("roll");
    const left = Math.min(Math.max(at.left - own.left + at.width / 2 - says.offsetWidth / 2, roll.scrollLeft), roll.scrollLeft + roll.clientWidth - says.offsetWidth);
    // Under way above it, where no finger lies; at rest below it, where it covers no letter.
    const above = at.top - own.top - says.offsetHeight - 8;
    says.style.transform = `translate(${left.toFixed(0)}px, ${(above < 0 || !moving() ? at.bottom - own.top + 4 : above).toFixed(0)}px)`;
  }

  function lead(one, dx, dy) {
    const step = table.steps[1], whole = (value) => Math.round(value / step) * step;
    const { window, seam } = one.thing, base = window ? [window.move, window.rise] : [seam.arc, 0];
    shifts.set(one.thing.id, [whole(base[0] + one.from[0] + dx) - base[0], window ? Math.max(whole(base[1] + one.from[1] + dy), 0) - base[1] : 0]);
    draw();
  }

  async function drop(one, join) {
    const at = placeOf(one.thing), { window, seam, id } = one.thing, now = shiftOf(id);
    if (Math.round(now[0]) === Math.round(one.from[0]) && Math.round(now[1]) === Math.round(one.from[1])) { draw(); return; }
    const fields = { of_file: document.body.dataset.file, ...(join ? { join: id } : {}) };
    const place = window ? { entry: window.entry, along: at[0] / PER, bottom: at[1] / PER } : { seam: seam.name, at: at[0] / PER };
    const answer = await post(window ? "/do/walls-window" : "/do/walls-seam", { ...fields, ...place });
    tell(answer.said, !answer.ok);
    if (!answer.ok || answer.said.startsWith("Left ")) { shifts.set(id, one.from); draw(); }
    root.dataset.dropped = String(answer.ok);
    read();
  }

  grips.addEventListener("pointerdown", (event) => {
    const button = event.target.closest("button");
    if (!button || event.button > 0 || held) return;
    if (keys) putKeys();
    const thing = things().find(({ id }) => id === button.dataset.id);
    held = { thing, id: event.pointerId, at: [event.clientX, event.clientY], from: shiftOf(thing.id), moved: false };
    button.setPointerCapture(event.pointerId);
    button.focus({ preventScroll: true });
    event.preventDefault();
    place();
  });
  grips.addEventListener("pointermove", (event) => {
    if (!held || event.pointerId !== held.id) return;
    const dx = event.clientX - held.at[0], dy = event.clientY - held.at[1];
    if (!held.moved && Math.hypot(dx, dy) < STILL) return;
    held.moved = true;
    lead(held, dx / scale, -dy / scale);
  });
  function release(event, given) {
    if (!held || event.pointerId !== held.id) return;
    const one = held;
    held = null;
    if (one.moved && given) drop(one, false);
    else if (one.moved) back(one);
    else if (one.thing.window) choose(nearest(arcAt((event.clientX - paper.getBoundingClientRect().left - SIDE) / scale)));
    draw();
  }
  grips.addEventListener("pointerup", (event) => release(event, true));
  grips.addEventListener("pointercancel", (event) => release(event, false));

  function back(one) {
    shifts.set(one.thing.id, one.from);
    tell("Left as it was.");
    draw();
    read();
  }
  function putKeys() {
    const one = keys;
    clearTimeout(one.timer);
    keys = null;
    drop(one, true);
    draw();
  }
  grips.addEventListener("keydown", (event) => {
    const button = event.target.closest("button"), arrow = ARROWS[event.key];
    if (!button || !arrow || event.ctrlKey || event.metaKey || event.altKey || held) return;
    const thing = things().find(({ id }) => id === button.dataset.id);
    event.preventDefault();
    if (!keys || keys.thing.id !== thing.id) {
      if (keys) putKeys();
      keys = { thing, from: shiftOf(thing.id), sum: [0, 0] };
    }
    clearTimeout(keys.timer);
    keys.timer = setTimeout(putKeys, PAUSE);
    const step = table.steps[event.shiftKey ? 1 : 0];
    keys.sum = keys.sum.map((v, i) => v + arrow[i] * step);
    lead(keys, ...keys.sum);
  });
  grips.addEventListener("focusin", place);
  grips.addEventListener("focusout", () => { if (keys) putKeys(); else setTimeout(() => { if (table) place(); }); });
  document.addEventListener("keydown", (event) => {
    const one = event.key === "Escape" && moving();
    if (!one) return;
    event.preventDefault();
    clearTimeout(one.timer);
    held = keys = null;
    back(one);
  });

  drawn.addEventListener("click", (event) => {
    if (!table || !table.places.length) return;
    choose(nearest(arcAt((event.clientX - paper.getBoundingClientRect().left - SIDE) / scale)));
  });
  function choose(i) {
    if (!table.places[i]) return;
    chosen = i;
    const radio = stations.querySelector(`[value="${i}"]`);
    if (radio) radio.checked = true;
    draw();
    document.dispatchEvent(new CustomEvent("loftwright:station", { detail: { name: table.places[i].name } }));
  }
  stations.addEventListener("change", (event) => choose(Number(event.target.value)));

  function offer() {
    const key = table.places.map((place) => place.name).join("|");
    stations.hidden = !key;
    if (stations.dataset.shown === key) return;
    stations.dataset.shown = key;
    if (chosen >= table.places.length) chosen = 0;
    for (const old of stations.querySelectorAll("label")) old.remove();
    table.places.forEach((place, i) => {
      const label = document.createElement("label"), input = document.createElement("input");
      Object.assign(input, { type: "radio", name: "station", value: String(i), checked: i === chosen });
      input.autocomplete = "off";
      label.append(input, `${i + 1} ${place.name}`);
      stations.append(label);
    });
  }

  function read() {
    const data = document.querySelector("[data-strip-tables]"), next = data ? data.textContent : "";
    root.hidden = !next;
    if (!next || moving() || !news) return;
    news = false;
    // What was moved stays where it was put until the walls are judged with it.
    if (!data.hasAttribute("data-before")) shifts.clear();
    if (next !== saved) {
      saved = next;
      table = JSON.parse(next);
      for (const panel of table.panels) Object.assign(panel, { outline: pairs(panel.outline), lower: pairs(panel.lower) });
      for (const window of table.windows) Object.assign(window, { sight: pairs(window.sight), largest: pairs(window.largest) });
      for (const seam of table.seams) seam.first = Math.min(...table.seams.filter((other) => other.name === seam.name).map((other) => other.low[0]));
      const heights = table.panels.flatMap((panel) => panel.outline.map((p) => p[1]));
      Object.assign(table, { top: Math.max(...heights), bottom: Math.min(...heights) });
      offer();
    }
    draw();
  }

  document.addEventListener("loftwright:parts", (event) => { if (event.detail.parts.wallstrip !== undefined) { news = true; read(); } });
  new ResizeObserver(draw).observe(find("roll"));
  root.dataset.ready = "yes";
  read();
}
