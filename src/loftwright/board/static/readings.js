// Readings at the van. What is typed and what is saved stays on this phone until the program has taken it.
//
// A phone comes by plain http, where no page can be kept for later: it must be open before the link is lost.
import { clearFaults, post, showFaults } from "./forms.js";

const PATIENCE = 6000;
const AGAIN = 5000;
const BARE = /^[+\-−]?[\d.,/½¼¾ ]+$/;
const KEPT = "Kept on this phone, not sent yet.";

export function start({ on }) {
  const form = document.getElementById("reading");
  const fields = form.elements;
  const save = document.getElementById("save");
  const line = document.getElementById("saved-said");
  const named = [...form.querySelectorAll("input[name]:not([type=hidden]), select[name]")];
  let known = read();
  // The units that the fields of this page show, as the program reads them: a number goes nowhere without its own.
  const shown = { ...known.units };
  let sending = null;
  // Stations saved since the program last said which ones are.
  const saved = new Set();
  // The reading that is on its way: it counts as waiting only once it got no answer.
  let leaving = "";
  // Why the last one that was sent could not be taken for sure.
  let trouble = "";
  // What the program said of the last one that it took.
  let told = "";
  let later = 0;

  // --- what is kept on the phone -------------------------------------------------------------------

  function read() { return JSON.parse(document.getElementById("known").textContent); }

  function place() { return "loftwright-readings " + known.mark; }

  function kept() {
    let found = null;
    try { found = JSON.parse(localStorage.getItem(place())); } catch { /* none, or not to be read */ }
    return { draft: found?.draft || {}, units: found?.units || null, waiting: Array.isArray(found?.waiting) ? found.waiting : [] };
  }

  // Other tabs of this phone may have written since: each change starts from what is there now.
  function keep(change) {
    const now = kept();
    change(now);
    try { localStorage.setItem(place(), JSON.stringify(now)); return true; } catch { return false; }
  }

  function keepTyped() {
    keep((now) => {
      now.draft = Object.fromEntries(named.map((field) => [field.name, field.value]));
      now.units = shown;
    });
  }

  function fillTyped() {
    const { draft, units } = kept();
    for (const [name, text] of Object.entries(draft)) {
      const field = fields[name];
      // Without a number the next reading is the better start.
      if (!field || (name === "station" && !draft.force)) continue;
      if (field.tagName === "SELECT" && ![...field.options].some((option) => option.value === text)) continue;
      if (!(name in shown)) field.value = text;
      else if (units) field.value = units[name] === shown[name] ? text : withUnit(text, units[name]);
    }
  }

  function withUnit(text, unit) {
    const bare = text.trim();
    return bare && BARE.test(bare) ? `${bare} ${unit}` : bare;
  }

  // No browser has randomUUID on plain http.
  function newName() { return [...crypto.getRandomValues(new Uint8Array(12))].map((b) => b.toString(16).padStart(2, "0")).join(""); }

  function unsent() { return kept().waiting; }

  // --- what to read --------------------------------------------------------------------------------

  function station() { return known.stations.find((one) => one.key === fields.station.value) || null; }

  function showStation() {
    const one = station();
    const todo = document.getElementById("do");
    const how = document.getElementById("do-scale");
    document.getElementById("other").hidden = one !== null;
    todo.hidden = one === null;
    todo.textContent = one ? `${capital(one.words)}: lip ${one.lip} above the roof, straight up from the edge of the opening.` : "";
    const scale = fields.scale.value || known.usual[one ? one.way : fields.way.value];
    const way = one ? one.way : fields.way.value;
    form.querySelector("label[for=force]").textContent = way === "push up" && scale === "bathroom scales" ? known.labels.more : known.labels.force;
    how.hidden = false;
    how.textContent = known.how[scale];
  }

  function capital(words) { return words[0].toUpperCase() + words.slice(1); }

  // The next one of the list after the one that was read; those left out before it come last.
  function nextStation(after = "") {
    for (const one of unsent()) saved.add(one.fields.station);
    const at = known.stations.findIndex((one) => one.key === after);
    const order = [...known.stations.slice(at + 1), ...known.stations.slice(0, at + 1)];
    const next = order.find((one) => !one.done && !saved.has(one.key));
    if (next) fields.station.value = next.key;
    showStation();
  }

  function listStations(before) {
    if (JSON.stringify(before.stations.map((one) => one.key)) !== JSON.stringify(known.stations.map((one) => one.key))) {
      const chosen = fields.station.value;
      const options = known.stations.map((one) => new Option(capital(one.words), one.key));
      fields.station.replaceChildren(...options, new Option("Another opening", ""));
      fields.station.value = chosen;
      if (fields.station.selectedIndex < 0) nextStation();
    }
    if (before.set_now !== known.set_now && ![...fields.after.options].some((one) => one.value === known.set_now)) {
      fields.after.add(new Option("set " + known.set_now, known.set_now));
    }
    showStation();
  }

  // --- saving --------------------------------------------------------------------------------------

  function say(text, good = true) {
    line.textContent = text;
    line.classList.toggle("bad", !good);
  }

  async function saveTyped() {
    clearFaults(form);
    const typed = Object.fromEntries([...new FormData(form)].map(([name, text]) => [name, String(text)]));
    typed.file = known.file;
    for (const [name, word] of Object.entries(shown)) typed[name] = withUnit(typed[name] || "", word);
    if (!typed.force.trim()) {
      showFaults(form, [{ where: "force", said: "Write what the scale read." }]);
      say("Nothing was saved: the number is missing.", false);
      return;
    }
    const name = newName();
    const held = keep((now) => { now.waiting.push({ name, fields: typed, run: "", said: "" }); });
    if (!held) {
      say("This browser keeps nothing for this page: write the reading on paper, or stay in reach of the program.", false);
      return;
    }
    save.disabled = true;
    leaving = name;
    await deliver(name);
    leaving = "";
    save.disabled = false;
    const left = unsent().find((one) => one.name === name);
    if (left && left.said) {
      // Refused at once: back into the form, where it can be mended.
      keep((now) => { now.waiting = now.waiting.filter((one) => one.name !== name); });
      showFaults(form, left.faults);
      say(left.said, false);
      show();
      return;
    }
    const doubtful = !left && told.startsWith("Saved, though");
    say(left ? `${KEPT} ${trouble}`.trim() : doubtful ? told : "Saved.", !doubtful);
    saved.add(typed.station);
    for (const field of [fields.force, fields.doubt]) field.value = "";
    nextStation(typed.station);
    keepTyped();
    show();
  }

  // Sends what waits, one after the other; one that gets no answer stays, and is sent again under the same name.
  function deliver(newest = "") {
    const before = sending || Promise.resolve();
    const mine = before.then(() => sendAll(newest));
    sending = mine;
    return mine.finally(() => { if (sending === mine) sending = null; show(); });
  }

  async function sendAll(newest) {
    if (document.body.dataset.linked === "no") return;
    let sent = 0, refused = 0;
    for (const one of unsent()) {
      if (one.said && one.name !== newest) continue;
      keep((now) => { for (const same of now.waiting) if (same.name === one.name && !same.run) same.run = known.run; });
      const now = unsent().find((same) => same.name === one.name);
      if (!now) continue;
      const answer = await patient({ ...now.fields, name: now.name, run: now.run });
      trouble = answer.unsure ? answer.said : "";
      told = answer.ok ? answer.said : "";
      if (answer.lost || answer.unsure) {
        clearTimeout(later);
        later = setTimeout(() => { deliver(); }, AGAIN);
        return;
      }
      if (one.name !== newest && answer.ok) sent += 1;
      if (one.name !== newest && !answer.ok) refused += 1;
      keep((stored) => {
        if (answer.ok) stored.waiting = stored.waiting.filter((same) => same.name !== now.name);
        else for (const same of stored.waiting) if (same.name === now.name) { same.said = answer.said; same.faults = answer.faults; }
      });
      show();
    }
    if (refused) say("Not everything was taken: see what is wrong below.", false);
    else if (sent) say("What waited is sent and saved.");
  }

  // A phone that has left the network may wait for minutes; the next try carries the same name.
  function patient(typed) {
    const late = new Promise((done) => setTimeout(() => done({ ok: false, lost: true }), PATIENCE));
    return Promise.race([post("/do/reading_add", typed), late]).then((answer) => (answer.ok === undefined ? { lost: true } : answer));
  }

  // --- what waits ----------------------------------------------------------------------------------

  function wordsOf(typed) {
    const one = known.stations.find((each) => each.key === typed.station);
    const what = one ? one.words : typed.station || `${typed.way} at ${typed.how_open} % open`;
    return `${what}${typed.temperature ? `, ${withUnit(typed.temperature, shown.temperature)}` : ""}`;
  }

  function button(text, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = text;
    made.addEventListener("click", act);
    return made;
  }

  function show() {
    const waiting = unsent().filter((one) => one.name !== leaving);
    document.getElementById("waiting").hidden = waiting.length === 0;
    document.getElementById("waiting-list").replaceChildren(...waiting.map((one) => {
      const item = document.createElement("li");
      const words = document.createElement("span");
      const value = document.createElement("strong");
      value.textContent = withUnit(one.fields.force, shown.force);
      words.append(value, " " + wordsOf(one.fields));
      item.append(words);
      if (one.said) {
        const fault = document.createElement("p");
        fault.className = "fault";
        fault.textContent = one.said;
        item.append(fault, button("Change it", () => changeAgain(one)));
      }
      item.append(button("Drop it", () => drop(one)));
      return item;
    }));
  }

  function changeAgain(one) {
    keep((now) => { now.waiting = now.waiting.filter((same) => same.name !== one.name); });
    for (const field of named) if (field.name in one.fields) field.value = one.fields[field.name];
    keepTyped();
    showStation();
    show();
    showFaults(form, one.faults);
    (form.querySelector("[aria-invalid]") || fields.force).focus();
  }

  function drop(one) {
    if (!confirm(`Drop this reading? ${withUnit(one.fields.force, shown.force)}, ${wordsOf(one.fields)}`)) return;
    keep((now) => { now.waiting = now.waiting.filter((same) => same.name !== one.name); });
    show();
  }

  // --- events --------------------------------------------------------------------------------------

  form.addEventListener("input", () => { keepTyped(); });
  form.addEventListener("change", () => { keepTyped(); showStation(); });
  form.addEventListener("submit", (event) => { event.preventDefault(); if (!save.disabled) saveTyped(); });
  document.getElementById("send-now").addEventListener("click", async () => {
    await deliver();
    const left = unsent().length;
    say(left ? trouble || "Not sent: there is no link, or a reading was refused." : "All sent.", left === 0);
  });
  on("linked", () => { deliver(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) deliver(); });
  addEventListener("online", () => { deliver(); });
  addEventListener("storage", () => { show(); });
  addEventListener("beforeunload", (event) => { if (unsent().length) event.preventDefault(); });
  document.addEventListener("loftwright:parts", () => {
    const before = known;
    known = read();
    if (JSON.stringify(before.stations) !== JSON.stringify(known.stations)) saved.clear();
    if (before.mark !== known.mark || JSON.stringify(known.units) !== JSON.stringify(shown)) { location.reload(); return; }
    listStations(before);
    show();
  });

  nextStation();
  fillTyped();
  showStation();
  show();
}
