// The panel of the chosen point: its name, its place as the file has it, how it is known.
const MOVING = "being moved";

export function pointPanel(form, empty) {
  const [x, z] = ["x", "z"].map((name) => form.querySelector(`[data-field="${name}"]`));
  const title = form.querySelector("[data-name]"), note = form.querySelector("[data-note]"), what = form.elements.what;
  const along = form.querySelector("[data-along]");
  const drafts = new Map();
  let shown = null, moving = false;

  const changed = (field) => field.value !== field.defaultValue;

  function fill(field, name, where, text, fresh) {
    const draft = fresh ? drafts.get(name) : undefined;
    // What was typed is the builder's until it is saved; what it was typed over is said with it.
    if (!fresh && changed(field)) {
      if (text === field.defaultValue) return;
      const typed = field.value;
      field.dataset.was ??= field.defaultValue;
      field.defaultValue = text;
      field.value = typed;
      return;
    }
    delete field.dataset.was;
    field.name = name;
    field.dataset.where = where;
    field.defaultValue = text;
    field.value = draft === undefined ? text : draft;
    drafts.delete(name);
  }

  function leave() {
    if (!shown) return;
    for (const field of [x, z]) {
      if (changed(field)) drafts.set(field.name, field.value); else drafts.delete(field.name);
      field.removeAttribute("aria-invalid");
    }
    for (const line of form.querySelectorAll("p.fault[data-made]")) line.remove();
  }

  return {
    show(grip) {
      const fresh = !shown || !grip || shown.path !== grip.path;
      if (fresh) leave();
      shown = grip;
      form.hidden = !grip;
      empty.hidden = Boolean(grip);
      if (!grip) return;
      title.textContent = grip.label;
      note.textContent = moving ? MOVING : grip.note;
      what.value = `${grip.label} moved`;
      fill(x, grip.x_path, grip.x_where, grip.x_text, fresh);
      fill(z, grip.z_path, grip.z_where, grip.z_text, fresh);
    },
    // While the point is moved its figures stand beside it on the drawing.
    moving(now) {
      if (now === moving) return;
      moving = now;
      form.toggleAttribute("data-moving", now);
      if (shown) note.textContent = now ? MOVING : shown.note;
    },
    along(word) { along.textContent = word[0].toUpperCase() + word.slice(1); },
    focus() { x.focus(); x.select(); },
    get path() { return shown ? shown.path : ""; },
    has: (element) => form.contains(element),
  };
}
