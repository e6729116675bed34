// Sends forms without leaving the page; what was typed stays until it is accepted.
import { on } from "./live.js";
import { firstOf, isSwapping } from "./parts.js";

let fading = 0;

export function say(text, good = true) {
  const line = document.getElementById("said");
  line.textContent = text;
  line.classList.toggle("bad", !good);
  clearTimeout(fading);
  // What went well need not stand there for ever; what did not stays until the next word.
  if (good && text) fading = setTimeout(() => { line.textContent = ""; }, 8000);
}

const LOST = "The connection is lost: nothing was saved, what you typed is still here.";
const LATER = "The connection is lost: nothing was saved; what you typed is kept here and sent when the program runs again.";
const WAITS = "Not saved yet: it is sent when the connection is back.";
const LOCKED = "The program does not know this browser any more: open the address that it printed again. Nothing was saved.";
const BROKEN = "This is a mistake of the program; nothing may have been saved: load the page again.";
const NOT_TAKEN = "The program did not take this: nothing was saved. Load the page again.";

// No answer at all is `lost`; `unsure` is an answer of which nobody knows whether anything was saved, or may be later.
export async function post(action, fields) {
  let answer = null;
  try {
    answer = await fetch(action, { method: "POST", body: new URLSearchParams(fields), headers: { Accept: "application/json" } });
  } catch {
    return { ok: false, said: LOST, faults: [], lost: true };
  }
  try {
    const found = await answer.json();
    if (found && typeof found.ok === "boolean") return found;
  } catch { /* no JSON, or not all of it */ }
  const said = answer.status === 401 ? LOCKED : answer.ok || answer.status >= 500 ? BROKEN : NOT_TAKEN;
  return { ok: false, said, faults: [], unsure: said !== NOT_TAKEN };
}

export function clearFaults(form) {
  for (const field of form.querySelectorAll("[aria-invalid]")) field.removeAttribute("aria-invalid");
  for (const line of form.querySelectorAll("p.fault[data-made]")) line.remove();
  marks.delete(form.id);
}

// What was refused and is not mended yet, by forms and fields: parts that come anew would wipe its marks away.
const marks = new Map();

function mark(form, field, said) {
  field.setAttribute("aria-invalid", "true");
  const line = document.createElement("p");
  line.className = "fault";
  line.dataset.made = "yes";
  line.textContent = said;
  (field.closest(".field") || field.parentElement).append(line);
  if (!form.id) return;
  if (!marks.has(form.id)) marks.set(form.id, []);
  marks.get(form.id).push({ name: field.name, text: field.value, said });
}

function markAgain() {
  for (const [id, some] of [...marks]) {
    const form = document.getElementById(id);
    if (form && form.querySelector("p.fault[data-made]")) continue;
    marks.delete(id);
    for (const { name, text, said } of form ? some : []) {
      const field = [...form.elements].find((one) => one.name === name);
      if (field && field.value === text && isChanged(field)) mark(form, field, said);
    }
  }
}

// A fault names its place as people read it, "[shell] mass"; fields carry the same words.
export function showFaults(form, faults, known = []) {
  let first = null;
  for (const fault of faults || []) {
    const field = [...form.elements].find((f) => f.name && (f.dataset.where === fault.where || f.name === fault.where));
    if (!field) continue;
    // Who saves it once more means it.
    for (const one of form.elements) if (one.name && baseOf(one.name) === baseOf(field.name)) delete one.dataset.was;
    mark(form, field, fault.said);
    // Who goes on with the next field is not led back once more for what was said before.
    if (!known.some(({ name, text }) => name === field.name && text === field.value)) first = first || field;
  }
  if (first) first.focus();
}

// Forms that write single values say of each what it showed, and leave out what is as it was.
const BY_VALUE = ["/do/change", "/do/place", "/do/part", "/do/plan-hours"];
const baseOf = (name) => name.replace(/@word$/, "");
const isChoice = (field) => field.type === "checkbox" || field.type === "radio";
const isTyped = (field) => field.name && !["hidden", "submit", "button"].includes(field.type) && !isChoice(field);

const isChanged = (field) => isTyped(field) && field.value !== firstOf(field);
// A list that was shown without a choice does not say what stands in the file.
const isBlind = (field) => field.tagName === "SELECT" && ![...field.options].some((option) => option.defaultSelected);
const basesOf = (form, test) => new Set([...form.elements].filter(test).map((field) => baseOf(field.name)));
const textOf = (form) => JSON.stringify([...form.elements].filter(isTyped).map((field) => [field.name, field.value]));

function onlyChanged(form, fields) {
  const changed = basesOf(form, isChanged), blind = basesOf(form, (field) => isTyped(field) && isBlind(field));
  for (const field of [...form.elements].filter(isTyped)) {
    const base = baseOf(field.name);
    if (!changed.has(base)) fields.delete(field.name);
    else if (!blind.has(base)) fields.set(field.name + "@was", field.dataset.was ?? firstOf(field));
  }
}

// What was sent is what the fields show from now on; what was typed meanwhile is still to be sent.
function accept(form, sent) {
  for (const { name, own, text, checked } of sent) {
    for (const field of [...form.elements].filter((one) => one.name === name)) {
      if (isChoice(field)) { if (field.value === own) field.defaultChecked = checked; continue; }
      delete field.dataset.was;
      if (!isTyped(field)) continue;
      const now = field.value;
      if (field.tagName === "SELECT") for (const option of field.options) option.defaultSelected = option.value === text;
      else field.defaultValue = text;
      field.value = now;
    }
  }
}

