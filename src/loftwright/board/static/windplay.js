// The raised roof in a gust from one side: everything is looked up in the table that came with the page.
const PER_CENT = 100, MOST = 999, FULL = 1.5;

const named = (word) => word[0].toUpperCase() + word.slice(1);

export function start() {
  const root = document.querySelector("[data-windplay]");
  if (!root) return;
  const find = (name) => root.querySelector(`[data-${name}]`);
  const slider = find("slider"), sides = find("sides"), gust = find("gust"), list = find("parts"), said = find("said"), sway = find("sway");
  let table = null, side = 0, lines = [], speaking = 0;

  function read() {
    const data = document.querySelector("[data-wind]");
    const next = data ? JSON.parse(data.textContent) : null;
    root.hidden = !next;
    if (!next) return;
    const same = table && table.gusts.length === next.gusts.length;
    const at = same ? slider.value : String(next.wanted);
    table = next;
    slider.max = String(next.gusts.length - 1);
    slider.value = at;
    if (side >= next.directions.length) side = 0;
    choose();
    build();
    show();
  }

  // Buttons stay the same elements as long as the sides are the same: focus stays with them.
  function choose() {
    const key = table.directions.join();
    if (sides.dataset.shown === key) return;
    sides.dataset.shown = key;
    for (const old of sides.querySelectorAll("label")) old.remove();
    table.directions.forEach((name, i) => {
      const label = document.createElement("label"), input = document.createElement("input");
      Object.assign(input, { type: "radio", name: "side", value: String(i), checked: i === side });
      input.autocomplete = "off";
      label.append(input, named(name));
      sides.append(label);
    });
  }

  function build() {
    list.replaceChildren();
    lines = table.parts.map((part) => {
      const line = document.createElement("div"), make = (css, inside) => {
        const made = document.createElement(inside ? "div" : "span");
        made.className = css;
        if (inside) made.append(inside);
        return made;
      };
      const fill = document.createElement("span"), bar = make("bar", fill), limit = make("limit");
      const name = make("who"), word = make("word"), first = make("first soft");
      bar.append(limit);
      bar.setAttribute("aria-hidden", "true");
      line.className = "part";
      name.textContent = named(part.name);
      line.append(name, word, bar, first);
      list.append(line);
      return { line, fill, word, first };
    });
  }

  function show() {
    if (!table) return;
    const at = Number(slider.value), text = table.gusts[at];
    gust.textContent = text;
    slider.setAttribute("aria-valuetext", text);
    const held = table.held[side][at];
    let past = 0, worst = 0;
    table.parts.forEach((part, i) => {
      const used = part.used[side][at], over = used >= 1, first = part.first[side];
      const { line, fill, word, first: note } = lines[i];
      if (over) past += 1;
      if (used > table.parts[worst].used[side][at]) worst = i;
      line.classList.toggle("past", over || !held);
      fill.style.width = `${(Math.min(used, FULL) / FULL) * PER_CENT}%`;
      word.textContent = !held ? "the roof is no longer held" : `${Math.min(Math.round(used * PER_CENT), MOST)} % of its limit: ${over ? "past its limit" : "holds"}`;
      note.textContent = first ? `${named(part.limit)}; ${/^\d/.test(first) ? "at its limit in gusts of" : "at its limit"} ${first}` : named(part.limit);
    });
    sway.textContent = !held ? "Nothing holds the open roof in this gust: lower it before." : `The free end sways ${table.sway[side][at]}` + (table.without.length && table.without[side][at] ? `; without the brace ${table.without[side][at]}.` : ".");
    for (const picture of document.querySelectorAll("[data-side]")) picture.hidden = picture.dataset.side !== String(side);
    const words = !held ? "Nothing holds the open roof in this gust." : table.parts.length === 0 ? "" : past
      ? `${past} of ${table.parts.length} past ${past === 1 ? "its" : "their"} limit; most of all: ${table.parts[worst].name}.`
      : `All hold; nearest to its limit: ${table.parts[worst].name}.`;
    // Who listens hears where the slider rests, not every step on the way.
    clearTimeout(speaking);
    speaking = setTimeout(() => { if (said.textContent !== words) said.textContent = words; }, said.textContent ? 250 : 0);
  }

  slider.addEventListener("input", show);
  sides.addEventListener("change", (event) => { side = Number(event.target.value); show(); });
  document.addEventListener("loftwright:parts", (event) => {
    const parts = event.detail.parts;
    if (parts.winddata !== undefined) read();
    else if (parts.holdpicture !== undefined) show();
  });
  read();
}
