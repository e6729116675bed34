// Draws a picture in its place and moves shell, arms, springs, handle and the charts' markers with the slider.
import { between, moved, posesAt, station } from "./pose.js";

const SVG = "http://www.w3.org/2000/svg";
const fixed = (v) => v.toFixed(3);

function put(el, names, values) { names.forEach((name, i) => el.setAttribute(name, fixed(values[i]))); }

// Puts a drawing in the place of another; marks that are the same stay, so that only the others are laid out anew.
function renew(box, text) {
  const fresh = document.createElement("template");
  fresh.innerHTML = text;
  const next = fresh.content.firstElementChild, now = box.firstElementChild;
  if (!now) { box.replaceChildren(next); return; }
  for (const { name, value } of next.attributes) if (now.getAttribute(name) !== value) now.setAttribute(name, value);
  const old = [...now.children], marks = [...next.children];
  marks.forEach((mark, i) => {
    if (!old[i]) now.append(mark);
    else if (!old[i].isEqualNode(mark)) old[i].replaceWith(mark);
  });
  for (const one of old.slice(marks.length)) one.remove();
}

export function roof(side, zones, charts) {
  let parts = new Map(), shown = "", drawn = new Map();
  const rectangles = new Map();

  function collect() {
    parts = new Map();
    for (const el of side.querySelectorAll("[data-part]")) {
      if (!parts.has(el.dataset.part)) parts.set(el.dataset.part, []);
      const group = { el, lines: [], dots: [] };
      if (el.dataset.part.startsWith("spring ")) {
        group.lines = [...el.querySelectorAll("line")];
        group.dots = [...el.querySelectorAll("circle")];
      }
      parts.get(el.dataset.part).push(group);
    }
  }

  return {
    get svg() { return side.firstElementChild; },
    draw(picture) {
      if (shown !== picture.side.svg) {
        shown = picture.side.svg;
        renew(side, shown);
        collect();
      }
      const names = new Set();
      for (const chart of picture.charts) {
        names.add(chart.name);
        const box = charts[chart.name], old = drawn.get(chart.name);
        if (!box) continue;
        box.hidden = false;
        if (old && old.svg === chart.svg) { old.panels = chart.panels; continue; }
        renew(box, chart.svg);
        const markers = chart.panels.map((panel) => box.querySelector(`[data-part="marker ${panel.kind}"]`));
        drawn.set(chart.name, { svg: chart.svg, panels: chart.panels, markers });
      }
      for (const [name, box] of Object.entries(charts)) {
        if (!names.has(name)) { box.hidden = true; drawn.delete(name); }
      }
    },
    // `ends` are spring ends that are being moved, by "0 foot" and the like.
    pose(picture, percent, ends) {
      const at = station(picture.fraction, percent / 100), poses = posesAt(picture.poses, at);
      const [vx, vy, s] = picture.side.view, page = (spot) => [vx + s * spot[0], vy - s * spot[1]];
      for (const body of Object.keys(picture.poses)) {
        const p = poses[body], o = page(p);
        const how = `translate(${fixed(o[0])} ${fixed(o[1])}) rotate(${(-p[2] * 180 / Math.PI).toFixed(4)})`;
        for (const name of [body, `pivot ${body}`]) {
          for (const group of parts.get(name) || []) group.el.setAttribute("transform", how);
        }
      }
      if (picture.handle) {
        const o = page(moved(poses.shell, picture.handle));
        for (const group of parts.get("handle") || []) group.el.setAttribute("transform", `translate(${fixed(o[0])} ${fixed(o[1])})`);
      }
      picture.springs.forEach((spring, i) => {
        const foot = moved(poses[spring.foot_on], ends.get(`${i} foot`) || spring.foot);
        const head = moved(poses[spring.head_on], ends.get(`${i} head`) || spring.head);
        const length = Math.hypot(head[0] - foot[0], head[1] - foot[1]);
        const t = length > 0 ? 1 - Math.min(1, spring.tube / length) : 0;
        const a = page(foot), b = page([foot[0] + t * (head[0] - foot[0]), foot[1] + t * (head[1] - foot[1])]), c = page(head);
        for (const group of parts.get(`spring ${i}`) || []) {
          put(group.lines[0], ["x1", "y1", "x2", "y2"], [...a, ...b]);
          put(group.lines[1], ["x1", "y1", "x2", "y2"], [...b, ...c]);
          put(group.dots[0], ["cx", "cy"], a);
          put(group.dots[1], ["cx", "cy"], c);
        }
      });
      for (const { panels, markers } of drawn.values()) {
        panels.forEach((panel, i) => {
          markers[i].setAttribute("transform", `translate(${fixed(panel.x0 + (panel.x1 - panel.x0) * percent / 100)} 0)`);
        });
      }
      return { at, poses, x: station(picture.x, percent), page };
    },
    // A zone is the rectangle between its two corners, carried by its body.
    zones(corners, page) {
      for (const [name, shape] of rectangles) {
        if (!corners.has(name)) { shape.remove(); rectangles.delete(name); }
      }
      for (const [name, { pose, a, b }] of corners) {
        let shape = rectangles.get(name);
        if (!shape) {
          shape = document.createElementNS(SVG, "polygon");
          zones.append(shape);
          rectangles.set(name, shape);
        }
        const spots = [[a[0], a[1]], [b[0], a[1]], [b[0], b[1]], [a[0], b[1]]].map((spot) => page(moved(pose, spot)));
        shape.setAttribute("points", spots.map((spot) => spot.map(fixed).join(",")).join(" "));
      }
    },
    opening: (picture, at) => between(picture.opening, at),
  };
}
