// Starts a page: the live link, parts that come anew, forms, and the modules that the page names.
import { connect, on, send } from "./live.js";
import { replaceParts } from "./parts.js";
import { forms, say } from "./forms.js";

const body = document.body;

on("parts", (message) => {
  replaceParts(message.parts);
  if (message.version !== undefined) body.dataset.version = String(message.version);
  document.dispatchEvent(new CustomEvent("loftwright:parts", { detail: message }));
});
on("gone", (message) => { location.assign(message.to); });

forms();

for (const name of (body.dataset.modules || "").split(" ").filter(Boolean)) {
  const module = await import("./" + name);
  if (module.start) await module.start({ on, send, say });
}
connect();
