"use strict";
/* What is done at each stake, kept in this browser under the plan's title and its set of stakes. */

const STEPS = ["pegged", "levelled", "dug", "laid"];
const KEY = "headfall stakes"; // then the title and the set of stakes
const SAME_NAME = 3, SAME_PLACE = 1; // m; how far a stake of a newer plan may stand from the old one

function openTicks(plan, pegs) {
  const prefix = `${KEY} ${plan.title} `, key = prefix + plan.stakes;
  const store = storage(), told = document.querySelector(".stakes .kept");
  const listeners = [], scale = plan.scale, unit = plan.unit;
  let state = read(key) ?? carried() ?? fresh();

  function fresh() { return { made: plan.made, saved: "", stakes: {}, left: {} }; }
  function read(name) {
    try {
      const { made, saved, from, stakes, left } = JSON.parse(store?.getItem(name) ?? "null");
      return { made: String(made), saved: String(saved), ...(from && { from: String(from) }), stakes: sound(stakes), left: sound(left) };
    } catch {
      return null; // not ours, or damaged: it is left where it is
    }
  }
  /* Only what this page itself would have written. */
  function sound(entries) {
    const kept = Object.entries(entries).map(([name, { done, level, depth, at, was }]) => [name, {
      done: STEPS.filter((step) => done.includes(step)),
      ...(Number.isFinite(level) && { level }),
      ...(Number.isFinite(depth) && { depth }),
      ...(Array.isArray(at) && at.length === 2 && at.every(Number.isFinite) && { at }),
      ...(was && { was: String(was) }),
    }]);
    return Object.fromEntries(kept);
  }
  /* Of an older plan of this title: what stands at the same stakes still. */
  function carried() {
    const names = store ? Array.from({ length: store.length }, (_, k) => store.key(k)) : [];
    const ofTitle = (name) => name.startsWith(prefix) && /^[0-9a-f]{12}$/.test(name.slice(prefix.length));
    const older = names.filter((name) => ofTitle(name) && name !== key).map(read).filter(Boolean);
    const last = older.sort((a, b) => (a.saved < b.saved ? 1 : -1))[0];
    if (!last) return null;
    const own = { ...fresh(), from: last.made, left: { ...last.left } };
    for (const [name, kept] of Object.entries(last.stakes)) {
      const peg = sameAs(name, kept.at);
      if (peg && !own.stakes[peg.name]) own.stakes[peg.name] = peg.name === name ? kept : { ...kept, was: name };
      else own.left[name] = kept;
    }
    return own;
  }
  function sameAs(name, at) {
    const away = (peg) => (Array.isArray(at) ? peg.at.distanceTo(at) : Infinity);
    const near = pegs.filter((peg) => away(peg) <= SAME_PLACE).sort((a, b) => away(a) - away(b));
    const named = pegs.find((peg) => peg.name === name && away(peg) <= SAME_NAME);
    return near.find((peg) => peg.name === name) ?? near.find((peg) => peg.name.split(" ")[0] === name.split(" ")[0]) ?? named;
  }

  /* Another window may have ticked meanwhile: only the stake at hand is written over. */
  function put(name, change) {
    const latest = read(key);
    if (latest) state = { ...state, stakes: { ...state.stakes, ...latest.stakes } };
    const { lat, lng } = pegs.find((peg) => peg.name === name).at;
    const kept = { ...of(name), ...change, at: [lat, lng] };
    for (const part of ["level", "depth"]) if (kept[part] === undefined) delete kept[part];
    state.stakes[name] = kept;
    save();
    tell([name]);
  }
  function save() {
    state.saved = new Date().toISOString();
    state.made = plan.made;
    try {
      if (!store) throw new Error("nothing is kept");
      store.setItem(key, JSON.stringify(state));
    } catch {
      say(true);
    }
  }
  function say(lost = !store) {
    const left = Object.keys(state.left);
    told.textContent = [
      lost
        ? "This browser keeps nothing of what you tick (a private window, or its storage is switched off or full): copy the list out before you close the page."
        : "What you tick is kept in this browser on this device, and nowhere else: copy the list out at the end of the day.",
      state.from ? `Some of it comes from the plan of ${dayOf(state.from)}.` : "",
      left.length ? `Of an older plan, at stakes that are gone or stand elsewhere now: ${left.map((name) => `${name} (${wordsOf(state.left[name])})`).join(", ")}.` : "",
    ].filter(Boolean).join(" ");
    told.classList.toggle("lost", lost);
  }
  const tell = (names) => { for (const listener of listeners) listener(names); };
  const of = (name) => ({ done: [], ...state.stakes[name] });
  const shown = (metres) => (metres * scale).toFixed(2).replace("-", "\u2212");
  const wordsOf = (kept) => [
    STEPS.filter((step) => kept.done?.includes(step)).join(", "),
    kept.level === undefined ? "" : `level ${shown(kept.level)} ${unit}`,
    kept.depth === undefined ? "" : `depth ${shown(kept.depth)} ${unit}`,
    kept.was ? `its peg says ${kept.was}` : "",
  ].filter(Boolean).join("; ");

  function toggle(name, step) {
    const { done } = of(name);
    put(name, { done: done.includes(step) ? done.filter((one) => one !== step) : [...done, step] });
  }
  /* A level or depth as typed; what is wrong with it, in words, or nothing. */
  function enter(name, part, said, ground) {
    if (said === "") return void put(name, { [part]: undefined });
    const value = Number(said.replace(",", ".").replace("\u2212", "-").replace(new RegExp(`\\s*${unit}$`), ""));
    if (!Number.isFinite(value)) return { kept: false, words: `${part === "level" ? "A level" : "A depth"} is a number of ${unit}; "${said}" is not kept.` };
    if (part === "depth" && (value / scale < -5 || value / scale > 6)) return { kept: false, words: `No pipe lies ${said} ${unit} deep; it is not kept.` };
    if (part === "level" && (value / scale < -1000 || value / scale > 9000)) return { kept: false, words: `${said} ${unit} is no level on the Earth; it is not kept.` };
    const step = part === "level" ? "levelled" : "dug", { done } = of(name);
    put(name, { [part]: value / scale, done: done.includes(step) ? done : [...done, step] });
    const off = part === "level" ? Math.abs(value - ground) / scale : 0;
    return off > 5 ? { kept: true, words: `Kept. It is ${(off * scale).toFixed(1)} ${unit} from the plan's ground here: read it again, and see which datum and unit it is in.` } : null;
  }
  function count(line) {
    const own = pegs.filter((peg) => peg.line === line);
    const sums = STEPS.map((step) => `${own.filter((peg) => of(peg.name).done.includes(step)).length} ${step}`);
    return `${own.length} stakes: ${sums.join(", ")}`;
  }

  /* Out as text and as tables, in from text. */
  function text() {
    const lines = plan.lines.filter((line) => line.stakes.some(([stake]) => wordsOf(of(stake)) !== ""));
    return [
      `${plan.title}, plan of ${dayOf(plan.made)}`,
      ...(lines.length ? [] : ["Nothing is ticked yet."]),
      ...lines.flatMap(({ name, letters, stakes }) => [
        "", `${letters} ${name} (${count(name)})`,
        ...stakes.map(([stake]) => [stake, wordsOf(of(stake))]).filter((row) => row[1]).map((row) => row.join(": ")),
      ]),
      ...(Object.keys(state.left).length ? ["", "Of an older plan", ...Object.entries(state.left).map(([name, kept]) => `${name}: ${wordsOf(kept)}`)] : []),
    ].join("\n");
  }
  const cell = (value) => (/[",\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value);
  const table = (rows) => `${rows.map((row) => row.map((value) => cell(String(value))).join(",")).join("\r\n")}\r\n`;
  const plain = (metres) => (metres * scale).toFixed(3);
  function levels() {
    const rows = pegs.filter((peg) => of(peg.name).level !== undefined)
      .map((peg) => [peg.name, plain(of(peg.name).level), peg.at.lng.toFixed(7), peg.at.lat.toFixed(7), wordsOf({ ...of(peg.name), level: undefined })]);
    return rows.length ? table([["station", `level (${unit})`, "lon", "lat", "remark"], ...rows]) : "";
  }
  function depths(line) {
    const rows = pegs.filter((peg) => peg.line === line && of(peg.name).depth !== undefined)
      .map((peg) => [plain(peg.chainage), plain(of(peg.name).depth), "", "", peg.name]);
    return rows.length ? table([[`chainage (${unit})`, `depth (${unit})`, "what", "photo", "remark"], ...rows]) : "";
  }
  /* Lines as `text` writes them; says how many were taken and which could not be. */
  function take(said) {
    const taken = [], missed = [];
    for (const line of said.split("\n").map((one) => one.trim()).filter((one) => /^\S+ \d+:/.test(one))) {
      const [, name, rest] = /^(\S+ \d+):(.*)$/.exec(line);
      if (!pegs.some((peg) => peg.name === name)) { missed.push(name); continue; }
      const found = (part) => {
        const match = new RegExp(`${part} ([\u2212-]?[\\d.,]+) (m|ft)\\b`).exec(rest);
        return match ? Number(match[1].replace(",", ".").replace("\u2212", "-")) * (match[2] === "ft" ? 0.3048 : 1) : undefined;
      };
      const { done, level, depth } = of(name);
      const steps = STEPS.filter((step) => done.includes(step) || new RegExp(`\\b${step}\\b`).test(rest));
      put(name, { done: steps, level: found("level") ?? level, depth: found("depth") ?? depth });
      taken.push(name);
    }
    return `Stakes taken in: ${taken.length}.${missed.length ? ` Not on this plan: ${missed.join(", ")}.` : ""}`;
  }

  window.addEventListener("storage", (event) => {
    if (event.key !== key) return;
    state = read(key) ?? state;
    tell(pegs.map((peg) => peg.name));
  });
  if (state.from && !store?.getItem(key)) save();
  say();
  return {
    of, toggle, enter, shown, count, text, levels, depths, take,
    words: (name) => wordsOf(of(name)),
    onChange: (listener) => { listeners.push(listener); listener(pegs.map((peg) => peg.name)); },
  };
}

/* The browser's own store, if it keeps anything. */
function storage() {
  try {
    const probe = `${KEY}?`;
    window.localStorage.setItem(probe, "1");
    window.localStorage.removeItem(probe);
    return window.localStorage;
  } catch {
    return null;
  }
}

const dayOf = (iso) => new Date(`${iso}T12:00:00`).toLocaleDateString("en-GB", { day: "numeric", month: "long", year: "numeric" });
