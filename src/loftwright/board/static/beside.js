// Two roofs moved by one slider: each is drawn from its own table of poses.
import { greetWith } from "./live.js";
import { readout } from "./readout.js";
import { roof } from "./roof.js";

export function start() {
  const root = document.querySelector("[data-beside]");
  const slider = root.querySelector("[data-slider]"), far = root.querySelector("[data-far]"), slide = root.querySelector("[data-slide]");
  let designs = [];

  greetWith(() => {
    const paper = root.querySelector(".design .paper") || root;
    const wide = matchMedia("(min-width: 60rem)").matches;
    return { width: Math.max(280, Math.round(paper === root && wide ? root.clientWidth / 2 - 20 : paper.clientWidth)) };
  });

  function build() {
    designs = [...root.querySelectorAll("[data-design]")].map((el) => {
      const picture = JSON.parse(el.querySelector("[data-tables]").textContent);
      const drawn = roof(el.querySelector("[data-side]"), null, { forces: el.querySelector("[data-chart]") });
      const figures = readout(el.querySelector("[data-forces]"), el.querySelector("[data-others]"), el.querySelector("[data-band]"));
      drawn.draw(picture);
      figures.build(picture);
      return { picture, drawn, figures };
    });
    slide.hidden = designs.length === 0;
    show();
  }

  function show() {
    if (!designs.length) return;
    const percent = Number(slider.value), none = new Map();
    const open = designs.map(({ picture, drawn, figures }) => {
      const state = drawn.pose(picture, percent, none);
      figures.show(picture, state.at, state.x);
      const [unit, spoken, digits] = picture.unit_of_opening, value = drawn.opening(picture, state.at).toFixed(digits);
      return [value + unit, value + spoken];
    });
    far.textContent = `${percent} % open: this roof ${open[0][0]}, the other ${open[1][0]}`;
    slider.setAttribute("aria-valuetext", `${percent} per cent open; this roof ${open[0][1]}, the other ${open[1][1]}`);
  }

  slider.addEventListener("input", show);
  for (const stop of root.querySelectorAll("[data-stop]")) {
    stop.addEventListener("click", () => { slider.value = stop.dataset.stop; show(); });
  }
  document.addEventListener("loftwright:parts", (event) => { if (event.detail.parts.beside_drawings !== undefined) build(); });
  build();
}
