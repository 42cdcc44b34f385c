/* What plan and section tell each other without asking the server, and how long things took. */

const KEPT = 2000; // times held
const REST = 150; // ms

/* Marks on one page: `mark` with {line, chainage}, a chainage of null takes it away. */
export const bus = new EventTarget();

export function tell(line, chainage, from) {
  bus.dispatchEvent(new CustomEvent("mark", { detail: { line, chainage, from } }));
}

/* Tells the server where the mark came to rest: plan and section keep step without it. */
export function rested(emit) {
  let waiting = null;
  return (line, chainage) => {
    clearTimeout(waiting);
    waiting = setTimeout(() => emit("mark", { line, chainage }), REST);
  };
}

/* Times [ms since the page was opened] that a benchmark reads: of a drag and of a drop. */
const told = ((window.headfall ??= {}).times ??= []);

export function note(time) {
  requestAnimationFrame(() => setTimeout(() => { // after it was painted
    told.push({ ...time, drawn: performance.now() });
    if (told.length > KEPT) told.splice(0, told.length - KEPT);
  }));
}
