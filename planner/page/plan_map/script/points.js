/* Points: drawn shapes that can be dragged, moved with the arrow keys, chosen and taken away. */

import { drawing, element, marker, place, shorten, xy } from "./marks.js";

const STEP = 4, STRIDE = 40; // px of an arrow key, and with Shift
const REST = 700; // ms without a key, after which a point moved with keys has arrived
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class Points {
  /* `on` takes {near, hold, move, drop, pick, remove}, each with the point's view. */
  constructor(map, glyphs, on) {
    this.map = map;
    this.glyphs = glyphs;
    this.on = on;
    this.drawn = new Map();
    this.held = null; // name of the point in the hand
    this.chosen = null;
  }

  draw(points) {
    const names = new Set(points.map((point) => point.name));
    for (const [name, { mark }] of this.drawn) {
      if (names.has(name)) continue;
      mark.remove();
      this.drawn.delete(name);
    }
    for (const point of points) this.put(point);
    this.choose(this.chosen);
  }

  put(point) {
    const before = this.drawn.get(point.name);
    if (before && before.point.role === point.role) {
      before.point = point;
      if (this.held !== point.name) before.mark.setLatLng(place(point.at));
      this.label(before);
      return;
    }
    before?.mark.remove();
    const glyph = drawing("glyph", this.glyphs[point.role], point.letter);
    const name = element("span", "name");
    const mark = marker(point.at, [glyph, name], {
      interactive: true, keyboard: true, draggable: true, riseOnHover: true,
    });
    const own = { point, mark, glyph, name };
    this.drawn.set(point.name, own);
    this.listen(own);
    mark.addTo(this.map);
    this.label(own);
  }

  label({ point, mark, glyph, name }) {
    const box = mark.getElement(), text = glyph.querySelector("text");
    if (text) text.textContent = point.letter;
    name.textContent = shorten(point.name);
    box.dataset.point = point.name;
    box.classList.toggle("found", point.by_program);
    const level = point.level || point.ground;
    box.setAttribute("aria-label", `${point.word} ${point.name}${level ? `, ${level}` : ""}. Arrow keys move it, Enter opens it, Delete removes it.`);
  }

  listen(own) {
    const { mark } = own, here = () => xy(mark.getLatLng());
    mark.on("dragstart", () => { this.hold(own); mark.getElement().classList.add("held"); });
    mark.on("drag", () => this.on.move(own.point, here()));
    mark.on("dragend", () => { mark.getElement().classList.remove("held"); this.drop(own); });
    mark.on("click", (event) => this.on.pick(own.point, event));
    mark.on("mouseover", () => this.on.near(own.point));
    mark.on("add", () => {
      for (const kind of ["focus", "pointerdown"]) mark.getElement().addEventListener(kind, () => this.on.near(own.point));
      mark.getElement().addEventListener("keydown", (event) => this.key(own, event));
    });
  }

  hold(own) {
    this.held = own.point.name;
    Object.assign(own.mark.getElement().style, { left: "0px", top: "0px" }); // exactly where it is
    this.on.hold(own.point);
  }

  drop(own) {
    clearTimeout(own.rest);
    own.rest = null;
    if (this.held !== own.point.name) return;
    this.held = null;
    this.on.drop(own.point, xy(own.mark.getLatLng()));
  }

  key(own, event) {
    const way = WAYS[event.key];
    if (way) this.step(own, way, event.shiftKey ? STRIDE : STEP);
    else if (event.key === "Enter" || event.key === " ") this.on.pick(own.point, event);
    else if (event.key === "Delete" || event.key === "Backspace") this.on.remove(own.point);
    else if (event.key === "Escape" && own.rest) this.putBack(own);
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  step(own, [right, down], far) {
    const { mark } = own, { map } = this;
    if (this.held !== own.point.name) this.hold(own);
    mark.setLatLng(map.unproject(map.project(mark.getLatLng()).add([right * far, down * far])));
    if (!map.getBounds().pad(-0.05).contains(mark.getLatLng())) map.panInside(mark.getLatLng(), { padding: [60, 60] });
    this.on.move(own.point, xy(mark.getLatLng()));
    clearTimeout(own.rest);
    own.rest = setTimeout(() => this.drop(own), REST);
  }

  putBack(own) {
    own.mark.setLatLng(place(own.point.at));
    this.drop(own);
  }

  /* A point as another tab, or a drop under way, has it. */
  follow(name, at) {
    if (this.held !== name) this.drawn.get(name)?.mark.setLatLng(place(at));
  }

  choose(name) {
    this.chosen = name;
    for (const [own, { mark }] of this.drawn) mark.getElement().classList.toggle("chosen", own === name);
  }

  list() {
    return [...this.drawn.values()].map(({ point }) => point);
  }
}
