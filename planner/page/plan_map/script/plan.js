/* The plan: all that is drawn on the sheet, and what hands do to it. */

import { leaflet as L } from "nicegui-leaflet";
import { settle } from "headfall-along";
import { Areas } from "./areas.js";
import { bus, rested, tell } from "./bus.js";
import { Ground } from "./ground.js";
import { Lines } from "./lines.js";
import { place, places } from "./marks.js";
import { Notes } from "./notes.js";
import { Points } from "./points.js";
import { makeSheet } from "./sheet.js";
import { Tools } from "./tools.js";
import { Travel } from "./travel.js";

const PEG = 40; // px from a line, within which a peg may be meant for it

export class Plan {
  /* `looks` are roles and glyphs; `emit` takes an event's name and what it says. */
  constructor(box, looks, emit) {
    const sheet = makeSheet(box), { map } = sheet;
    Object.assign(this, { map, emit, view: null, settling: 0, touched: false, near: null });
    this.rested = rested(emit);
    this.ground_ = new Ground(sheet);
    this.streams = L.layerGroup().addTo(map);
    this.travel = new Travel(emit);
    this.tools = new Tools(map, emit, { peg: (latlng) => this.peg(latlng) });
    this.areas = new Areas(map, {
      pick: (area, event) => this.pick({ kind: "area", index: area.index }, event),
      reshape: (area, points) => emit("reshape", { index: area.index, points }),
      remove: (area) => emit("remove", { kind: "area", index: area.index }),
    });
    this.lines = new Lines(map, looks.roles, {
      click: (line, chainage, event) => this.pick({ kind: "line", line: line.name, chainage }, event),
      over: (line, chainage) => { if (line.name === this.lines.chosen) this.tellMark(line.name, chainage); },
      out: (line) => { if (line.name === this.lines.chosen) this.tellMark(line.name, null); },
    });
    this.notes = new Notes(map, looks.turns, (number, event) => this.pick({ kind: "finding", number }, event));
    this.points = new Points(map, looks.points, {
      near: (point) => this.touch(point.name),
      hold: (point) => { this.travel.hold(); this.areas.choose(null); this.points.choose(point.name); },
      move: (point, at) => this.travel.go(point.name, at),
      drop: (point, at) => this.drop(point, at),
      pick: (point, event) => this.pick({ kind: "point", name: point.name }, event),
      remove: (point) => emit("remove", { kind: "point", name: point.name }),
    });
    this.here = L.circleMarker([0, 0], { radius: 6, pane: "here", className: "here", interactive: false });
    sheet.north.addEventListener("click", () => this.fit());
    this.listen(box);
  }

  listen(box) {
    const { map } = this;
    for (const kind of ["pointerdown", "wheel", "keydown"]) {
      box.addEventListener(kind, () => { this.touched = true; }, { passive: true });
    }
    box.addEventListener("keydown", (event) => { if (event.key === "Home") this.fit(); });
    map.on("moveend", () => this.settle());
    this.onMark = ({ detail }) => { if (detail.from !== this) this.mark(detail.line, detail.chainage); };
    bus.addEventListener("mark", this.onMark);
    this.watcher = new ResizeObserver(() => this.resize());
    this.watcher.observe(box);
  }

  /* With more or less room: what was in view as a whole stays so. */
  resize() {
    const { map } = this, whole = () => map.getBounds().contains(this.box() ?? map.getCenter());
    const before = whole();
    map.invalidateSize({ pan: false });
    if (this.points.held === null && (!this.touched || (before && !whole()))) this.fit();
    this.settle();
  }

  remove() {
    bus.removeEventListener("mark", this.onMark);
    this.watcher.disconnect();
    this.map.remove();
  }

  /* --- What the server tells --- */

  ground(view, picture) {
    const first = this.ground_.view?.bounds.join() !== view.bounds.join();
    this.ground_.draw(view, picture);
    if (first) this.fit();
    this.ground_.drawFigures();
  }

  draw(view) {
    const came = performance.now(), first = this.view === null || this.box() === null;
    Object.assign(this, { view, near: null });
    this.map.getContainer().dataset.state = view.state;
    this.streams.clearLayers();
    for (const [className, paths] of [["stream", view.streams], ["crossing", view.crossings]]) {
      L.polyline(paths.map(places), { pane: "streams", className, interactive: false }).addTo(this.streams);
    }
    this.areas.draw(view.areas);
    this.lines.draw(view.lines);
    this.points.draw(view.points);
    this.notes.draw(view.turns, view.findings);
    if (!view.lines.some((line) => line.name === this.lines.chosen)) this.here.remove();
    this.chooseLine(this.lines.chosen);
    if (first && !this.touched) this.fit();
    this.settle();
    this.travel.planned(view, came);
  }

