// The opening from above: corners of the cut line and their radius under mouse, finger or arrow keys.
import { arrows } from "./arrows.js";
import { post } from "./forms.js";
import { gripLayer } from "./grips.js";
import { hand } from "./hand.js";
import { label } from "./label.js";
import { AT_REST, figure } from "./pose.js";
import { zoom } from "./zoom.js";

const ROUND = 8, QUARTER = Math.PI / 2;

export function start() {
  const root = document.querySelector("[data-cut]");
  if (!root) return;
  const find = (name) => root.querySelector(`[data-${name}]`);
  const paper = find("paper"), box = find("grips"), plan = find("plan"), over = find("over"), line = find("said");
  const layer = gripLayer(box, find("help").id), view = zoom(() => { frame(); show(); });
  const says = label(find("says"), paper, () => plan.querySelector("svg"));
  // `now` is what the plan shows while a point is away: length, width and radius [m].
  let picture = null, now = null, saved = "";

  const board = {
    paper, layer, view, held: null, keys: null,
    gripOf: (path) => picture.grips.find((grip) => grip.path === path),
    placeOf, take: (grip) => ({ path: grip.path, pose: AT_REST, moved: false, inset: (now || begin()).inset }), moveTo, drop, cancel, show, metres, offPaper,
    choosePoint: (path) => layer.mark("chosen", path),
    note() {},
    get picture() { return picture; },
    get width() { return paper.clientWidth; },
  };
  const moving = () => (board.held && board.held.moved ? board.held : board.keys);
  const tell = (text, bad = false) => { line.textContent = text; line.classList.toggle("bad", bad); };

  const onPaper = ([px, py]) => {
    const [x, y, w] = view.box(), k = paper.clientWidth / w;
    return [(px - x) * k, (py - y) * k];
  };
  function offPaper(px) {
    const [x, y, w] = view.box(), k = w / paper.clientWidth;
    return [x + px[0] * k, y + px[1] * k];
  }
  const page = ([x, y]) => [picture.view[0] + picture.view[2] * x, picture.view[1] - picture.view[2] * y];
  function metres([px, py]) { return [(px - picture.view[0]) / picture.view[2], (picture.view[1] - py) / picture.view[2]]; }

  // Where each point lies: all corners go along with the one that is moved.
  function placeOf(grip) {
    if (!now) return grip.at;
    const half = now.width / 2;
    if (grip.path === "radius") return [now.length - now.inset, half - now.inset];
    return [grip.path.startsWith("front") ? now.length : 0, grip.path.endsWith("left") ? half : -half];
  }

  function begin() {
    const [length, width] = picture.opening, at = board.gripOf("radius").at;
    return { length, width, inset: length - at[0], radius: picture.radius };
  }

  function moveTo(one, at) {
    const next = now || begin(), step = picture.steps[0];
    if (one.path === "radius") {
      // The way along which it went farther counts: under a pointer from where it was taken, under keys from where it is.
      const from = one === board.held ? one.inset : next.inset, ways = [next.length - at[0], next.width / 2 - at[1]];
      const far = Math.abs(ways[0] - from) >= Math.abs(ways[1] - from) ? ways[0] : ways[1];
      const most = Math.min(next.length, next.width) / 2;
      next.inset = Number(Math.min(Math.max(Math.round(far / step) * step, 0), most).toFixed(7));
      next.radius = next.inset;
    } else {
      if (one.path.startsWith("front")) next.length = Math.max(at[0], step);
      next.width = Math.max(2 * (one.path.endsWith("left") ? at[1] : -at[1]), 2 * step);
    }
    now = next;
  }

  function words(path) {
    const { unit, per_metre: per, decimals } = picture.length, say = (value) => `${figure(value * per, decimals)} ${unit}`;
    if (path === "radius") return now || picture.radius !== null ? `radius ${say((now || picture).radius)}` : "radius not decided yet";
    const [length, width] = now ? [now.length, now.width] : picture.opening;
    return (path.startsWith("front") ? `length ${say(length)}, ` : "") + `width ${say(width)}`;
  }

  // The cut line as it would be, drawn over the plan.
  function outline() {
    if (!now) return "";
    const r = Math.min(now.radius || 0, now.length / 2, now.width / 2), h = now.width / 2, found = [];
    [[r, r - h, 2], [now.length - r, r - h, 3], [now.length - r, h - r, 0], [r, h - r, 1]].forEach(([x, y, turn]) => {
      for (let i = 0; i <= ROUND; i++) {
        const a = (turn + i / ROUND) * QUARTER;
        found.push(page([x + r * Math.cos(a), y + r * Math.sin(a)]).map((v) => v.toFixed(2)).join());
      }
    });
    return found.join(" ");
  }

  function show() {
    if (!picture) return;
    over.firstElementChild.setAttribute("points", outline());
    for (const grip of picture.grips) layer.place(grip.path, ...onPaper(page(placeOf(grip))), `${grip.label}: ${words(grip.path)}; arrow keys move it`);
    const one = moving();
    if (one) says.show(words(one.path), layer.at(one.path)); else says.hide();
  }

  function frame() {
    const text = view.box().map((v) => v.toFixed(3)).join(" ");
    for (const svg of [plan.querySelector("svg"), over]) svg?.setAttribute("viewBox", text);
    paper.classList.toggle("zoomed", view.factor > 1);
  }

  function draw() {
    const data = find("cut-tables"), text = data ? data.textContent : "";
    root.classList.toggle("empty", !text);
    if (!text || text === saved || moving()) return;
    const next = JSON.parse(text);
    saved = text;
    if (!picture || picture.svg !== next.svg) plan.innerHTML = next.svg;
    picture = next;
    now = null;
    view.resize(next.size);
    paper.style.aspectRatio = `${next.size[0]} / ${next.size[1]}`;
    layer.sync(next.grips);
    frame();
    show();
  }

  function back(text) {
    now = null;
    saved = "";
    tell(text, true);
    draw();
    show();
  }

  async function drop(one, join) {
    if (!now) return;
    const [x, y] = placeOf(board.gripOf(one.path));
    const fields = { grip: one.path, x: String(x), y: String(y), of_file: document.body.dataset.file };
    const answer = await post("/do/cut", join ? { ...fields, join: `cut ${one.path}` } : fields);
    if (answer.ok) tell(answer.said);
    else if (moving()) tell(answer.said, true);
    else back(answer.said);
    root.dataset.dropped = String(answer.ok);
  }

  function cancel() {
    board.held = null;
    board.keys = null;
    paper.classList.remove("holding");
    back("Left as it was.");
    line.classList.remove("bad");
  }

  hand(board);
  board.dropKeys = arrows(board, box).drop;
  document.addEventListener("keydown", (event) => {
    const one = event.key === "Escape" && moving();
    if (!one) return;
    event.preventDefault();
    clearTimeout(one.timer);
    layer.mark("held", null);
    cancel();
  });
  document.addEventListener("loftwright:parts", draw);
  new ResizeObserver(show).observe(paper);
  root.dataset.ready = "yes";
  draw();
}
