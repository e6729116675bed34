// The link of this tab to the program: one websocket that comes back by itself.
const listeners = new Map();
let socket = null;
let tries = 0;
let wanted = () => ({});

export function on(kind, listener) {
  if (!listeners.has(kind)) listeners.set(kind, []);
  listeners.get(kind).push(listener);
}

export function send(message) {
  if (!socket || socket.readyState !== WebSocket.OPEN) return false;
  socket.send(JSON.stringify({ file: document.body.dataset.file, ...message }));
  return true;
}

export const linked = () => Boolean(socket) && socket.readyState === WebSocket.OPEN;

// What a module adds to the greeting, such as the width of its drawing.
export function greetWith(fill) { wanted = fill; }

function tell(kind, message) { for (const listener of listeners.get(kind) || []) listener(message); }

export function connect() {
  const url = (location.protocol === "https:" ? "wss://" : "ws://") + location.host + "/live";
  socket = new WebSocket(url);
  socket.addEventListener("open", () => {
    tries = 0;
    document.getElementById("link").hidden = true;
    const query = Object.fromEntries(new URLSearchParams(location.search));
    send({ t: "hello", page: document.body.dataset.page, query, ...wanted() });
    document.body.dataset.linked = "yes";
    tell("linked", {});
  });
  socket.addEventListener("message", (event) => {
    const message = JSON.parse(event.data);
    tell(message.t, message);
  });
  socket.addEventListener("close", () => {
    document.getElementById("link").hidden = false;
    document.body.dataset.linked = "no";
    tell("lost", {});
    tries += 1;
    setTimeout(connect, Math.min(200 * 2 ** tries, 3000));
  });
}
