// The figures at the slider: push and pull for each temperature, and what else changes as the roof opens.
import { between, figure } from "./pose.js";

function row(head, cells) {
  const line = document.createElement("tr"), th = document.createElement("th");
  th.scope = "row";
  th.append(...head);
  line.append(th, ...cells.map((css) => Object.assign(document.createElement("td"), { className: css })));
  return line;
}

export function readout(table, others, note) {
  let shape = "", cells = [], more = [];

  function build(picture) {
    const next = JSON.stringify([picture.curves.map((c) => [c.label, c.kind]), picture.readouts.map((r) => r.label)]);
    if (next === shape) return;
    shape = next;
    const body = table.tBodies[0];
    body.replaceChildren();
    cells = [];
    const rows = new Map();
    picture.curves.forEach((curve, i) => {
      if (!rows.has(curve.label)) {
        const sample = document.createElement("span");
        sample.innerHTML = curve.sample;
        const line = row([sample, curve.label], ["figure", "figure"]);
        rows.set(curve.label, line);
        body.append(line);
      }
      cells[i] = rows.get(curve.label).cells[curve.kind === "push" ? 1 : 2];
    });
    others.tBodies[0].replaceChildren();
    more = picture.readouts.map((one) => {
      const line = row([one.label], ["figure"]);
      others.tBodies[0].append(line);
      return line.cells[1];
    });
    others.hidden = more.length === 0;
  }

  return {
    build(picture) {
      build(picture);
      note.textContent = "A figure below nought: it moves by itself."
        + (picture.band_note ? ` ${picture.band_note[0].toUpperCase()}${picture.band_note.slice(1)}.` : "");
    },
    show(picture, at, x) {
      const put = (cell, text) => { if (cell.textContent !== text) cell.textContent = text; };
      picture.curves.forEach((curve, i) => put(cells[i], `${figure(between(curve.y, x), picture.decimals)} ${picture.unit}`));
      const nearest = at[1] < 0.5 ? at[0] : at[0] + 1;
      picture.readouts.forEach((one, i) => put(more[i], one.texts[nearest]));
    },
  };
}
