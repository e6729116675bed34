// The drawing to scale: points are moved by mouse, finger or arrow keys, and everything follows.
import { greetWith } from "./live.js";
import { gripLayer, groupOf } from "./grips.js";
import { pointPanel } from "./point.js";
import { alongAxis, closed, figure, moved, rounded } from "./pose.js";
import { readout } from "./readout.js";
import { roof } from "./roof.js";
import { talk } from "./talk.js";
import { zoom } from "./zoom.js";

const REACH = 22, STILL = 3, PAUSE = 400, GLIDE = 220, CROWDED = 10;
const LOST = "The connection is lost: the point is back where it was.";
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

function note(name) {
  performance.mark(name);
  performance.clearMarks(name);
}

export function mount(root, { send, on, now = () => performance.now() }) {
  const find = (selector) => root.querySelector(selector);
  const paper = find("[data-paper]"), box = find("[data-grips]"), says = find("[data-says]"), line = find("[data-said]");
  const slider = find("[data-slider]"), far = find("[data-far]"), zones = find("[data-zones]"), choose = find("[data-choose]");
  const tables = find("[data-tables]");
  const drawn = roof(find("[data-side]"), zones, Object.fromEntries([...root.querySelectorAll("[data-chart]")].map((el) => [el.dataset.chart, el])));
  const figures = readout(find("[data-forces]"), find("[data-others]"), find("[data-band]"));
  const layer = gripLayer(box, find("[data-help]").id);
  const panel = pointPanel(find("[data-point]"), find("[data-no-point]"));
  const asking = talk(send, now);
  const view = zoom(() => { frame(); place(); });

  let picture = null, accepted = null, newest = 0, dead = 0, width = 0;
  let held = null, keys = null, state = null, gliding = null;
  const away = new Map();  // places that are not accepted yet: path -> { at, ties, dropped }
  const hidden = new Set();
  let chosen = false, told = -1;

  const gripOf = (path, from = picture) => from && from.grips.find((grip) => grip.path === path);
  const placeOf = (grip) => (away.has(grip.path) ? away.get(grip.path).at : grip.at);
  const busy = () => Boolean((held && held.moved) || keys);
  const tell = (text, bad = false) => { line.textContent = text; line.classList.toggle("bad", bad); };

  function words(at) {
    const { unit, per_metre: per, decimals } = picture.length;
    return [`${figure(at[0] * per, decimals)} ${unit} ${picture.along}`, `${figure(Math.abs(at[1]) * per, decimals)} ${unit} ${at[1] < 0 ? "down" : "up"}`];
  }

  // --- drawing ---------------------------------------------------------------------------------------

  function frame() {
    const text = view.box().map((v) => v.toFixed(3)).join(" ");
    for (const svg of [drawn.svg, zones]) if (svg && svg.getAttribute("viewBox") !== text) svg.setAttribute("viewBox", text);
    paper.classList.toggle("zoomed", view.factor > 1);
    paper.classList.toggle("close", view.factor > 2);
    find("[data-zoom=out]").disabled = view.factor <= 1;
  }

  // Where a place on the drawing [mm] lies in the page's paper [CSS px], and back.
  function onPaper(place) {
    const [x, y, w] = view.box(), k = width / w;
    return [(place[0] - x) * k, (place[1] - y) * k];
  }
  function offPaper(px) {
    const [x, y, w] = view.box(), k = w / width;
    return [x + px[0] * k, y + px[1] * k];
  }
  function metres(place) {
    const [vx, vy, s] = picture.side.view;
    return [(place[0] - vx) / s, (vy - place[1]) / s];
  }

  function poseOf(grip) {
    if (held && held.path === grip.path) return held.pose;
    if (keys && keys.path === grip.path) return keys.pose;
    return state.poses[grip.body];
  }

  function place() {
    if (!picture || !state) return;
    const corners = new Map();
    for (const grip of picture.grips) {
      const at = placeOf(grip), pose = poseOf(grip);
      const [x, y] = onPaper(state.page(moved(pose, at)));
      const [along, up] = words(at);
      layer.place(grip.path, x, y, `${grip.label}, ${along}, ${up}; arrow keys move it`);
      if (grip.kind === "zone" && !hidden.has("zone")) {
        const dot = grip.path.lastIndexOf("."), name = grip.path.slice(0, dot);
        corners.set(name, { ...corners.get(name), pose, [grip.path.slice(dot + 1) === "from" ? "a" : "b"]: at });
      }
    }
    drawn.zones(new Map([...corners].filter(([, zone]) => zone.a && zone.b)), state.page);
    const path = (held && held.moved && held.path) || (keys && keys.path);
    says.hidden = !path;
    if (path && layer.at(path)) {
      const [x, y] = layer.at(path);
      says.textContent = words(away.get(path).at).join(", ");
      says.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(${x > width / 2 ? "-100%" : "0"}, ${y > 70 ? "-3.4rem" : "1.9rem"})`;
    }
  }

  function show() {
    if (!picture) return;
    const percent = Number(slider.value), ends = new Map();
    if (percent !== told) {
      told = percent;
      document.dispatchEvent(new CustomEvent("loftwright:opening", { detail: { percent } }));
    }
    for (const { at, ties } of away.values()) for (const tie of ties) ends.set(tie, at);
    state = drawn.pose(picture, percent, ends);
    figures.show(picture, state.at, state.x);
    const [unit, spoken, digits] = picture.unit_of_opening, open = drawn.opening(picture, state.at).toFixed(digits);
    const text = `${Math.round(percent)} % open, ${open}${unit}`;
    if (far.textContent !== text) {
      far.textContent = text;
      slider.setAttribute("aria-valuetext", `${Math.round(percent)} per cent open, ${open}${spoken}`);
    }
    place();
  }

  function draw(next) {
    const before = picture && picture.side.view.join();
    picture = next;
    view.resize(next.side.size);
    paper.style.aspectRatio = `${next.side.size[0]} / ${next.side.size[1]}`;
    drawn.draw(next);
    figures.build(next);
    layer.sync(next.grips);
    panel.along(next.along);
    groups();
    frame();
    show();
    if (before !== next.side.view.join()) stay();
    if (panel.path) panel.show(gripOf(panel.path, accepted || next) || null);
    note("curves");
  }

  // Where the scale has changed, a held point stays where it is in the van and goes on from there.
  function stay() {
    if (held && held.moved) held.offset = [0, 1].map((i) => layer.at(held.path)[i] - held.last[i]);
  }

  function accept(next) {
    accepted = next;
    if (busy()) return;
    // What was dropped is in the new picture; nothing else may be held.
    for (const [path, one] of away) if (one.dropped !== "sent" && !(gliding && gliding.path === path)) away.delete(path);
    draw(next);
  }

  // --- what to move ----------------------------------------------------------------------------------

  function groups() {
    const present = new Set(picture.grips.map((grip) => groupOf(grip.kind)));
    if (!chosen) {
      chosen = true;
      if (picture.grips.length > CROWDED) for (const name of ["zone", "hole"]) if (present.has(name)) hidden.add(name);
      if (picture.grips.length > CROWDED && width < 480) hidden.add("handle");
    }
    for (const button of choose.querySelectorAll("button")) {
      const name = button.dataset.group;
      if (name !== "all") {
        button.hidden = !present.has(name);
        button.setAttribute("aria-pressed", String(!hidden.has(name)));
      } else button.setAttribute("aria-pressed", String(![...present].some((one) => hidden.has(one))));
    }
    layer.hide(hidden);
  }

  choose.addEventListener("click", (event) => {
    const name = event.target.closest("button")?.dataset.group;
    if (!name || !picture) return;
    if (name === "all") hidden.clear();
    else if (hidden.has(name)) hidden.delete(name);
    else hidden.add(name);
    groups();
    place();
  });

  // --- moving a point --------------------------------------------------------------------------------

  function choosePoint(path) {
    panel.show(gripOf(path, accepted) || gripOf(path));
    layer.mark("chosen", path);
  }

  // Ends of springs that sit on the point follow it at once.
  function tiesOf(grip) {
    const ties = [];
    picture.springs.forEach((spring, i) => {
      for (const end of ["foot", "head"]) {
        const same = Math.hypot(spring[end][0] - grip.at[0], spring[end][1] - grip.at[1]) < 1e-6;
        if (grip.kind === "spring" && spring[`${end}_on`] === grip.body && same && grip.path.endsWith(end)) ties.push(`${i} ${end}`);
      }
    });
    return ties;
  }

  function take(grip) {
    if (gliding && gliding.path === grip.path) gliding = null;
    const old = away.get(grip.path);
    return { path: grip.path, pose: state.poses[grip.body], ties: old ? old.ties : tiesOf(grip), moved: false };
  }

  function moveTo(one, at) {
    const old = away.get(one.path);
    if (old && old.dropped !== "sent" && old.at[0] === at[0] && old.at[1] === at[1]) return;
    away.set(one.path, { at, ties: one.ties, dropped: "" });
    asking.ask({ t: "try", grip: one.path, x: at[0], z: at[1] });
  }

  function drop(one, join) {
    const { at } = away.get(one.path), grip = gripOf(one.path);
    const message = { t: "drop", grip: one.path, x: at[0], z: at[1], label: grip ? grip.label : one.path };
    const seq = asking.ask(join ? { ...message, join: one.path } : message);
    away.set(one.path, { at, ties: one.ties, dropped: "sent", seq });
    if (!seq) back(one.path, LOST);
  }

  // The point glides to its last accepted place; the reason is read out.
  function back(path, reason) {
    tell(reason, true);
    layer.mark("refused", null);
    const one = away.get(path), home = gripOf(path, accepted);
    if (!one || !home) { away.delete(path); draw(accepted); return; }
    const from = one.at, start = now(), still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const run = { path };
    gliding = run;
    one.dropped = "";
    const step = () => {
      if (gliding !== run) return;
      const t = still ? 1 : Math.min((now() - start) / GLIDE, 1), w = t * (2 - t);
      if (t >= 1) { gliding = null; away.delete(path); if (busy()) show(); else draw(accepted); return; }
      one.at = from.map((v, i) => v + w * (home.at[i] - v));
      show();
      requestAnimationFrame(step);
    };
    step();
  }

  function cancel(path) {
    dead = asking.forget();
    send({ t: "cancel" });
    layer.mark("refused", null);
    away.delete(path);
    held = null;
    keys = null;
    paper.classList.remove("holding");
    tell("Left as it was.");
    draw(accepted);
  }

  // --- mouse, pen, finger ----------------------------------------------------------------------------

  const pointers = new Map();
  let pan = null, pinch = null;

  const inPaper = (event, rect = paper.getBoundingClientRect()) => [event.clientX - rect.left, event.clientY - rect.top];

  // Where the paper lies in the window, and how far the page is scrolled.
  function seen() {
    const rect = paper.getBoundingClientRect();
    return { place: [rect.left, rect.top], scrolled: [scrollX, scrollY] };
  }

  // When other parts of the page push the paper about, a held point must not move over it.
  function slipped(at) {
    const next = seen();
    [0, 1].forEach((i) => {
      if (next.scrolled[i] === held.seen.scrolled[i]) held.slip[i] += next.place[i] - held.seen.place[i];
    });
    held.seen = next;
    return at.map((v, i) => v + held.slip[i]);
  }

  paper.addEventListener("pointerdown", (event) => {
    if (event.button > 0 || !picture) return;
    const at = inPaper(event);
    if (held) return;
    pointers.set(event.pointerId, at);
    if (pointers.size === 2) {
      pan = null;
      pinch = spread();
      return;
    }
    const path = layer.nearest(at[0], at[1], event.target.closest(".grip") ? 1.5 * REACH : REACH);
    if (path) {
      if (keys) dropKeys();
      const grip = gripOf(path);
      held = { ...take(grip), id: event.pointerId, start: at, seen: seen(), slip: [0, 0], offset: [0, 1].map((i) => layer.at(path)[i] - at[i]) };
      pointers.clear();
      paper.setPointerCapture(event.pointerId);
      event.preventDefault();
      layer.button(path).focus({ preventScroll: true });
      choosePoint(path);
      layer.mark("held", path);
      return;
    }
    if (view.factor > 1) {
      pan = at;
      paper.setPointerCapture(event.pointerId);
    }
  });

  function lead(at) {
    held.last = at;
    const spot = closed(held.pose, metres(offPaper([at[0] + held.offset[0], at[1] + held.offset[1]])));
    moveTo(held, rounded(spot, picture.steps[0]));
  }

  // Moves are handed over when a frame begins; where a browser also tells of them at once, the program is asked at
  // once, and its answer is there up to a frame sooner.
  paper.addEventListener("pointerrawupdate", (event) => {
    if (held && held.moved && event.pointerId === held.id) lead(slipped(inPaper(event)));
  });

  paper.addEventListener("pointermove", (event) => {
    if (!picture) return;
    let at = inPaper(event);
    if (held) {
      if (event.pointerId !== held.id) return;
      at = slipped(at);
      if (!held.moved && Math.hypot(at[0] - held.start[0], at[1] - held.start[1]) < STILL) return;
      held.moved = true;
      paper.classList.add("holding");
      lead(at);
      show();
      note("grip");
      return;
    }
    if (!pointers.has(event.pointerId)) {
      if (event.pointerType === "mouse") layer.mark("near", layer.nearest(at[0], at[1], REACH));
      return;
    }
    pointers.set(event.pointerId, at);
    const k = view.box()[2] / width;
    if (pinch && pointers.size === 2) {
      const next = spread();
      view.pan((next.at[0] - pinch.at[0]) * k, (next.at[1] - pinch.at[1]) * k);
      view.by(next.far / pinch.far, offPaper(next.at));
      pinch = next;
    } else if (pan) {
      view.pan((at[0] - pan[0]) * k, (at[1] - pan[1]) * k);
      pan = at;
    }
  });

  function spread() {
    const [a, b] = [...pointers.values()];
    return { at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], far: Math.max(Math.hypot(a[0] - b[0], a[1] - b[1]), 1) };
  }

  function release(event, given) {
    pointers.delete(event.pointerId);
    pan = null;
    if (pointers.size < 2) pinch = null;
    if (!held || event.pointerId !== held.id) return;
    const one = held;
    held = null;
    paper.classList.remove("holding");
    layer.mark("held", null);
    layer.mark("refused", null);
    if (!one.moved) { show(); return; }
    if (given) drop(one, false); else cancel(one.path);
    show();
  }
  paper.addEventListener("pointerup", (event) => release(event, true));
  paper.addEventListener("pointercancel", (event) => release(event, false));
  paper.addEventListener("pointerleave", () => layer.mark("near", null));
  paper.addEventListener("wheel", (event) => {
    if (!event.ctrlKey || !picture) return;
    event.preventDefault();
    view.by(Math.exp(-event.deltaY * 0.004), offPaper(inPaper(event)));
  }, { passive: false });
  paper.addEventListener("dragstart", (event) => event.preventDefault());

  root.addEventListener("click", (event) => {
    const way = event.target.closest("[data-zoom]")?.dataset.zoom;
    if (way === "in") view.by(1.5);
    if (way === "out") view.by(1 / 1.5);
    if (way === "fit") { view.fit(); send({ t: "width", width: Math.round(width) }); }
    const stop = event.target.closest("[data-stop]")?.dataset.stop;
    if (stop) { slider.value = stop; show(); }
    const grip = event.target.closest(".grip");
    // A click without a pointer is the Enter key.
    if (grip && event.detail === 0) { choosePoint(grip.dataset.path); panel.focus(); }
  });
  slider.addEventListener("input", show);
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    const one = held && held.moved ? held : keys;
    if (one) {
      if (keys) clearTimeout(keys.timer);
      event.preventDefault();
      layer.mark("held", null);
      cancel(one.path);
    } else if (panel.has(event.target) && layer.button(panel.path)) layer.button(panel.path).focus();
  });

  // --- arrow keys ------------------------------------------------------------------------------------

  function dropKeys() {
    const one = keys;
    clearTimeout(one.timer);
    keys = null;
    layer.mark("refused", null);
    drop(one, true);
    show();
  }

  box.addEventListener("keydown", (event) => {
    const button = event.target.closest(".grip"), arrow = ARROWS[event.key];
    if (!button || !arrow || event.ctrlKey || event.metaKey || event.altKey || held) return;
    event.preventDefault();
    const grip = gripOf(button.dataset.path);
    if (!keys || keys.path !== grip.path) {
      if (keys) dropKeys();
      keys = take(grip);
      choosePoint(grip.path);
    }
    clearTimeout(keys.timer);
    keys.timer = setTimeout(dropKeys, PAUSE);
    const step = picture.steps[event.shiftKey ? 1 : 0], [dx, dz] = alongAxis(keys.pose, ...arrow), at = placeOf(grip);
    moveTo(keys, [at[0] + dx * step, at[1] + dz * step].map((v) => Number(v.toFixed(7))));
    show();
    note("grip");
  });
  box.addEventListener("focusout", () => { if (keys) dropKeys(); });
  box.addEventListener("focusin", (event) => {
    const path = event.target.closest(".grip")?.dataset.path, at = path && layer.at(path);
    if (!at || held) return;
    const height = paper.clientHeight;
    if (at[0] < 0 || at[1] < 0 || at[0] > width || at[1] > height) view.to(offPaper(at));
  });

  // --- what the program answers ----------------------------------------------------------------------

  on("trial", (message) => {
    asking.answered(message.seq);
    if (message.seq <= dead || message.seq <= newest || !accepted) return;
    const one = held && held.moved ? held : keys;
    if (message.refused) {
      if (one) { tell(message.refused, true); layer.mark("refused", one.path); }
      return;
    }
    newest = message.seq;
    if (one) {
      if (line.classList.contains("bad")) tell("");
      layer.mark("refused", null);
    }
    draw(message.picture);
    root.dataset.drawn = String(message.seq);
  });

  on("dropped", (message) => {
    asking.answered(message.seq);
    newest = Math.max(newest, message.seq);
    tell(message.said || "", !message.ok);
    for (const [path, one] of [...away]) {
      // A point that was taken up again since then is left alone.
      if (one.dropped !== "sent" || one.seq !== message.seq) continue;
      if (message.ok) {
        one.dropped = "kept";
        for (const from of [picture, accepted]) { const grip = gripOf(path, from); if (grip) grip.at = one.at; }
      } else back(path, message.said || "This cannot be.");
    }
    root.dataset.dropped = String(message.seq);
    if (message.picture) accept(message.picture);
  });

  on("picture", (message) => {
    const none = find("[data-none]");
    none.hidden = Boolean(message.picture);
    if (message.picture) accept(message.picture);
    else none.textContent = (message.wrong || []).join(" ");
    root.classList.toggle("empty", !picture);
  });

  on("lost", () => {
    asking.lost();
    for (const [path, one] of [...away]) {
      if (one.dropped === "sent") back(path, LOST);
    }
  });

  // --- start -----------------------------------------------------------------------------------------

  let asked = 0, timer = 0;
  function measure() {
    width = paper.clientWidth;
    if (!asked) asked = Number(root.dataset.width) || 0;
    place();
    clearTimeout(timer);
    timer = setTimeout(() => {
      if (Math.abs(width - asked) > 4 && !busy() && send({ t: "width", width: Math.round(width) })) asked = width;
    }, 150);
  }
  new ResizeObserver(measure).observe(paper);
  width = paper.clientWidth;
  const first = tables && JSON.parse(tables.textContent);
  if (first) { accepted = first; draw(first); }
  root.dataset.ready = "yes";
  return { width: () => { asked = width; return Math.round(width); } };
}

export function start({ send, on }) {
  const root = document.querySelector("[data-drawing]");
  if (!root) return;
  const board = mount(root, { send, on });
  greetWith(() => ({ width: board.width() }));
}
