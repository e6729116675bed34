// Stands in a tab of the board before its own scripts and notes when a move comes and when what follows is painted.
// Times are those of the tab [ms]. A frame counts as painted when the first task after it begins.
(() => {
  const watched = { moves: [], curves: [], tries: 0, refused: 0, received: [], ready: 0, verdicts: 0, grip: 0 };
  window.watched = watched;
  const asked = new Map();
  let current = null, newest = null, answer = null;

  function painted(then) {
    requestAnimationFrame(() => {
      const channel = new MessageChannel();
      channel.port1.onmessage = () => { channel.port1.close(); then(performance.now()); };
      channel.port2.postMessage(0);
    });
  }

  addEventListener("pointerrawupdate", (event) => { newest = event.timeStamp; }, true);
  addEventListener("pointermove", (event) => { current = newest = event.timeStamp; }, true);
  addEventListener("pointermove", () => { current = null; });

  const mark = performance.mark.bind(performance);
  performance.mark = (name, ...rest) => {
    const now = performance.now();
    if (name === "grip" && current !== null) {
      const from = current;
      if (!watched.grip) watched.grip = now;
      painted((then) => watched.moves.push([from, now, then]));
    }
    if (name === "curves" && answer) {
      const one = answer;
      answer = null;
      painted((then) => watched.curves.push([one.from, one.sent, one.came, now, then]));
    }
    return mark(name, ...rest);
  };

  window.WebSocket = class extends WebSocket {
    constructor(...given) {
      super(...given);
      this.addEventListener("message", (event) => {
        const came = performance.now(), head = /^\{"t":"(\w+)"(?:,"seq":(\d+))?/.exec(event.data.slice(0, 80)) || [];
        watched.received.push([head[1], event.data.length]);
        answer = null;
        if (head[1] !== "trial") return;
        if (event.data.slice(0, 80).includes('"refused"')) watched.refused += 1;
        else if (asked.has(head[2])) answer = { ...asked.get(head[2]), came };
        asked.delete(head[2]);
      });
    }
    send(text) {
      if (text.startsWith('{"t":"try"')) {
        watched.tries += 1;
        asked.set(String(JSON.parse(text).seq), { from: newest, sent: performance.now() });
      }
      super.send(text);
    }
  };

  function look() {
    const now = performance.now();
    if (!watched.ready && document.querySelector("[data-drawing][data-ready] .grip:not([hidden])")) watched.ready = now;
    if (!watched.verdicts && document.querySelector('[data-part="verdicts"] h2')) watched.verdicts = now;
    if (!watched.ready || !watched.verdicts) requestAnimationFrame(look);
  }
  look();
})();
