// The drawing to scale: points are moved by mouse, finger or arrow keys, and everything follows.
import { arrows } from "./arrows.js";
import { gripLayer } from "./grips.js";
import { groups } from "./groups.js";
import { hand } from "./hand.js";
import { label } from "./label.js";
import { greetWith } from "./live.js";
import { pointPanel } from "./point.js";
import { figure, moved } from "./pose.js";
import { readout } from "./readout.js";
import { roof } from "./roof.js";
import { talk } from "./talk.js";
import { zoom } from "./zoom.js";

const GLIDE = 220;
const LOST = "The connection is lost: the point is back where it was.";

function note(name) {
  performance.mark(name);
  performance.clearMarks(name);
}

export function mount(root, { send, on, now = () => performance.now() }) {
  const find = (selector) => root.querySelector(selector);
  const paper = find("[data-paper]"), box = find("[data-grips]"), line = find("[data-said]");
  const slider = find("[data-slider]"), far = find("[data-far]"), zones = find("[data-zones]");
  const tables = find("[data-tables]");
  const drawn = roof(find("[data-side]"), zones, Object.fromEntries([...root.querySelectorAll("[data-chart]")].map((el) => [el.dataset.chart, el])));
  const figures = readout(find("[data-forces]"), find("[data-others]"), find("[data-band]"));
  const layer = gripLayer(box, find("[data-help]").id);
  const kinds = groups(find("[data-choose]"), layer, () => place());
  const panel = pointPanel(find("[data-point]"), find("[data-no-point]"));
  const asking = talk(send, now);
  const view = zoom(() => { frame(); place(); });
  const says = label(find("[data-says]"), paper, () => drawn.svg);

  let picture = null, accepted = null, newest = 0, dead = 0, width = 0;
  let state = null, gliding = null;
  const away = new Map();  // places that are not accepted yet: path -> { at, ties, dropped }
  let told = -1;

  function gripOf(path, from = picture) { return from && from.grips.find((grip) => grip.path === path); }
  function placeOf(grip) { return away.has(grip.path) ? away.get(grip.path).at : grip.at; }
  // What pointers and keys see of this; `held` is the point under a pointer, `keys` the one that arrow keys move.
  const board = {
    paper, layer, view, held: null, keys: null,
    gripOf, placeOf, choosePoint, take, moveTo, drop, cancel, show, metres, offPaper, note,
    get picture() { return picture; },
    get width() { return width; },
  };
  const moving = () => (board.held && board.held.moved ? board.held : board.keys);
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
    for (const one of [board.held, board.keys]) if (one && one.path === grip.path) return one.pose;
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
      if (grip.kind === "zone" && !kinds.hides("zone")) {
        const dot = grip.path.lastIndexOf("."), name = grip.path.slice(0, dot);
        corners.set(name, { ...corners.get(name), pose, [grip.path.slice(dot + 1) === "from" ? "a" : "b"]: at });
      }
    }
    drawn.zones(new Map([...corners].filter(([, zone]) => zone.a && zone.b)), state.page);
    const one = moving(), at = one && layer.at(one.path);
    panel.moving(Boolean(one));
    if (at) says.show(words(away.get(one.path).at).join(", "), at); else says.hide();
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
    kinds.sync(next.grips, width);
    frame();
    show();
    if (before !== next.side.view.join()) stay();
    if (panel.path) panel.show(gripOf(panel.path, accepted || next) || null);
    note("curves");
  }

  // Where the scale has changed, a held point stays where it is in the van and goes on from there.
  function stay() {
    const { held } = board;
    if (held && held.moved) held.offset = [0, 1].map((i) => layer.at(held.path)[i] - held.last[i]);
  }

  function accept(next) {
    accepted = next;
    if (moving()) return;
    // What was dropped is in the new picture; nothing else may be held.
    for (const [path, one] of away) if (one.dropped !== "sent" && !(gliding && gliding.path === path)) away.delete(path);
    draw(next);
  }

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
      if (t >= 1) { gliding = null; away.delete(path); if (moving()) show(); else draw(accepted); return; }
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
    board.held = null;
    board.keys = null;
    paper.classList.remove("holding");
    tell("Left as it was.");
    draw(accepted);
  }

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
    const one = moving();
    if (one) {
      if (board.keys) clearTimeout(board.keys.timer);
      event.preventDefault();
      layer.mark("held", null);
      cancel(one.path);
    } else if (panel.has(event.target) && layer.button(panel.path)) layer.button(panel.path).focus();
  });

  hand(board);
  board.dropKeys = arrows(board, box).drop;

  // --- what the program answers ----------------------------------------------------------------------

  on("trial", (message) => {
    asking.answered(message.seq);
    if (message.seq <= dead || message.seq <= newest || !accepted) return;
    const one = moving();
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
      if (Math.abs(width - asked) > 4 && !moving() && send({ t: "width", width: Math.round(width) })) asked = width;
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
