// Puts new parts into the page; what the reader has opened, is typing or stands on stays as it is.

let swapping = false;

// Whether parts are being put in just now: fields that are taken away say then that they have changed.
export const isSwapping = () => swapping;

// What a field showed before anything was typed or chosen in it.
export function firstOf(field) {
  if (field.tagName !== "SELECT") return field.defaultValue;
  const first = [...field.options].find((option) => option.defaultSelected) || field.options[0];
  return first ? first.value : "";
}

function keyOf(details) { return details.dataset.key || details.id; }

function typed(part) {
  const kept = new Map();
  for (const field of part.querySelectorAll("input[name], select[name], textarea[name]")) {
    if (field.type === "checkbox" || field.type === "radio") {
      if (field.checked !== field.defaultChecked) kept.set(field.form?.id + " " + field.name + " " + field.value, field.checked);
    } else if (field.type !== "hidden" && field.value !== firstOf(field)) {
      const was = field.dataset.was ?? firstOf(field), left = field !== document.activeElement;
      kept.set(field.form?.id + " " + field.name, { text: field.value, was, left });
    }
  }
  return kept;
}

function typeAgain(part, kept) {
  for (const field of part.querySelectorAll("input[name], select[name], textarea[name]")) {
    const name = field.form?.id + " " + field.name;
    if (field.type === "checkbox" || field.type === "radio") {
      if (kept.has(name + " " + field.value)) field.checked = kept.get(name + " " + field.value);
    } else if (kept.has(name)) {
      const { text, was, left } = kept.get(name);
      field.value = text;
      if (field.value === firstOf(field)) continue;
      // Its text stands for what it was typed over, not for what came in the meantime.
      if (was !== firstOf(field)) field.dataset.was = was;
      // A field that was filled by a script no longer says by itself that it has changed.
      if (!left) field.dataset.typed = "yes";
    }
  }
}

export function replaceParts(parts) {
  for (const [name, html] of Object.entries(parts)) {
    for (const part of document.querySelectorAll(`[data-part="${CSS.escape(name)}"]`)) replace(part, html);
  }
}

function replace(part, html) {
  const before = new Map([...part.querySelectorAll("details")].map((d) => [keyOf(d), d.open]));
  const kept = typed(part);
  const focused = part.contains(document.activeElement) ? document.activeElement : null;
  const mark = focused && focusMark(focused);
  swapping = true;
  try { part.innerHTML = html; } finally { swapping = false; }
  for (const details of part.querySelectorAll("details")) {
    const open = before.get(keyOf(details));
    if (open !== undefined) details.open = open;
  }
  typeAgain(part, kept);
  if (mark) focusAgain(part, mark);
}

function focusMark(element) {
  const details = element.tagName === "SUMMARY" ? keyOf(element.parentElement) : "";
  const inputs = "selectionStart" in element && element.type !== "checkbox" && element.type !== "radio";
  return { id: element.id, name: element.name, form: element.form?.id, action: element.getAttribute("formaction"), details,
    href: element.getAttribute("href"), at: inputs ? [element.selectionStart, element.selectionEnd] : null };
}

function focusAgain(part, mark) {
  let found = mark.id ? document.getElementById(mark.id) : null;
  if (!found && mark.details) {
    found = [...part.querySelectorAll("details")].find((d) => keyOf(d) === mark.details)?.querySelector("summary") || null;
  }
  if (!found && mark.name) {
    found = [...part.querySelectorAll(`[name="${CSS.escape(mark.name)}"]`)].find((f) => f.form?.id === mark.form) || null;
  }
  if (!found && mark.action) found = part.querySelector(`[formaction="${CSS.escape(mark.action)}"]`);
  if (!found && mark.href) found = part.querySelector(`a[href="${CSS.escape(mark.href)}"]`);
  if (!found) return;
  found.focus({ preventScroll: true });
  if (mark.at) { try { found.setSelectionRange(...mark.at); } catch { /* fields without a caret */ } }
}