// Forms that wait for an answer: what saves by itself is sent once more when something came in the meantime.
const sending = new WeakMap();

// Forms that got no answer, by their ids: they are sent again when the link is back.
const waiting = new Set();

const here = (form) => (form.isConnected ? form : (form.id && document.getElementById(form.id)) || form);

function sendAgain() {
  const line = document.getElementById("said");
  if ([LOST, LATER].includes(line.textContent)) say("");
  for (const id of [...waiting]) {
    waiting.delete(id);
    const form = document.getElementById(id);
    if (!form) continue;
    clearFaults(form);
    if ([...form.elements].some(isChanged)) form.requestSubmit();
  }
}

function labelOf(form, base) {
  const field = [...form.elements].find((one) => one.name === base);
  return field?.labels?.[0]?.textContent || base;
}

// One refused value keeps no other from being saved: each is sent by itself, and those refused keep their sentences.
async function oneByOne(form, action, fields, sent, bases) {
  const faults = [], refused = [], taken = [];
  let stopped = null;
  for (const base of bases) {
    const one = new FormData();
    for (const [name, text] of fields) {
      if (baseOf(name.replace(/@was$/, "")) === base || !bases.includes(baseOf(name.replace(/@was$/, "")))) one.append(name, text);
    }
    const answer = await post(action, one);
    if (answer.lost || answer.unsure) { stopped = answer; break; }
    const now = here(form);
    if (answer.ok) {
      taken.push(base);
      accept(now, sent.filter(({ name }) => baseOf(name) === base));
      continue;
    }
    refused.push({ label: labelOf(now, base), said: answer.said });
    const known = (answer.faults || []).filter((fault) => [...now.elements].some((f) => f.name && [f.dataset.where, f.name].includes(fault.where)));
    faults.push(...(known.length ? known : [{ where: base, said: answer.said }]));
  }
  if (stopped) return stopped;
  if (!refused.length) return { ok: true, said: "Saved." };
  const rest = taken.length ? ` Saved: ${taken.map((base) => labelOf(here(form), base)).join(", ")}.` : "";
  return { ok: false, said: `Not saved: ${refused.map(({ label, said }) => `${label}. ${said}`).join(" ")}${rest}`, faults };
}

async function submit(form, button) {
  if (sending.has(form)) {
    if (form.hasAttribute("data-at-once")) sending.set(form, true);
    return;
  }
  const fields = new FormData(form);
  if (button?.name) fields.set(button.name, button.value);
  const action = button?.getAttribute("formaction") || form.getAttribute("action");
  if (BY_VALUE.includes(action)) onlyChanged(form, fields);
  const sent = [...form.elements].filter((field) => field.name && (isChoice(field) || fields.has(field.name)))
    .map((field) => ({ name: field.name, own: field.value, text: field.value, checked: field.checked }));
  const before = textOf(form);
  sending.set(form, false);
  const known = marks.get(form.id);
  clearFaults(form);
  let answer = await post(action, fields);
  const alone = action === "/do/change" && form.hasAttribute("data-at-once") ? [...basesOf(form, isTyped)].filter((base) => fields.has(base)) : [];
  if (!answer.ok && !answer.lost && !answer.unsure && alone.length > 1) answer = await oneByOne(form, action, fields, sent, alone);
  const again = sending.get(form);
  sending.delete(form);
  const kept = answer.lost && BY_VALUE.includes(action) && form.id;
  say(kept ? LATER : answer.said, answer.ok);
  // New parts may have taken the form's place before the answer came.
  const now = here(form);
  if (kept) {
    waiting.add(form.id);
    for (const base of basesOf(now, isChanged)) mark(now, [...now.elements].find((field) => field.name === base || baseOf(field.name) === base), WAITS);
  } else if (!answer.ok) showFaults(now, answer.faults, known);
  else {
    accept(now, sent);
    now.dispatchEvent(new CustomEvent("loftwright:done", { bubbles: true, detail: answer }));
    if (answer.go) { location.assign(answer.go); return; }
  }
  if (again && now.isConnected && textOf(now) !== before && [...now.elements].some(isChanged)) now.requestSubmit();
}

export function forms() {
  on("linked", sendAgain);
  document.addEventListener("loftwright:parts", markAgain);
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || !form.hasAttribute("data-live")) return;
    event.preventDefault();
    submit(form, event.submitter);
  });
  // The second click of a double click is none, even where the first has put another button in this place.
  document.addEventListener("click", (event) => {
    const form = event.detail > 1 && event.target.closest?.("button")?.form;
    if (form && form.hasAttribute("data-live") && !form.hasAttribute("data-repeats")) event.preventDefault();
  }, true);
  document.addEventListener("change", (event) => {
    const form = event.target.form;
    if (isSwapping() || !form || !form.hasAttribute("data-at-once")) return;
    delete event.target.dataset.typed;
    form.requestSubmit();
  });
  document.addEventListener("focusout", (event) => {
    const field = event.target, form = field.form;
    if (isSwapping() || !field.dataset?.typed) return;
    delete field.dataset.typed;
    if (form && form.hasAttribute("data-at-once") && field.value !== firstOf(field)) form.requestSubmit();
  });
  document.addEventListener("keydown", (event) => {
    const typing = event.target.closest?.("input:not([type=range]), textarea, select");
    if (typing || !(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    const wanted = key === "z" ? (event.shiftKey ? "redo" : "undo") : key === "y" ? "redo" : "";
    const button = wanted && document.getElementById(wanted);
    if (button && !button.disabled) { event.preventDefault(); button.click(); }
  });
}
