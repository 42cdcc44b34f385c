/* The plan as an element of the page: hands on what the server says, and what hands do. */

import { h } from "vue";
import { Plan } from "headfall-plan";

const EVENTS = [
  "ready", "touch", "place", "peg", "drag", "drop", "ring", "reshape", "pick", "measure", "remove", "mark", "stopped",
];

export default {
  props: { looks: Object },
  emits: EVENTS, // or a file dropped on the page would count as a point dropped
  mounted() {
    this.plan = new Plan(this.$refs.sheet, this.looks, (name, said) => this.$emit(name, said));
    this.$emit("ready");
  },
  unmounted() {
    this.plan.remove();
  },
  methods: {
    tell(name, ...said) {
      this.plan[name](...said);
    },
  },
  render() {
    return h("div", { class: "plan-map" }, [
      h("div", { ref: "sheet", class: "plan-sheet", role: "application", "aria-label": "Plan: arrow keys move the view, plus and minus zoom, Home shows the whole plan, Tab goes from point to point" }),
    ]);
  },
};
