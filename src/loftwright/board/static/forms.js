// Sends forms without leaving the page; what was typed stays until it is accepted.

let fading = 0;

export function say(text, good = true) {
  const line = document.getElementById("said");
  line.textContent = text;
  line.classList.toggle("bad", !good);
  clearTimeout(fading);
  // What went well need not stand there for ever; what did not stays until the next word.
  if (good && text) fading = setTimeout(() => { line.textContent = ""; }, 8000);
}

export async function post(action, fields) {
  try {
    const answer = await fetch(action, { method: "POST", body: new URLSearchParams(fields), headers: { Accept: "application/json" } });
    return await answer.json();
  } catch {
    return { ok: false, said: "The connection is lost: nothing was saved, what you typed is still here.", faults: [], lost: true };
  }
}

export function clearFaults(form) {
  for (const field of form.querySelectorAll("[aria-invalid]")) field.removeAttribute("aria-invalid");
  for (const line of form.querySelectorAll("p.fault[data-made]")) line.remove();
}

// A fault names its place as people read it, "[shell] mass"; fields carry the same words.
export function showFaults(form, faults) {
  let first = null;
  for (const fault of faults || []) {
    const field = [...form.elements].find((f) => f.name && (f.dataset.where === fault.where || f.name === fault.where));
    if (!field) continue;
    field.setAttribute("aria-invalid", "true");
    const line = document.createElement("p");
    line.className = "fault";
    line.dataset.made = "yes";
    line.textContent = fault.said;
    (field.closest(".field") || field.parentElement).append(line);
    first = first || field;
  }
  if (first) first.focus();
}

// What is on its way from forms that save by themselves: Enter in a changed field asks twice.
const underWay = new WeakMap();

async function submit(form, button) {
  const fields = new FormData(form);
  if (button?.name) fields.set(button.name, button.value);
  const action = button?.getAttribute("formaction") || form.getAttribute("action");
  const asked = form.hasAttribute("data-at-once") ? String(new URLSearchParams(fields)) : "";
  if (asked && underWay.get(form) === asked) return;
  underWay.set(form, asked);
  clearFaults(form);
  form.dataset.sending = "yes";
  const answer = await post(action, fields);
  delete form.dataset.sending;
  if (underWay.get(form) === asked) underWay.delete(form);
  say(answer.said, answer.ok);
  if (!answer.ok) { showFaults(form, answer.faults); return; }
  for (const field of form.elements) {
    if (field.type === "checkbox" || field.type === "radio") field.defaultChecked = field.checked;
    else if (field.tagName === "SELECT") for (const option of field.options) option.defaultSelected = option.selected;
    else if ("defaultValue" in field) field.defaultValue = field.value;
  }
  form.dispatchEvent(new CustomEvent("loftwright:done", { bubbles: true, detail: answer }));
  if (answer.go) location.assign(answer.go);
}

export function forms() {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || !form.hasAttribute("data-live")) return;
    event.preventDefault();
    submit(form, event.submitter);
  });
  document.addEventListener("change", (event) => {
    const form = event.target.form;
    if (form && form.hasAttribute("data-at-once")) form.requestSubmit();
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
