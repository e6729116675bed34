// The forms of the proof: after a reading is saved its figures make room for the next one.
const ONCE = ["how_open", "force", "doubt", "reads"];

export function start() {
  document.addEventListener("loftwright:done", (event) => {
    const form = event.target;
    if (form.id !== "reading-add" && form.id !== "tape-add") return;
    for (const name of ONCE) {
      const field = form.elements[name];
      if (!field || (form.id === "tape-add" && name === "how_open")) continue;
      field.value = "";
      field.defaultValue = "";
    }
    form.querySelector("input:not([type=hidden])").focus();
  });
  document.addEventListener("change", (event) => {
    if (event.target.id !== "add-way") return;
    event.target.form.elements.scale.value = event.target.selectedOptions[0].dataset.scale;
  });
}
