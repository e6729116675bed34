// Fetches the drawing in three dimensions and its data when its fold is opened for the first time, and the data anew
// when the project has changed since.

let percent = 100;

async function fetched(source) {
  const answer = await fetch(source, { headers: { Accept: "application/json" } });
  if (!answer.ok) throw new Error(String(answer.status));
  return answer.json();
}

function watch(fold) {
  const root = fold.querySelector("[data-solid-root]");
  const status = fold.querySelector("[data-solid-status]");
  const notes = fold.querySelector("[data-solid-notes]");
  let drawing = null, stale = true, busy = false;

  async function show() {
    if (busy) return;
    busy = true;
    try {
      while (stale && fold.open) {
        stale = false;
        const [module, data] = await Promise.all([import("./solid.js"), fetched(fold.dataset.solidSource)]);
        if (drawing) drawing.update(data);
        else drawing = module.mount(root, data);
        drawing.setOpening(percent);
        notes.replaceChildren(
          ...data.notes.map((text) => Object.assign(document.createElement("p"), { textContent: text })),
        );
        status.textContent = "";
      }
    } catch {
      stale = true;
      status.textContent = "The drawing did not arrive. Close and open it to try again.";
    }
    busy = false;
  }

  fold.addEventListener("toggle", show);
  document.addEventListener("loftwright:parts", (event) => {
    // What is only tried while a point is moved is not the project.
    if (event.detail?.version === undefined || event.detail.trial) return;
    stale = true;
    show();
  });
  show();
}

export function start() {
  document.addEventListener("loftwright:opening", ({ detail }) => {
    percent = Number(detail !== null && typeof detail === "object" ? detail.percent : detail);
  });
  for (const fold of document.querySelectorAll("details[data-solid]")) watch(fold);
}