  follow(view) {
    const came = performance.now(), gone = Object.keys(view.gone);
    if (!this.travel.stale(view)) {
      this.points.follow(view.name, view.at);
      this.lines.follow(view.lines, gone);
      this.notes.follow([...view.lines.map((line) => line.name), ...gone], view.turns);
      this.here.remove();
    }
    this.travel.followed(view.name, came);
  }

  kept(lines) {
    this.lines.keep(lines);
    this.settle();
  }

  tool(name, options) {
    this.tools.take(name, options);
    if (this.tools.busy) this.areas.choose(null);
  }

  measured(words) { this.tools.say(words); }

  mark(name, chainage) {
    const at = chainage === null ? null : this.lines.placeAt(name, chainage);
    if (at === null) this.here.remove();
    else this.here.setLatLng(at).addTo(this.map);
  }

  chooseLine(name) { this.lines.choose(name); }

  choosePoint(name) { this.points.choose(name); }

  chooseArea(index) { this.areas.choose(index); }

  chooseFinding(number) {
    this.notes.choose(number);
    const finding = this.view?.findings.find((one) => one.number === number);
    if (!finding) return;
    if (finding.line !== null) this.chooseLine(finding.line);
    if (finding.line !== null && finding.chainage !== null) this.mark(finding.line, finding.chainage);
    if (finding.at !== null) this.map.panInside(place(finding.at), { padding: [70, 70] });
  }

  zoom(steps) {
    this.touched = true;
    this.map.zoomIn(steps);
  }

  /* The whole plan in view; the whole ground while there is nothing on it. */
  fit() {
    const size = this.map.getSize(), box = this.box() ?? this.ground_.box;
    if (box === null || size.x === 0 || size.y === 0) return;
    this.touched = false;
    const room = (side) => Math.min(56, side * 0.14);
    this.map.fitBounds(box, { padding: [room(size.x), room(size.y)], animate: false });
  }

  box() {
    if (this.view === null) return null;
    const spots = [...this.view.points.map((p) => p.at), ...this.view.lines.flatMap((line) => line.path)];
    if (spots.length < 2) return null;
    return L.latLngBounds(places(spots)).pad(0.02);
  }

  /* --- What hands do --- */

  /* Something was chosen; with a tool in hand the click is meant for the tool. */
  pick(what, event) {
    if (event.latlng) L.DomEvent.stop(event);
    if (this.tools.busy && event.latlng) {
      this.tools.at(this.snap(what) ?? event.latlng, event.originalEvent);
      return;
    }
    if (what.kind === "line") this.tellMark(what.line, what.chainage);
    this.emit("pick", what);
  }

  /* Measuring goes from point to point exactly. */
  snap({ kind, name }) {
    return kind === "point" && this.tools.name === "measure" ? this.points.drawn.get(name).mark.getLatLng() : null;
  }

  /* A hand comes near a point: whoever follows it may prepare, once for each plan. */
  touch(name) {
    if (this.near === name) return;
    this.near = name;
    this.emit("touch", { name });
  }

  drop(point, [x, y]) {
    this.travel.drop(point.name, [x, y]);
    if (point.by_program) this.emit("place", { role: point.role, x, y }); // found before, now set
    else this.emit("drop", { name: point.name, x, y });
  }

  /* The line that a peg is meant for, and the way point that comes next along it. */
  peg(latlng) {
    const here = this.map.latLngToContainerPoint(latlng);
    const spots = this.lines.list().map((line) => {
      const chainage = this.lines.near(line.name, latlng);
      const away = this.map.latLngToContainerPoint(this.lines.placeAt(line.name, chainage)).distanceTo(here);
      return { line, chainage, away };
    });
    const best = spots.reduce((a, b) => (a && a.away <= b.away ? a : b), null);
    if (best === null || best.away > PEG) return null;
    const own = ({ role, line }) => role === "way" && (line === best.line.role || line === best.line.name);
    const ways = this.points.list().filter(own)
      .map((point) => ({ name: point.name, chainage: this.lines.near(best.line.name, L.latLng(place(point.at))) }))
      .filter((way) => way.chainage > best.chainage)
      .sort((a, b) => a.chainage - b.chainage);
    const [y, x] = [latlng.lat, latlng.lng].map((v) => Math.round(v * 100) / 100);
    return { line: best.line.name, role: best.line.role, x, y, before: ways[0]?.name ?? null };
  }

  tellMark(name, chainage) {
    this.mark(name, chainage);
    tell(name, chainage, this);
    this.rested(name, chainage);
  }

  /* Words and marks beside each other, once things are at rest. */
  settle() {
    cancelAnimationFrame(this.settling);
    this.settling = requestAnimationFrame(() => {
      if (this.points.held === null) settle(this.map, { lines: this.lines.list() });
    });
  }
}
