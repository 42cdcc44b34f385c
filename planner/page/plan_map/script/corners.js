/* Corners of a ring: dragged, moved with keys, added between two, taken away. */

import { leaflet as L } from "nicegui-leaflet";
import { element, marker, place } from "./marks.js";

const LEAST = 3; // corners of a ring
const STEP = 4, STRIDE = 40; // px of an arrow key, and with Shift
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class Corners {
  /* `changed` takes the ring [x, y] after each change that is done. */
  constructor(map, ring, changed) {
    this.map = map;
    this.ring = ring.map(([x, y]) => [x, y]);
    this.changed = changed;
    this.group = L.featureGroup().addTo(map);
    this.outline = L.polygon([], { pane: "tools", className: "reshaped", interactive: false });
    this.draw();
  }

  draw(focus = null) {
    this.group.clearLayers();
    this.outline.setLatLngs(this.ring.map(place)).addTo(this.group);
    for (const [k, at] of this.ring.entries()) {
      const next = this.ring[(k + 1) % this.ring.length];
      this.between(k + 1, [(at[0] + next[0]) / 2, (at[1] + next[1]) / 2]);
    }
    for (const [k, at] of this.ring.entries()) this.corner(k, at);
    if (focus !== null) this.group.getLayers().find((l) => l.corner === focus)?.getElement().focus();
  }

  corner(k, at) {
    const mark = this.handle(at, "corner", `Corner ${k + 1} of ${this.ring.length}. Arrow keys move it, Delete removes it.`);
    mark.corner = k;
    mark.on("drag", ({ latlng }) => this.bend(k, latlng));
    mark.on("dragend", () => this.done(null));
    mark.getElement().addEventListener("keydown", (event) => this.key(k, mark, event));
  }

  between(k, at) {
    const mark = this.handle(at, "corner between", "Between two corners. Enter adds one here.");
    const add = (latlng) => { this.ring.splice(k, 0, [latlng.lng, latlng.lat]); };
    mark.once("dragstart", () => add(mark.getLatLng()));
    mark.on("drag", ({ latlng }) => this.bend(k, latlng));
    mark.on("dragend", () => this.done(null));
    mark.getElement().addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      add(mark.getLatLng());
      this.done(k);
    });
  }

  handle(at, className, label) {
    const mark = marker(at, [element("span", className)], {
      interactive: true, keyboard: true, draggable: true, zIndexOffset: className === "corner" ? 600 : 500,
    }).addTo(this.group);
    mark.getElement().setAttribute("aria-label", label);
    return mark;
  }

  key(k, mark, event) {
    const way = WAYS[event.key], far = event.shiftKey ? STRIDE : STEP;
    if (way) {
      const { map } = this;
      mark.setLatLng(map.unproject(map.project(mark.getLatLng()).add([way[0] * far, way[1] * far])));
      this.bend(k, mark.getLatLng());
      this.done(k);
    } else if ((event.key === "Delete" || event.key === "Backspace") && this.ring.length > LEAST) {
      this.ring.splice(k, 1);
      this.done(Math.min(k, this.ring.length - 1));
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  bend(k, { lat, lng }) {
    this.ring[k] = [lng, lat];
    this.outline.setLatLngs(this.ring.map(place));
  }

  done(focus) {
    this.draw(focus);
    this.changed(this.ring.map(([x, y]) => [Math.round(x * 100) / 100, Math.round(y * 100) / 100]));
  }

  remove() {
    this.group.remove();
  }
}
