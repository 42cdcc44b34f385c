// What is done without a button: keys, files dropped anywhere, text pasted, the line to the server.
const TYPING = "input, textarea, select, [contenteditable]";

async function send(files, emit) {
  for (const file of files) {
    emit("arriving", file.name);
    let reply;
    try {
      const answer = await fetch(`upload?name=${encodeURIComponent(file.name)}`, { method: "POST", body: file });
      reply = await answer.json();
    } catch {
      reply = { error: `${file.name} did not arrive; try again` };
    }
    emit("arrived", { name: file.name, ...reply });
  }
}

export default {
  template: `<div class="drop-here" aria-hidden="true"><p>{{ words }}</p></div>`,
  props: { words: String },
  emits: ["undo", "redo", "leave", "pasted", "arriving", "arrived", "evening"],
  mounted() {
    this.hold = new AbortController();
    const on = (name, act, where = window) => where.addEventListener(name, act, { signal: this.hold.signal });
    on("keydown", (event) => this.key(event));
    on("paste", (event) => this.paste(event));
    on("dragover", (event) => this.over(event));
    on("dragleave", (event) => { if (!event.relatedTarget) this.dropping(false); });
    on("drop", (event) => this.drop(event));
    on("headfall-files", (event) => send(event.detail, (...told) => this.$emit(...told)));
    this.watchLine();
    const kept = localStorage.getItem("headfall-light");
    if (kept) document.documentElement.dataset.light = kept;
  },
  unmounted() { this.hold.abort(); },
  methods: {
    key(event) {
      if (event.key === "Escape" && !document.querySelector("dialog[open]")) this.$emit("leave");
      if (!(event.ctrlKey || event.metaKey) || event.target.closest?.(TYPING)) return;
      const key = event.key.toLowerCase();
      if (key !== "z" && key !== "y") return;
      event.preventDefault();
      this.$emit(key === "y" || event.shiftKey ? "redo" : "undo");
    },
    paste(event) {
      if (event.target.closest?.(TYPING)) return;
      const files = [...(event.clipboardData?.files ?? [])];
      const text = event.clipboardData?.getData("text") ?? "";
      if (files.length) send(files, (...told) => this.$emit(...told));
      else if (text.trim()) this.$emit("pasted", text.slice(0, 200));
    },
    over(event) {
      if (![...event.dataTransfer.types].includes("Files")) return;
      event.preventDefault();
      this.dropping(true);
    },
    drop(event) {
      this.dropping(false);
      const files = [...event.dataTransfer.files];
      if (!files.length) return;
      event.preventDefault();
      send(files, (...told) => this.$emit(...told));
    },
    dropping(on) { document.documentElement.classList.toggle("dropping", on); },
    watchLine() {
      if (!window.socket) { setTimeout(() => this.watchLine(), 100); return; }
      const told = (on) => { document.documentElement.classList.toggle("offline", !on); };
      window.socket.on("connect", () => told(true));
      window.socket.on("disconnect", () => told(false));
    },
  },
};
