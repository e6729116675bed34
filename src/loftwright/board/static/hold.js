// Pictures are drawn for the width of their column: the program is told how wide that is.
import { greetWith } from "./live.js";

const ENOUGH = 8, REST = 150;

export function start({ send }) {
  const column = document.querySelector("[data-wide]");
  if (!column) return;
  let told = 0, timer = 0;
  const width = () => Math.round(column.clientWidth);
  greetWith(() => { told = width(); return { width: told }; });
  new ResizeObserver(() => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      if (told && Math.abs(width() - told) > ENOUGH && send({ t: "width", width: width() })) told = width();
    }, REST);
  }).observe(column);
}
