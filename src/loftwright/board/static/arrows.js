// Points under the arrow keys; what was moved is saved after a pause.
import { alongAxis } from "./pose.js";

const PAUSE = 400;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

export function arrows(board, box) {
  const { paper, layer, view } = board;

  function put() {
    const one = board.keys;
    clearTimeout(one.timer);
    board.keys = null;
    layer.mark("refused", null);
    board.drop(one, true);
    board.show();
  }

  box.addEventListener("keydown", (event) => {
    const button = event.target.closest(".grip"), arrow = ARROWS[event.key];
    if (!button || !arrow || event.ctrlKey || event.metaKey || event.altKey || board.held) return;
    event.preventDefault();
    const grip = board.gripOf(button.dataset.path);
    if (!board.keys || board.keys.path !== grip.path) {
      if (board.keys) put();
      board.keys = board.take(grip);
      board.choosePoint(grip.path);
    }
    clearTimeout(board.keys.timer);
    board.keys.timer = setTimeout(put, PAUSE);
    const step = board.picture.steps[event.shiftKey ? 1 : 0], [dx, dz] = alongAxis(board.keys.pose, ...arrow), at = board.placeOf(grip);
    board.moveTo(board.keys, [at[0] + dx * step, at[1] + dz * step].map((v) => Number(v.toFixed(7))));
    board.show();
    board.note("grip");
  });
  box.addEventListener("focusout", () => { if (board.keys) put(); });
  box.addEventListener("focusin", (event) => {
    const path = event.target.closest(".grip")?.dataset.path, at = path && layer.at(path);
    if (!at || board.held) return;
    const height = paper.clientHeight;
    if (at[0] < 0 || at[1] < 0 || at[0] > board.width || at[1] > height) view.to(board.offPaper(at));
  });
  return { drop: put };
}
