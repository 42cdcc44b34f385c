/* A drag under way: one place asked about at a time, the newest next when that was answered. */

import { note } from "./bus.js";

const PATIENCE = 1500; // ms; an answer that takes longer is not waited for
const LATE = 3000; // ms after a drop, in which answers to the drag before it may still come

export class Travel {
  constructor(emit) {
    this.emit = emit;
    this.flying = this.next = this.dropped = this.last = null;
  }

  go(name, [x, y]) {
    this.next = { name, x, y, begun: performance.now() };
    if (this.flying === null) this.send();
  }

  send() {
    const { name, x, y, begun } = this.next, asked = { name, begun, sent: performance.now() };
    this.next = null;
    this.flying = asked;
    this.emit("drag", { name, x, y, sent: begun });
    setTimeout(() => { if (this.flying === asked) this.landed(); }, PATIENCE);
  }

  landed() {
    this.flying = null;
    if (this.next !== null) this.send();
  }

  /* An answer came and was drawn; `answered` is when it came. */
  followed(name, answered) {
    if (this.flying?.name === name) {
      note({ kind: "drag", ...this.flying, answered });
      this.landed();
    } else if (this.dropped?.name === name) {
      note({ kind: "preview", ...this.dropped, answered });
    }
  }

  drop(name, [x, y]) {
    this.next = null;
    this.dropped = { name, begun: performance.now(), sent: performance.now() };
    this.last = { name, x, y, begun: this.dropped.begun };
  }

  hold() {
    this.last = null;
  }

  /* Whether an answer tells of a place which the point has left since. */
  stale({ name, at: [x, y] }) {
    const { last } = this;
    if (last?.name !== name || performance.now() - last.begun > LATE) return false;
    return Math.hypot(x - last.x, y - last.y) > 0.05;
  }

  /* A whole plan came and was drawn. */
  planned(view, answered) {
    if (this.dropped === null) return;
    note({ kind: "drop", ...this.dropped, answered, state: view.state });
    if (view.state !== "refining") this.dropped = null;
  }
}
