// What the panel gives for each way to park: looked up in the table that came with the page.
export function start() {
  const root = document.querySelector("[data-headings]");
  if (!root) return;
  const find = (name) => root.querySelector(`[data-${name}]`);
  const slider = find("slider"), where = find("where"), bars = find("bars"), best = find("best");
  let table = null, saved = "";

  function bar(name, text, share, enough) {
    const line = document.createElement("div"), who = document.createElement("span"), word = document.createElement("span"), drawn = document.createElement("div");
    line.className = enough ? "part" : "part short";
    who.className = "who";
    who.textContent = name;
    word.className = "word";
    word.textContent = `${text} a day: ${enough ? "enough" : "less than is used"}`;
    drawn.className = "bar";
    drawn.setAttribute("aria-hidden", "true");
    const full = document.createElement("span"), limit = document.createElement("span");
    full.style.width = `${100 * share}%`;
    limit.className = "limit";
    limit.style.left = `${100 * table.use_share}%`;
    drawn.append(full, limit);
    line.append(who, word, drawn);
    bars.append(line);
  }

  function show() {
    const one = table.headings[Number(slider.value)];
    where.textContent = one.name;
    slider.setAttribute("aria-valuetext", `${one.name}; raised ${one.raised}, closed ${one.flat} a day`);
    bars.replaceChildren();
    bar("Roof raised", one.raised, one.shares[0], one.enough[0]);
    bar("Roof closed", one.flat, one.shares[1], one.enough[1]);
    const used = document.createElement("p");
    used.className = "soft";
    used.textContent = `The upright line: ${table.use} used a day.`;
    bars.append(used);
  }

  function take() {
    const found = document.querySelector("[data-sun-table]"), text = found ? found.textContent : "";
    if (text === saved) return;
    const first = !table;
    saved = text;
    table = text ? JSON.parse(text) : null;
    root.hidden = !table;
    if (!table) return;
    slider.max = String(table.headings.length - 1);
    if (first) slider.value = String(table.best);
    show();
  }

  slider.addEventListener("input", show);
  best.addEventListener("click", () => { slider.value = String(table.best); show(); });
  document.addEventListener("loftwright:parts", take);
  take();
}
