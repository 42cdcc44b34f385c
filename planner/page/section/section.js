/* The section of one line: its drawing in the format that fits, and one place marked on it. */

import { h } from "vue";
import { bus, rested, tell } from "headfall-plan";
import { at } from "headfall-along";

const WIDTHS = [["wide", 860], ["medium", 520], ["narrow", 0]]; // px from which each is shown
const STEP = 0.01, STRIDE = 0.1; // of the line, an arrow key, and with Shift
const WAYS = { ArrowLeft: -1, ArrowRight: 1 };

export default {
  emits: ["ready", "mark", "pick"],
  mounted() {
    Object.assign(this, { line: null, drawings: {}, shown: "", chainage: null, finding: null });
    this.rested = rested((name, said) => this.$emit(name, said));
    this.onMark = ({ detail }) => { if (detail.from !== this) this.mark(detail.line, detail.chainage); };
    bus.addEventListener("mark", this.onMark);
    this.watcher = new ResizeObserver(() => this.fit());
    this.watcher.observe(this.$refs.sheet);
    this.listen(this.$refs.sheet);
    this.$emit("ready");
  },
  unmounted() {
    bus.removeEventListener("mark", this.onMark);
    this.watcher.disconnect();
  },
  methods: {
    /* Drawings by format, and the samples of their line; null for none. */
    show(line, drawings) {
      const same = this.line?.name === line?.name;
      Object.assign(this, { line, drawings, shown: "" });
      if (!same) this.chainage = null;
      this.fit();
    },

    fit() {
      const width = this.$refs.sheet.clientWidth;
      const format = WIDTHS.find(([name, from]) => width >= from && name in this.drawings)?.[0] ?? Object.keys(this.drawings)[0] ?? "";
      if (format === this.shown) return;
      this.shown = format;
      this.$refs.sheet.innerHTML = this.drawings[format] ?? ""; // all text in it was escaped as it was drawn
      this.chooseFinding(this.finding);
      this.mark(this.line?.name, this.chainage);
    },

    listen(sheet) {
      const follow = (event) => { if (this.line && event.target.closest?.("svg.section")) this.go(this.under(event)); };
      sheet.addEventListener("pointermove", (event) => { if (event.pointerType === "mouse" || event.buttons) follow(event); });
      sheet.addEventListener("pointerdown", follow);
      sheet.addEventListener("pointerleave", (event) => { if (event.pointerType === "mouse") this.go(null); });
      sheet.addEventListener("click", (event) => this.click(event));
      sheet.addEventListener("keydown", (event) => this.key(event));
    },

    /* The chainage under the pointer. */
    under(event) {
      const svg = this.$refs.sheet.querySelector("svg.section"), seen = svg.getBoundingClientRect();
      const x = ((event.clientX - seen.left) / seen.width) * svg.viewBox.baseVal.width;
      const chainage = (x - Number(svg.dataset.left)) / Number(svg.dataset.along);
      return Math.min(Math.max(chainage, 0), this.line.chainage.at(-1));
    },

    go(chainage) {
      if (!this.line) return;
      this.mark(this.line.name, chainage);
      tell(this.line.name, chainage, this);
      this.rested(this.line.name, chainage);
    },

    click(event) {
      const under = document.elementsFromPoint(event.clientX, event.clientY); // the catcher lies over the numbers
      const number = under.map((one) => one.closest("g[data-number]")).find(Boolean)?.dataset.number;
      if (number !== undefined) this.$emit("pick", { kind: "finding", number: Number(number) });
      else if (this.line && event.target.closest?.("svg.section")) {
        this.$emit("pick", { kind: "line", line: this.line.name, chainage: this.under(event) });
      }
    },

    key(event) {
      const way = WAYS[event.key];
      if (way === undefined || !this.line) return;
      const total = this.line.chainage.at(-1), by = (event.shiftKey ? STRIDE : STEP) * total * way;
      this.go(Math.min(Math.max((this.chainage ?? 0) + by, 0), total));
      event.preventDefault();
    },

    /* A place of this line; the mark of another line is none of this one's. */
    mark(name, chainage) {
      const { line } = this, cursor = this.$refs.sheet.querySelector(".cursor");
      const here = line && line.name === name ? chainage : null;
      this.chainage = here;
      if (!cursor) return;
      cursor.setAttribute("visibility", here === null ? "hidden" : "visible");
      if (here === null) return;
      const { left, along, bottom, up, lowest } = cursor.ownerSVGElement.dataset;
      const x = Number(left) + here * Number(along), pipe = at(line, here, (i) => line.pipe[i]);
      const stroke = cursor.querySelector("line"), dot = cursor.querySelector("circle");
      stroke.setAttribute("x1", x);
      stroke.setAttribute("x2", x);
      dot.setAttribute("visibility", Number.isFinite(pipe) ? "inherit" : "hidden");
      dot.setAttribute("cx", x);
      if (Number.isFinite(pipe)) dot.setAttribute("cy", Number(bottom) - (pipe - Number(lowest)) * Number(up));
    },

    chooseFinding(number) {
      this.finding = number;
      for (const one of this.$refs.sheet.querySelectorAll("[data-number]")) {
        one.classList.toggle("chosen", Number(one.dataset.number) === number);
      }
    },
  },
  render() {
    return h("div", { class: "section-view" }, [
      h("div", { ref: "sheet", class: "section-sheet", tabindex: 0, role: "group", "aria-label": "Section: left and right arrow keys go along the line" }),
    ]);
  },
};
