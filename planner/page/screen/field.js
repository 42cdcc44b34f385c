// One labelled field. What is being typed stays until it is handed over, whatever is drawn anew.
export default {
  props: {
    label: String, value: String, hint: String, trouble: String, kind: String,
    options: Array, example: String, wide: Boolean,
  },
  emits: ["given"],
  data() { return { typed: this.value ?? "", busy: false }; },
  watch: {
    value(now) { if (!this.busy) this.typed = now ?? ""; },
  },
  methods: {
    give() {
      this.busy = false;
      if (this.typed !== (this.value ?? "")) this.$emit("given", this.typed);
    },
    begin() { this.busy = true; },
    enter(event) { this.give(); event.target.select?.(); },
    drop(event) { event.stopPropagation(); this.typed = this.value ?? ""; this.busy = false; event.target.blur(); },
  },
  computed: {
    own() { return `field-${this.$.uid}`; },
    told() { return this.hint || this.trouble ? `${this.own}-told` : undefined; },
  },
  template: `
    <div class="field" :class="{ troubled: trouble, wide }">
      <label class="label" :for="own">{{ label }}</label>
      <select v-if="kind === 'choice'" :id="own" v-model="typed" @change="give"
        :aria-invalid="!!trouble" :aria-describedby="told">
        <option v-for="one in options" :key="one[0]" :value="one[0]">{{ one[1] }}</option>
      </select>
      <input v-else :id="own" :type="kind === 'date' ? 'date' : 'text'" v-model="typed" :placeholder="example"
        autocomplete="off" autocapitalize="off" spellcheck="false" :aria-invalid="!!trouble" :aria-describedby="told"
        @focus="begin" @blur="give" @keydown.enter="enter" @keydown.escape="drop">
      <div v-if="told" :id="told">
        <span v-if="trouble" class="trouble" role="alert">{{ trouble }}</span>
        <span v-if="hint" class="hint">{{ hint }}</span>
      </div>
    </div>`,
};
