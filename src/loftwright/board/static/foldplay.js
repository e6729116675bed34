// The fold in section while the roof comes down: looked up between the poses of the table that came with the page.
import { between, station } from "./pose.js";

const SVG = "http://www.w3.org/2000/svg";
const PER = 10, EDGE = 22, MOST = 380, LEAST = 220, PER_CENT = 100, LASTS = 7000, ROOM = 300;

export function start() {
  const root = document.querySelector("[data-foldplay]");
  if (!root) return;
  const find = (name) => root.querySelector(`[data-${name}]`);
  const drawn = find("drawn"), slider = find("slider"), open = find("open"), says = find("says"), counts = find("counts"), facts = find("facts"), title = find("title"), play = find("play"), ends = find("ends");
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let table = null, saved = "", name = "", running = 0;

  const place = () => table.places.find((one) => one.name === name) || table.places[0];

  function make(tag, css, more, parent = drawn) {
    const made = document.createElementNS(SVG, tag);
    made.setAttribute("class", css);
    for (const [key, value] of Object.entries(more)) made.setAttribute(key, value);
    parent.append(made);
    return made;
  }

  // The pose at a share open; where two poses have unlike many points, the nearer one.
  function poseAt(poses, share) {
    if (poses.length === 1) return poses[0];
    const at = station(poses.map((pose) => pose.open), share), a = poses[at[0]], b = poses[at[0] + 1];
    const mixed = (key) => {
      const [one, other] = [a[key], b[key]];
      if (!one || !other || one.length !== other.length) return at[1] < 0.5 ? one : other;
      return one.map((_, i) => between([one[i], other[i]], [0, at[1]]));
    };
    return { cloth: mixed("cloth"), shell: mixed("shell"), bar: mixed("bar") };
  }

  function show() {
    if (!table || root.hidden) return;
    const one = place(), share = Number(slider.value) / PER_CENT;
    const much = slider.value === "0" ? "closed" : slider.value === "100" ? "fully open" : `${slider.value} %`;
    open.textContent = much;
    slider.setAttribute("aria-valuetext", much);
    drawn.replaceChildren();
    if (!one.poses.length) { drawn.setAttribute("height", "0"); return; }
    const pose = poseAt(one.poses, share), all = [...pose.cloth, ...pose.shell];
    const us = all.filter((_, i) => i % 2 === 0), zs = all.filter((_, i) => i % 2 === 1);
    for (const box of one.boxes) { us.push(box[0], box[2]); zs.push(box[1], box[3]); }
    if (one.room) { us.push(0, one.room[0]); zs.push(0, one.room[1]); }
    // The view comes nearer as the fold gets flatter, but never beyond what a hand's breadth needs.
    const width = drawn.parentElement.clientWidth, least = ROOM * PER;
    const [u0, u1, z0, z1] = [Math.min(...us), Math.max(...us, Math.min(...us) + least), Math.min(...zs, -0.1 * least), Math.max(...zs)];
    const height = Math.min(Math.max(0.62 * width, LEAST), MOST);
    const k = Math.min((width - 2 * EDGE) / (u1 - u0), (height - 3 * EDGE) / Math.max(z1 - z0, 0.4 * least));
    const left = (width - k * (u1 - u0)) / 2;
    const px = (u, z) => [(left + k * (u - u0)).toFixed(1), (height - 1.9 * EDGE - k * (z - z0)).toFixed(1)];
    const line = (flat) => Array.from({ length: flat.length / 2 }, (_, i) => px(flat[2 * i], flat[2 * i + 1]).join()).join(" ");
    drawn.setAttribute("width", width);
    drawn.setAttribute("height", height.toFixed(0));
    const hatch = make("pattern", "", { id: "fold-hatch", width: 7, height: 7, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" });
    make("line", "hatch", { x1: 0, y1: 0, x2: 0, y2: 7 }, hatch);
    const rect = (css, a, b, c, d) => { const [x, y] = px(a, d), [x2, y2] = px(c, b); make("rect", css, { x, y, width: Math.max(x2 - x, 0).toFixed(1), height: Math.max(y2 - y, 0).toFixed(1) }); };
    for (const box of one.boxes) rect("solid-box", ...box);
    if (one.room) rect("room", 0, 0, ...one.room);
    if (ends.checked) for (const end of one.ends) make("polyline", "end", { points: line(end) });
    make("polyline", "shell", { points: line(pose.shell) });
    if (pose.bar) { const [u, z, r] = pose.bar, [cx, cy] = px(u, z); make("circle", "solid-box", { cx, cy, r: (k * r).toFixed(1) }); }
    make("polyline", "cloth", { points: line(pose.cloth) });
    const [ox, oy] = px(0, 0);
    make("circle", "foot", { cx: ox, cy: oy, r: 4 });
    // A bar of known length: the scale changes on the way.
    const { unit, long, text } = table.bar, bar = k * long, y = height - 10;
    make("path", "scale", { d: `M${EDGE} ${y - 4}v8M${EDGE} ${y}h${bar.toFixed(1)}m0 -4v8` });
    make("text", "note", { x: EDGE + bar + 8, y: y + 5 }).textContent = `${text} ${unit}`;
    drawn.setAttribute("aria-label", `The fold in section, ${one.name}, ${much}. ${one.says}`);
  }

  function write() {
    const one = place();
    title.textContent = `The fold: ${one.name}`;
    says.textContent = one.says;
    counts.textContent = one.counts;
    facts.replaceChildren(...one.facts.map(([label, value]) => {
      const row = document.createElement("div"), dt = document.createElement("dt"), dd = document.createElement("dd");
      dt.textContent = label;
      dd.textContent = value;
      row.append(dt, dd);
      return row;
    }));
    for (const part of [drawn.parentElement, ...root.querySelectorAll(".foldslide, .foldlegend")]) part.hidden = !one.poses.length;
    show();
  }

  function halt() {
    cancelAnimationFrame(running);
    running = 0;
    play.textContent = slider.value === "0" ? "Open it again" : "Close it slowly";
  }

  play.addEventListener("click", () => {
    if (running) { halt(); return; }
    const from = Number(slider.value);
    if (from === 0 || still.matches) { slider.value = from === 0 ? "100" : "0"; show(); halt(); return; }
    let began = 0;
    const step = (now) => {
      began = began || now;
      const left = from * Math.max(0, 1 - (now - began) / (LASTS * from / PER_CENT));
      slider.value = String(Math.round(left));
      show();
      if (left > 0) running = requestAnimationFrame(step); else halt();
    };
    play.textContent = "Stop";
    running = requestAnimationFrame(step);
  });

  function read() {
    const data = document.querySelector("[data-fold-tables]"), next = data ? data.textContent : "";
    root.hidden = !next;
    if (!next) { halt(); return; }
    if (next === saved) return;
    saved = next;
    table = JSON.parse(next);
    write();
  }

  slider.addEventListener("input", () => { if (running) halt(); show(); halt(); });
  ends.addEventListener("change", show);
  document.addEventListener("loftwright:station", (event) => { name = event.detail.name; if (table && !root.hidden) write(); });
  document.addEventListener("loftwright:parts", (event) => { if (event.detail.parts.wallfold !== undefined) read(); });
  new ResizeObserver(show).observe(root);
  read();
}
