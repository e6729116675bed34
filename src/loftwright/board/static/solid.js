// The roof in three dimensions, drawn with flat faces on a plain canvas.
//
// mount(root, data) draws into the markup of parts/solid.html. `data` is what documents.solid_picture makes: places in
// millimetres in the van's frame (x to the cab, y to the left, z up), closed, and the table of poses between which this
// file interpolates. Faces are put in order by a tree that cuts them with one another's planes; it is built once for an
// opening and only walked through while the view turns. Nothing runs while nothing changes.
import { VIEWS, camera, seenFrom } from "./solid-camera.js";
import { brush, palette, write } from "./solid-ink.js";
import { tree, walk } from "./solid-order.js";
import { figure } from "./solid-person.js";
import { posed, readFaces } from "./solid-shapes.js";

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
    const view = camera(data, { az, el, zoom, shift }, width, height);
    pen.setTransform(dense, 0, 0, dense, 0, 0);
    pen.clearRect(0, 0, width, height);
    pen.lineJoin = pen.lineCap = "round";
    const paint = brush(pen, colours, { faces, polygons: order.polygons, view, width });
    walk(order.root, view.eye, figure(data, percent, el, view), paint);
    write(pen, colours, data, { el, view, width });
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
