// A field that leaves of a list only what has its words; what came with the page is hidden, never taken out.
export function start() {
  for (const box of document.querySelectorAll("[data-filter]")) {
    const field = box.querySelector("input"), said = box.querySelector("output");
    const list = document.querySelector(`[data-filtered="${CSS.escape(box.dataset.filter)}"]`);
    if (!field || !list) continue;
    let opened = new WeakSet();
    box.hidden = false;

    const wordsOf = () => field.value.toLowerCase().split(/\s+/).filter(Boolean);

    function sift() {
      const words = wordsOf(), items = [...list.querySelectorAll("[data-item]")];
      let seen = 0;
      for (const item of items) {
        const text = item.textContent.toLowerCase(), fits = words.every((word) => text.includes(word));
        item.hidden = !fits;
        seen += fits ? 1 : 0;
      }
      for (const group of list.querySelectorAll("details.group")) {
        const some = Boolean(group.querySelector("[data-item]:not([hidden])"));
        group.hidden = words.length > 0 && !some;
        if (words.length && some && !group.open) { group.open = true; opened.add(group); }
        // What the search opened it closes again.
        if (!words.length && opened.has(group)) { group.open = false; opened.delete(group); }
      }
      said.textContent = !words.length ? "" : seen ? `${seen} of ${items.length}` : "Nothing has these words.";
    }

    field.addEventListener("input", sift);
    field.addEventListener("keydown", (event) => {
      if (event.key === "Escape" && field.value) { event.preventDefault(); field.value = ""; sift(); }
    });
    document.addEventListener("loftwright:parts", () => { if (wordsOf().length) sift(); });
  }
}
