// One question at a time: while one is out the newest try waits, and a drop is never left out.
const PATIENCE = 5000;

export function talk(send, now) {
  let seq = 0, out = null, sent = 0;
  let waiting = [];

  function pump() {
    if (out && now() - sent > PATIENCE) out = null;
    while (!out && waiting.length) {
      const message = waiting.shift();
      if (!send(message)) { waiting = []; return false; }
      out = message;
      sent = now();
    }
    return true;
  }

  return {
    // Returns the number of the message, 0 when nothing can be sent.
    ask(message) {
      if (waiting.length && waiting[waiting.length - 1].t === "try") waiting.pop();
      seq += 1;
      waiting.push({ ...message, seq });
      return pump() ? seq : 0;
    },
    answered(number) {
      if (out && number >= out.seq) { out = null; pump(); }
    },
    // Forgets the tries that wait. What is out is not waited for: the program does not answer what was taken back.
    forget() {
      waiting = waiting.filter((message) => message.t !== "try");
      out = null;
      pump();
      return seq;
    },
    lost() { out = null; waiting = []; },
    get newest() { return seq; },
  };
}
