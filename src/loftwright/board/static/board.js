// Starts a page: the live link, parts that come anew, forms, and the modules that the page names.
import { connect, on, send } from "./live.js";
import { replaceParts } from "./parts.js";
import { forms, say } from "./forms.js";

const body = document.body;

on("parts", (message) => {
  replaceParts(message.parts);
  if (message.parts.title !== undefined) titled();
  if (message.version !== undefined) body.dataset.version = String(message.version);
  document.dispatchEvent(new CustomEvent("loftwright:parts", { detail: message }));
});
// The forms of parts that stayed as they were show this version of the file as well.
function titled() {
  document.title = document.querySelector("[data-title]").textContent;
  const version = document.querySelector("[data-seen]");
  if (!version) return;
  for (const field of document.querySelectorAll("input[type=hidden][name=seen]")) field.value = version.dataset.seen;
}

on("gone", (message) => { location.assign(message.to); });

forms();

for (const name of (body.dataset.modules || "").split(" ").filter(Boolean)) {
  const module = await import("./" + name);
  if (module.start) await module.start({ on, send, say });
}
connect();
