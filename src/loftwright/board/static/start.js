// The first questions: every answer is sent at once, and what it comes to is shown beside it.
import { clearFaults, post } from "./forms.js";
import { replaceParts } from "./parts.js";

const REST = 200;

export function start({ say }) {
  const form = document.getElementById("start");
  const sliders = JSON.parse(document.getElementById("sliders").textContent);
  const numbers = [...form.querySelectorAll("[data-number]")].map((row) => numberOf(row));
  let timer = 0;
  let busy = false;
  let again = false;

  for (const hint of form.querySelectorAll(".no-script")) hint.remove();
  for (const hidden of form.querySelectorAll(".entry [hidden]")) hidden.hidden = false;

  function numberOf(row) {
    const name = row.dataset.number;
    return { name, field: row.querySelector(`[name="${name}"]`), unknown: row.querySelector("[data-unknown]"),
      slide: row.querySelector("[data-slide]"), note: row.querySelector(".note"), kept: "" };
  }

  function units() { return form.elements.units.value; }

  function scale(number) {
    const table = sliders[units()][number.name];
    number.slide.max = String(table.texts.length - 1);
    if (!number.field.value) number.slide.value = String(table.start);
    number.field.placeholder = "such as " + table.texts[table.start];
    speak(number);
  }

  function speak(number) {
    const known = number.field.value.trim() !== "";
    number.unknown.checked = !known;
    number.slide.classList.toggle("idle", !known);
    number.slide.setAttribute("aria-valuetext", number.field.value || "don't know");
  }

  for (const number of numbers) {
    number.field.addEventListener("input", () => speak(number));
    number.field.addEventListener("blur", () => speak(number));
    number.slide.addEventListener("input", () => {
      number.field.value = sliders[units()][number.name].texts[Number(number.slide.value)];
      speak(number);
    });
    number.unknown.addEventListener("change", () => {
      if (number.unknown.checked) { number.kept = number.field.value; number.field.value = ""; }
      else if (number.kept) number.field.value = number.kept;
      else { number.field.focus(); return; }
      scale(number);
    });
    scale(number);
  }

  form.addEventListener("change", (event) => { if (event.target.name === "units") numbers.forEach(scale); });
  // What was refused on beginning is of before; the faults of the numbers come anew with the look.
  form.addEventListener("input", () => { if (form.querySelector("p.fault[data-made]")) clearFaults(form); soon(); });
  form.addEventListener("change", () => soon());

  function soon() { clearTimeout(timer); timer = setTimeout(look, REST); }

  async function look() {
    if (busy) { again = true; return; }
    busy = true;
    const fields = new FormData(form);
    fields.set("width", String(document.getElementById("look").clientWidth));
    const answer = await post("/start/look", fields);
    busy = false;
    if (again) { again = false; soon(); }
    if (!answer.parts) { say(answer.said, false); return; }
    if (answer.ok) replaceParts(answer.parts);
    for (const number of numbers) show(number, answer);
  }

  function show(number, answer) {
    const fault = answer.faults[number.name] || "";
    const taken = answer.taken[number.name];
    const said = fault || (taken ? "taken as " + taken : "");
    number.note.classList.toggle("fault", Boolean(fault));
    if (number.note.textContent !== said) number.note.textContent = said;
    if (fault) number.field.setAttribute("aria-invalid", "true"); else number.field.removeAttribute("aria-invalid");
    if (answer.at[number.name] !== undefined && document.activeElement !== number.slide) number.slide.value = String(answer.at[number.name]);
  }

  // Browsers put typed answers back when one returns to a page.
  addEventListener("pageshow", () => { numbers.forEach(scale); look(); });
  look();
}
