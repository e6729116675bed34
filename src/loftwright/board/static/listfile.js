// Puts the text of a chosen file into the field below it and sends it.
const MOST = 1000000;

export function start({ say }) {
  const form = document.querySelector("[data-list-file]");
  if (!form) return;
  const choose = form.querySelector("[data-choose]"), file = choose.querySelector("input"), text = form.querySelector("textarea"), name = form.querySelector("input[name=name]");
  choose.hidden = false;
  file.addEventListener("change", async () => {
    const chosen = file.files[0];
    if (!chosen) return;
    if (chosen.size > MOST) { say("This file is too long for a list of parts.", false); return; }
    try {
      text.value = new TextDecoder("utf-8", { fatal: true }).decode(await chosen.arrayBuffer());
    } catch {
      say("This file is not UTF-8 text: save it as CSV in UTF-8.", false);
      return;
    }
    name.value = chosen.name;
    // The same file can be chosen again once it is mended.
    file.value = "";
    form.requestSubmit();
  });
  text.addEventListener("input", () => { name.value = ""; });
}
