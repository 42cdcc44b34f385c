"use strict";
/* What moves on the page: layers to switch, a line to choose, one position on plan and section. */

function startSheet({ map, groups, lines, findings, routes }) {
  const plan = JSON.parse(document.getElementById("plan-data").textContent);
  const all = (selector, root = document) => Array.from(root.querySelectorAll(selector));
  const show = (group, on) => (on ? groups[group].addTo(map) : groups[group].remove());
  const figureOf = (name) => all(".sections figure").find((f) => f.dataset.line === name);
  const shapes = new Map(plan.lines.map((line) => [line.name, line]));
  const flow = L.layerGroup().addTo(groups.lines);
  const here = L.circleMarker([0, 0], { radius: 6, className: "here", interactive: false });
  const bar = document.querySelector(".bar"), card = document.querySelector(".card");
  let chosen = null;
  const begin = plan.lines.some((line) => line.stakes.length > 0) ? startStakes : withoutStakes;
  const stakes = begin({ map, plan, groups, choose, mark, chosen: () => chosen, hold: () => { touched = true; } });

  /* The whole plan in view, and never lost from it. */
  const box = L.latLngBounds(plan.bounds);
  function whole() {
    const size = map.getSize();
    const room = Math.min(48, size.x * 0.14, size.y * 0.14);
    map.fitBounds(box, { padding: [room, room], animate: false });
  }
  let touched = false; // once moved by hand, the plan stays where it was put
  for (const kind of ["pointerdown", "wheel", "keydown"]) {
    map.getContainer().addEventListener(kind, () => { touched = true; }, { passive: true });
  }
  map.setMaxBounds(L.latLngBounds(plan.ground).pad(0.3));
  L.control.scale({ metric: plan.units === "metric", imperial: plan.units !== "metric" }).addTo(map);

  /* On a phone the tools are always at hand, the plan is not. */
  function toPlan() {
    const seen = map.getContainer().getBoundingClientRect(), over = card.hidden ? bar : card;
    const bottom = bar.offsetWidth > window.innerWidth - 40 ? over.getBoundingClientRect().top : window.innerHeight;
    if (seen.top < -8 || Math.min(seen.bottom, bottom) - seen.top < 220) window.scrollBy(0, seen.top - 4);
  }
  for (const button of all("[data-tool]")) {
    const acts = { closer: () => map.zoomIn(1), wider: () => map.zoomOut(1), whole, stakes: () => stakes.start() };
    button.addEventListener("click", () => {
      touched = button.dataset.tool !== "whole";
      acts[button.dataset.tool]?.();
      toPlan();
    });
  }
  for (const box of all("input[data-layer]")) {
    box.checked = true; // a browser may remember a tick of an earlier visit
    box.addEventListener("change", () => show(box.dataset.layer, box.checked));
  }

  /* Arrows and letters along the lines, at even distances on the screen. */
  function drawFlow() {
    flow.clearLayers();
    for (const line of plan.lines) {
      for (const spot of spots(map, line.path, 110, 55)) flow.addLayer(arrow(spot, line.colour));
      for (const spot of spots(map, line.path, 330, 110)) flow.addLayer(letters(spot, line));
    }
  }

  /* Choosing a line shows its section. */
  function choose(name) {
    if (!shapes.has(name)) return;
    chosen = name;
    forget();
    stakes.chose(name);
    for (const figure of all(".sections figure")) figure.classList.toggle("chosen", figure.dataset.line === name);
    for (const button of all("button[data-line]")) {
      const own = button.dataset.line === name, row = button.parentNode;
      button.setAttribute("aria-pressed", String(own));
      if (own) row.scrollLeft = button.offsetLeft - row.offsetLeft - 30; // a phone shows a few at a time
    }
    for (const [place, { group }] of routes.entries()) { // only its own other routes, or none can be told apart
      if (plan.routes[place].line === name) groups.routes.addLayer(group);
      else groups.routes.removeLayer(group);
    }
  }

  /* One position, at a chainage, on the map and on the section. */
  function mark(name, chainage) {
    const line = shapes.get(name);
    here.setLatLng([at(line, chainage, (i) => line.path[i][0]), at(line, chainage, (i) => line.path[i][1])]).addTo(map);
    const ground = at(line, chainage, (i) => line.ground[i]);
    const pipe = at(line, chainage, (i) => line.pipe[i]);
    for (const drawing of all("svg.section", figureOf(name))) {
      const d = drawing.dataset;
      const x = Number(d.left) + chainage * Number(d.along);
      const cursor = drawing.querySelector(".cursor");
      cursor.setAttribute("visibility", "visible");
      cursor.querySelector("line").setAttribute("x1", x);
      cursor.querySelector("line").setAttribute("x2", x);
      cursor.querySelector("circle").setAttribute("cx", x);
      cursor.querySelector("circle").setAttribute("cy", Number(d.bottom) - (pipe - Number(d.lowest)) * Number(d.up));
    }
    figureOf(name).querySelector(".reading").textContent =
      `at ${length(chainage, 1)}: ground ${length(ground, 2)}, pipe ${length(pipe, 2)}`;
  }
  function forget() {
    here.remove();
    for (const cursor of all(".cursor")) cursor.setAttribute("visibility", "hidden");
    for (const reading of all(".reading")) reading.textContent = "";
  }
  const length = (metres, digits) =>
    Number.isFinite(metres) ? `${(metres * plan.scale).toFixed(digits).replace("-", "\u2212")} ${plan.unit}` : "unknown";

  for (const [place, line] of lines.entries()) {
    const name = plan.lines[place].name;
    line.on("click", (event) => {
      choose(name);
      mark(name, nearest(map, shapes.get(name), event.latlng));
      stakes.tapped(event.latlng, name);
    });
    line.on("mousemove", (event) => { if (name === chosen) mark(name, nearest(map, shapes.get(name), event.latlng)); });
    line.on("mouseout", forget);
  }
  for (const button of all("button[data-line]")) button.addEventListener("click", () => choose(button.dataset.line));
  for (const figure of all(".sections figure")) {
    for (const drawing of all("svg.section", figure)) {
      const follow = (event) => {
        const seen = drawing.getBoundingClientRect();
        const x = ((event.clientX - seen.left) / seen.width) * drawing.viewBox.baseVal.width;
        const total = shapes.get(figure.dataset.line).chainage.at(-1);
        const chainage = (x - Number(drawing.dataset.left)) / Number(drawing.dataset.along);
        mark(figure.dataset.line, Math.min(Math.max(chainage, 0), total));
      };
      const catcher = drawing.querySelector(".catch");
      catcher.addEventListener("pointermove", follow);
      catcher.addEventListener("pointerdown", follow);
      catcher.addEventListener("pointerleave", (event) => { if (event.pointerType === "mouse") forget(); });
    }
  }

  /* A finding's number is the same in the list and on the plan. */
  function openFinding(number, { scroll }) {
    for (const item of all(".findings li[data-finding]")) {
      const same = Number(item.dataset.finding) === number;
      item.classList.toggle("chosen", same);
      if (same && scroll) item.scrollIntoView({ block: "nearest" });
    }
    const found = plan.findings.find((f) => f.number === number);
    if (!found) return;
    if (found.line !== null) choose(found.line);
    if (found.line !== null && found.chainage !== null && shapes.has(found.line)) mark(found.line, found.chainage);
    if (found.at !== null && !scroll) map.panTo(found.at);
  }
  for (const item of all(".findings li[tabindex]")) {
    const open = () => openFinding(Number(item.dataset.finding), { scroll: false });
    item.addEventListener("click", open);
    item.addEventListener("keydown", (event) => { if (event.key === "Enter") open(); });
  }
  for (const marker of findings) {
    marker.on("click", (event) => {
      const number = event.originalEvent.target.dataset?.finding;
      if (number !== undefined) openFinding(Number(number), { scroll: true });
    });
  }

  /* Another route: its stroke on the plan and its row in the table are one. */
  const rows = all(".routes tr[data-route]");
  function openRoute(place, { scroll }) {
    const { line, letter } = plan.routes[place];
    for (const [number, { seen }] of routes.entries()) seen.setStyle({ weight: number === place ? 4 : 2 });
    for (const row of rows) {
      const same = row.dataset.line === line && row.dataset.route === letter;
      row.classList.toggle("chosen", same);
      if (same && scroll) row.scrollIntoView({ block: "nearest" });
    }
    choose(line);
  }
  for (const [place, { hit }] of routes.entries()) hit.on("click", () => openRoute(place, { scroll: true }));
  for (const row of rows) {
    const place = plan.routes.findIndex((r) => r.line === row.dataset.line && r.letter === row.dataset.route);
    const open = () => openRoute(place, { scroll: false });
    row.addEventListener("click", open);
    row.addEventListener("keydown", (event) => { if (event.key === "Enter") open(); });
  }
  for (const item of all(".choices li")) {
    const open = () => { choose(item.dataset.line); mark(item.dataset.line, Number(item.dataset.chainage)); };
    item.addEventListener("click", open);
    item.addEventListener("keydown", (event) => { if (event.key === "Enter") open(); });
  }

  for (const button of all(".all-figures")) {
    button.addEventListener("click", () => {
      const on = button.parentNode.classList.toggle("whole");
      button.setAttribute("aria-expanded", String(on));
      button.textContent = on ? "Fewer figures" : "All figures";
    });
  }
  const measureBar = () => {
    const root = document.documentElement.style;
    root.setProperty("--bar", `${bar.offsetHeight}px`);
    root.setProperty("--card", `${card.offsetHeight}px`);
  };
  const watched = new ResizeObserver(measureBar);
  for (const part of [bar, card]) watched.observe(part);

  /* Where the pointer is, and the ground there. */
  const where = document.querySelector(".where"), level = document.querySelector(".live-map .level");
  map.on("mousemove click", ({ latlng }) => {
    where.textContent = `${latlng.lat.toFixed(6)}, ${latlng.lng.toFixed(6)}`;
    const ground = groundAt(plan.grid, latlng);
    level.textContent = Number.isFinite(ground) ? `ground ${length(ground, 1)}` : "";
  });
  map.on("mouseout", () => { where.textContent = level.textContent = ""; });

  map.on("zoomend", drawFlow);
  map.on("moveend", () => { stakes.draw(); settle(map, plan); });
  if (plan.lines.length > 0) choose((plan.lines.find((line) => line.role === plan.first) ?? plan.lines[0]).name);
  whole();
  drawFlow();
  stakes.draw();
  settle(map, plan);
  new ResizeObserver(() => {
    map.invalidateSize({ pan: false });
    if (!touched) whole();
    settle(map, plan);
  }).observe(map.getContainer());
}

