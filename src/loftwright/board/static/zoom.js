// What of the drawing is shown: a part of it, moved by dragging, enlarged by buttons, wheel or two fingers.
const MOST = 8;

export function zoom(changed) {
  let size = [1, 1], k = 1, middle = [0.5, 0.5];

  function keep() {
    k = Math.min(Math.max(k, 1), MOST);
    middle = middle.map((m, i) => Math.min(Math.max(m, size[i] / (2 * k)), size[i] - size[i] / (2 * k)));
    changed();
  }

  return {
    // A new drawing: the same share of it stays in view.
    resize(next) {
      if (next[0] === size[0] && next[1] === size[1]) return;
      middle = middle.map((m, i) => (m / size[i]) * next[i]);
      size = next;
      k = Math.min(Math.max(k, 1), MOST);
    },
    box: () => [middle[0] - size[0] / (2 * k), middle[1] - size[1] / (2 * k), size[0] / k, size[1] / k],
    get factor() { return k; },
    // Enlarges by `factor` so that the place `at` [mm] stays where it is.
    by(factor, at = middle) {
      const next = Math.min(Math.max(k * factor, 1), MOST), share = k / next;
      middle = middle.map((m, i) => at[i] + (m - at[i]) * share);
      k = next;
      keep();
    },
    pan(dx, dy) { middle = [middle[0] - dx, middle[1] - dy]; keep(); },
    to(place) { middle = [...place]; keep(); },
    fit() { k = 1; keep(); },
  };
}
