// Points and the drawing itself under a mouse, a pen or fingers.
import { closed, rounded } from "./pose.js";

const REACH = 22, STILL = 3;

export function hand(board) {
  const { paper, layer, view } = board;
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
      if (next.scrolled[i] === board.held.seen.scrolled[i]) board.held.slip[i] += next.place[i] - board.held.seen.place[i];
    });
    board.held.seen = next;
    return at.map((v, i) => v + board.held.slip[i]);
  }

  paper.addEventListener("pointerdown", (event) => {
    if (event.button > 0 || !board.picture) return;
    const at = inPaper(event);
    if (board.held) return;
    pointers.set(event.pointerId, at);
    if (pointers.size === 2) {
      pan = null;
      pinch = spread();
      return;
    }
    const path = layer.nearest(at[0], at[1], event.target.closest(".grip") ? 1.5 * REACH : REACH);
    if (path) {
      if (board.keys) board.dropKeys();
      const grip = board.gripOf(path);
      board.held = { ...board.take(grip), id: event.pointerId, start: at, seen: seen(), slip: [0, 0], offset: [0, 1].map((i) => layer.at(path)[i] - at[i]) };
      pointers.clear();
      paper.setPointerCapture(event.pointerId);
      event.preventDefault();
      layer.button(path).focus({ preventScroll: true });
      board.choosePoint(path);
      layer.mark("held", path);
      return;
    }
    if (view.factor > 1) {
      pan = at;
      paper.setPointerCapture(event.pointerId);
    }
  });

  function lead(at) {
    board.held.last = at;
    const spot = closed(board.held.pose, board.metres(board.offPaper([at[0] + board.held.offset[0], at[1] + board.held.offset[1]])));
    board.moveTo(board.held, rounded(spot, board.picture.steps[0]));
  }

  // Moves are handed over when a frame begins; where a browser also tells of them at once, the program is asked at
  // once, and its answer is there up to a frame sooner.
  paper.addEventListener("pointerrawupdate", (event) => {
    if (board.held && board.held.moved && event.pointerId === board.held.id) lead(slipped(inPaper(event)));
  });

  paper.addEventListener("pointermove", (event) => {
    if (!board.picture) return;
    let at = inPaper(event);
    if (board.held) {
      if (event.pointerId !== board.held.id) return;
      at = slipped(at);
      if (!board.held.moved && Math.hypot(at[0] - board.held.start[0], at[1] - board.held.start[1]) < STILL) return;
      board.held.moved = true;
      paper.classList.add("holding");
      lead(at);
      board.show();
      board.note("grip");
      return;
    }
    if (!pointers.has(event.pointerId)) {
      if (event.pointerType === "mouse") layer.mark("near", layer.nearest(at[0], at[1], REACH));
      return;
    }
    pointers.set(event.pointerId, at);
    const k = view.box()[2] / board.width;
    if (pinch && pointers.size === 2) {
      const next = spread();
      view.pan((next.at[0] - pinch.at[0]) * k, (next.at[1] - pinch.at[1]) * k);
      view.by(next.far / pinch.far, board.offPaper(next.at));
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
    if (!board.held || event.pointerId !== board.held.id) return;
    const one = board.held;
    board.held = null;
    paper.classList.remove("holding");
    layer.mark("held", null);
    layer.mark("refused", null);
    if (!one.moved) { board.show(); return; }
    if (given) board.drop(one, false); else board.cancel(one.path);
    board.show();
  }
  paper.addEventListener("pointerup", (event) => release(event, true));
  paper.addEventListener("pointercancel", (event) => release(event, false));
  paper.addEventListener("pointerleave", () => layer.mark("near", null));
  paper.addEventListener("wheel", (event) => {
    if (!event.ctrlKey || !board.picture) return;
    event.preventDefault();
    view.by(Math.exp(-event.deltaY * 0.004), board.offPaper(inPaper(event)));
  }, { passive: false });
  paper.addEventListener("dragstart", (event) => event.preventDefault());
}
