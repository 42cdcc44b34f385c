"use strict";
/* Stakes: small ticks on the plan, a list a line, and one stake at a time in large figures. */

const TAP = 24; // px; a finger means the nearest stake within this
const TICKS_FROM = 18; // px between stakes from which they are shown
const NAMES_FROM = 24; // px between stakes from which they have names
const MOST_TICKS = 250;

/* A plan without lines has none. */
function withoutStakes({ map, plan }) {
  startPosition({ map, plan, pegs: [], opened: () => null });
  return { draw() {}, tapped() {}, start() {}, chose() {} };
}

function startStakes({ map, plan, groups, choose, mark, chosen, hold }) {
  const all = (selector, root = document) => Array.from(root.querySelectorAll(selector));
  const pegs = plan.lines.flatMap((line) => line.stakes.map(([name, lat, lon, chainage, weight]) =>
    ({ name, at: L.latLng(lat, lon), chainage, weight, line: line.name })));
  for (const [order, peg] of pegs.entries()) {
    const [before, after] = [pegs[order - 1], pegs[order + 1]];
    peg.before = before?.line === peg.line ? before : null;
    peg.after = after?.line === peg.line ? after : null;
  }
  const byName = new Map(pegs.map((peg) => [peg.name, peg]));
  const rowOf = new Map(all(".stakes tbody").map((row) => [row.dataset.stake, row]));
  const card = document.querySelector(".card");
  const ticks = openTicks(plan, pegs);
  const drawn = L.layerGroup().addTo(groups.stakes);
  const ring = L.circleMarker([0, 0], { radius: 13, className: "peg-ring", interactive: false });
  let open = null;

  /* On the plan. */
  const gap = () => { // px between stakes, in the middle
    const far = pegs.filter((peg) => peg.before).map((peg) => exact(map, peg.at).distanceTo(exact(map, peg.before.at)));
    return far.sort((a, b) => a - b)[far.length >> 1] ?? Infinity;
  };
  function draw() {
    drawn.clearLayers();
    const room = gap(), view = map.getBounds().pad(0.1);
    const seen = pegs.filter((peg) => view.contains(peg.at));
    if (room < TICKS_FROM) return;
    const telling = seen.sort((a, b) => b.weight - a.weight).slice(0, MOST_TICKS);
    for (const peg of telling) drawn.addLayer(tick(peg, room >= NAMES_FROM));
  }
  function tick(peg, named) {
    const a = exact(map, peg.at), b = exact(map, (peg.after ?? peg.before ?? peg).at);
    const far = a.distanceTo(b) || 1, across = { x: -(b.y - a.y) / far, y: (b.x - a.x) / far };
    const html = document.createElement("div");
    const bar = document.createElement("i");
    bar.className = `peg ${ticks.of(peg.name).done.length > 0 ? "done" : ""}`;
    bar.style.transform = `translate(-50%, -50%) rotate(${(Math.atan2(across.y, across.x) * 180) / Math.PI}deg)`;
    html.append(bar);
    if (named) {
      const name = document.createElement("span");
      Object.assign(name, { className: "peg-name", textContent: peg.name });
      Object.assign(name.dataset, across.x < 0 ? { x: -across.x, y: -across.y } : across);
      html.append(name);
    }
    const look = L.divIcon({ html, className: "mark", iconSize: [0, 0] });
    return L.marker(peg.at, { icon: look, interactive: false, keyboard: false, zIndexOffset: -400 });
  }

  /* A finger on the plan or on a section means the nearest stake. */
  function tapped(latlng, line) {
    if (gap() < TICKS_FROM) return;
    const p = exact(map, latlng);
    const away = (peg) => exact(map, peg.at).distanceTo(p) + (peg.line === (line ?? chosen()) ? 0 : 2);
    const near = pegs.reduce((a, b) => (away(b) < away(a) ? b : a));
    if (away(near) <= TAP) show(near);
  }
  map.on("click", ({ latlng }) => tapped(latlng));
  for (const group of ["points", "turns"]) { // they lie over their stakes
    groups[group].eachLayer((layer) => layer.on("click", () => tapped(layer.getLatLng())));
  }
  for (const drawing of all("svg.section")) {
    const name = drawing.closest("figure").dataset.line, { left, along } = drawing.dataset;
    drawing.querySelector(".catch").addEventListener("click", (event) => {
      const seen = drawing.getBoundingClientRect(), scale = drawing.viewBox.baseVal.width / seen.width;
      const chainage = ((event.clientX - seen.left) * scale - Number(left)) / Number(along);
      const own = pegs.filter((peg) => peg.line === name), away = (peg) => Math.abs(peg.chainage - chainage);
      const near = own.reduce((a, b) => (a && away(a) <= away(b) ? a : b), null);
      if (near && (away(near) * Number(along)) / scale <= TAP) show(near);
    });
  }

  /* In the list: a name becomes a button, the whole row is its target. */
  for (const [name, row] of rowOf) {
    const head = row.querySelector(".peg-head"), button = document.createElement("button");
    Object.assign(button, { type: "button", textContent: name });
    head.replaceChildren(button);
    row.addEventListener("click", () => approach(byName.get(name)));
  }

  /* One stake. */
  const words = (row, part) => row.querySelector(`.${part}`)?.textContent ?? "";
  function show(peg) {
    open = peg;
    if (chosen() !== peg.line) choose(peg.line);
    mark(peg.line, peg.chainage);
    ring.setLatLng(peg.at).addTo(map);
    const row = rowOf.get(peg.name);
    for (const [name, other] of rowOf) other.classList.toggle("chosen", name === peg.name);
    const box = row.closest(".pegs");
    if (box.scrollHeight > box.clientHeight) box.scrollTop = row.offsetTop - box.clientHeight / 2;
    card.hidden = false;
    document.documentElement.classList.add("stake-open");
    card.querySelector("h2").textContent = peg.name;
    for (const figure of all("dd", card)) figure.textContent = words(row, figure.dataset.part);
    card.querySelector(".card-walk").textContent = [`${card.dataset.along} ${words(row, "chainage")}${plan.units === "metric" ? " m" : ""}`, words(row, "walk")].filter(Boolean).join("; ");
    card.querySelector(".card-remark").textContent = words(row, "remark");
    for (const button of all("[data-step]", card)) {
      const other = beside(Number(button.dataset.step));
      button.disabled = !other;
      button.querySelector("b").textContent = other ? other.name : "";
    }
    fill();
    flag();
    reveal(peg);
  }
  const beside = (step) => (step > 0 ? open.after : open.before);
  function close() {
    open = null;
    card.hidden = true;
    document.documentElement.classList.remove("stake-open");
    ring.remove();
    for (const row of rowOf.values()) row.classList.remove("chosen");
    for (const old of all(".peg-flag")) old.remove();
  }
  /* The stake stays in sight: not under the card, not outside the plan. */
  function reveal(peg) {
    hold();
    const frame = map.getContainer().getBoundingClientRect(), over = card.getBoundingClientRect();
    const below = over.width > 0.7 * frame.width; // else the card stands beside the plan, or over its right
    const down = below ? Math.min(over.top, frame.bottom) - frame.top : frame.height;
    const across = below || over.top > frame.bottom ? frame.width : Math.min(over.left, frame.right) - frame.left;
    const height = down > 90 ? down : frame.height, p = map.latLngToContainerPoint(peg.at);
    const hidden = p.x < 40 || p.x > across - 40 || p.y < 40 || p.y > height - 40;
    if (hidden) map.panBy([p.x - across / 2, p.y - height / 2], { animate: false });
  }
  /* Near enough for the names of the stakes. */
  function approach(peg) {
    const room = gap();
    if (room < NAMES_FROM) map.setView(peg.at, map.getZoom() + Math.log2((1.3 * NAMES_FROM) / room), { animate: false });
    show(peg);
  }
  /* A flag on the section, which stays while the pointer moves. */
  function flag() {
    for (const old of all(".peg-flag")) old.remove();
    const figure = all(".sections figure").find((one) => one.dataset.line === open.line);
    for (const drawing of all("svg.section", figure)) {
      const { left, along, bottom } = drawing.dataset, x = Number(left) + open.chainage * Number(along);
      const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
      path.setAttribute("class", "peg-flag");
      path.setAttribute("d", `M${x} ${bottom}l-6 -11h12z`);
      drawing.querySelector(".catch").before(path);
    }
  }
  for (const button of all("[data-step]", card)) {
    button.addEventListener("click", () => show(beside(Number(button.dataset.step))));
  }
  card.querySelector("[data-close]").addEventListener("click", close);
  card.addEventListener("keydown", (event) => {
    if (event.key === "Escape") close();
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (step && event.target.tagName !== "INPUT" && beside(step)) show(beside(step));
  });

  /* What is done there. */
  function fill() {
    const kept = ticks.of(open.name);
    for (const button of all("[data-done]", card)) {
      button.setAttribute("aria-pressed", String(kept.done.includes(button.dataset.done)));
    }
    for (const input of all("[data-entry]", card)) {
      const value = kept[input.dataset.entry];
      input.value = value === undefined ? "" : ticks.shown(value);
      input.removeAttribute("aria-invalid");
    }
    card.querySelector(".card-word").textContent = "";
  }
  for (const button of all("[data-done]", card)) {
    button.addEventListener("click", () => { ticks.toggle(open.name, button.dataset.done); fill(); });
  }
  for (const input of all("[data-entry]", card)) {
    input.addEventListener("change", () => {
      const said = input.value.trim();
      const trouble = ticks.enter(open.name, input.dataset.entry, said, Number(words(rowOf.get(open.name), "ground").replace("−", "-")));
      if (!trouble || trouble.kept) fill();
      if (trouble) card.querySelector(".card-word").textContent = trouble.words;
      input.toggleAttribute("aria-invalid", Boolean(trouble) && !trouble.kept);
    });
  }
  ticks.onChange((names) => {
    for (const name of names) if (rowOf.has(name)) rowOf.get(name).querySelector(".done").textContent = ticks.words(name);
    for (const box of all(".stakes .pegs")) box.querySelector(".count").textContent = ticks.count(box.dataset.line);
    draw();
    settle(map, plan);
  });

  startPosition({ map, plan, pegs, opened: () => open });
  startOutward({ plan, ticks, chosen });
  return {
    tapped,
    draw,
    start: () => approach(open ?? pegs.find((peg) => peg.line === chosen()) ?? pegs[0]),
    chose: (line) => {
      for (const box of all(".stakes .pegs")) box.classList.toggle("chosen", box.dataset.line === line);
      if (open && open.line !== line) close();
    },
  };
}
