// The marks of the points that can be moved: buttons over the drawing, as large on every scale.
const SVG = "http://www.w3.org/2000/svg";
const HALF = 22;

const SHAPES = {
  pivot: ["M-5.5 0a5.5 5.5 0 1 0 11 0a5.5 5.5 0 1 0 -11 0z"],
  spring: ["M-5 -5h10v10h-10z"],
  zone: ["M-5 -5h4v3h-1v7h-3z"],
  corner: ["M-5.5 -5.5h11v11h-11z"],
  hole: ["M-3.5 0a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0z", "M-7 0h14M0 -7v14"],
  handle: ["M0 -7L7 0L0 7L-7 0z"],
  item: ["M0 -6.5L6.5 5.5H-6.5z"],
};
const CORNERS = { from: ["M-5 -6v11h11"], to: ["M-6 -5h11v11"] };
const CROSS = "M-6 -6L6 6M6 -6L-6 6";

export function gripMark(kind, path = "") {
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", "-10 -10 20 20");
  svg.setAttribute("aria-hidden", "true");
  const shapes = (kind === "zone" && CORNERS[path.split(".").pop()]) || SHAPES[kind] || SHAPES.pivot;
  const add = (d, css) => {
    const line = document.createElementNS(SVG, "path");
    line.setAttribute("d", d);
    line.setAttribute("class", css);
    svg.append(line);
  };
  for (const d of shapes) add(d, "under");
  for (const d of shapes) add(d, "over");
  add(CROSS, "no under");
  add(CROSS, "no over");
  return svg;
}

export const GROUPS = [
  ["pivot", "Hinge and arms", ["pivot"]],
  ["spring", "Springs", ["spring"]],
  ["zone", "Zones", ["zone"]],
  ["hole", "Holes", ["hole"]],
  ["handle", "Handle and items", ["handle", "item"]],
  ["corner", "Corners of the opening", ["corner"]],
];
export const groupOf = (kind) => GROUPS.find(([, , kinds]) => kinds.includes(kind))[0];

// Keeps one button a grip; those that stay are the same elements, so that focus and a held pointer stay with them.
export function gripLayer(box, help) {
  const buttons = new Map();
  const places = new Map();
  let hidden = new Set();

  return {
    sync(grips) {
      const wanted = new Set(grips.map((grip) => grip.path));
      for (const [path, button] of buttons) {
        if (!wanted.has(path)) { button.remove(); buttons.delete(path); places.delete(path); }
      }
      let before = null;
      for (const grip of grips) {
        let button = buttons.get(grip.path);
        if (!button) {
          button = document.createElement("button");
          button.type = "button";
          button.dataset.path = grip.path;
          button.dataset.kind = grip.kind;
          button.setAttribute("aria-describedby", help);
          button.append(gripMark(grip.kind, grip.path));
          buttons.set(grip.path, button);
        }
        button.className = "grip";
        button.hidden = hidden.has(groupOf(grip.kind));
        const next = before ? before.nextElementSibling : box.firstElementChild;
        if (next !== button) box.insertBefore(button, next);
        before = button;
      }
    },
    hide(groups) {
      hidden = groups;
      for (const button of buttons.values()) button.hidden = hidden.has(groupOf(button.dataset.kind));
    },
    place(path, x, y, label) {
      const button = buttons.get(path), old = places.get(path);
      if (!button) return;
      if (!old || old[0] !== x || old[1] !== y) {
        button.style.transform = `translate(${(x - HALF).toFixed(1)}px, ${(y - HALF).toFixed(1)}px)`;
        places.set(path, [x, y]);
      }
      if (button.getAttribute("aria-label") !== label) button.setAttribute("aria-label", label);
    },
    // The nearest grip that is shown, at most `reach` CSS pixels away.
    nearest(x, y, reach) {
      let best = null, least = reach;
      for (const [path, place] of places) {
        const far = Math.hypot(place[0] - x, place[1] - y);
        if (far <= least && !buttons.get(path).hidden) { best = path; least = far; }
      }
      return best;
    },
    at: (path) => places.get(path),
    button: (path) => buttons.get(path),
    mark(name, path) {
      for (const [each, button] of buttons) {
        if ((each === path) !== (name in button.dataset)) {
          if (each === path) button.dataset[name] = ""; else delete button.dataset[name];
        }
      }
    },
  };
}
