// The buttons over the drawing: which kinds of points are shown; those that crowd are taken away at first.
import { groupOf } from "./grips.js";

const CROWDED = 10, NARROW = 480;

export function groups(choose, layer, changed) {
  const hidden = new Set();
  let chosen = false, present = new Set();

  function show() {
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
    if (!name || !present.size) return;
    if (name === "all") hidden.clear();
    else if (hidden.has(name)) hidden.delete(name);
    else hidden.add(name);
    show();
    changed();
  });

  return {
    sync(grips, width) {
      present = new Set(grips.map((grip) => groupOf(grip.kind)));
      if (!chosen) {
        chosen = true;
        if (grips.length > CROWDED) for (const name of ["zone", "hole"]) if (present.has(name)) hidden.add(name);
        if (grips.length > CROWDED && width < NARROW) hidden.add("handle");
      }
      show();
    },
    hides: (name) => hidden.has(name),
  };
}