/* Ground level [m] from the coarse grid, bilinear; NaN outside it and on missing data. */
function groundAt(grid, { lat, lng }) {
  if (grid.levels === undefined) {
    const bytes = Uint8Array.from(atob(grid.data), (c) => c.charCodeAt(0));
    const view = new DataView(bytes.buffer);
    grid.levels = Array.from({ length: bytes.length / 2 }, (_, i) => view.getInt16(2 * i, true));
  }
  const row = ((grid.north - lat) / (grid.north - grid.south)) * (grid.rows - 1);
  const col = ((lng - grid.west) / (grid.east - grid.west)) * (grid.cols - 1);
  if (!(row >= 0 && row <= grid.rows - 1 && col >= 0 && col <= grid.cols - 1)) return NaN;
  const r = Math.min(Math.floor(row), grid.rows - 2), c = Math.min(Math.floor(col), grid.cols - 2);
  const value = (dr, dc) => {
    const level = grid.levels[(r + dr) * grid.cols + c + dc];
    return level === grid.none ? NaN : grid.base + level * grid.step;
  };
  const fr = row - r, fc = col - c;
  return (1 - fr) * ((1 - fc) * value(0, 0) + fc * value(0, 1)) + fr * ((1 - fc) * value(1, 0) + fc * value(1, 1));
}
