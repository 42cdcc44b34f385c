/* Tools for sketching: what a click on the plan means while one is in hand. */

import { leaflet as L } from "nicegui-leaflet";
import { element, marker, stroke, xy } from "./marks.js";

const CLOSE = 14; // px from the first corner, within which a click closes the ring
const AREA = 3; // corners that a ring has at least

export class Tools {
  constructor(map, emit, helps) {
    this.map = map;
    this.emit = emit;
    this.helps = helps; // {peg(latlng): where on which line, or null}
    this.name = "none";
    this.options = {};
    this.spots = [];
    this.group = L.layerGroup().addTo(map);
    map.on("click", ({ latlng, originalEvent }) => this.at(latlng, originalEvent));
    map.on("mousemove", ({ latlng }) => this.reach(latlng));
    map.getContainer().addEventListener("keydown", (event) => this.key(event));
  }

  get busy() {
    return this.name !== "none";
  }

  take(name, options) {
    this.name = name;
    this.options = options;
    this.map.getContainer().dataset.tool = name;
    this.map.doubleClickZoom[this.busy ? "disable" : "enable"]();
    this.clear();
  }

  clear() {
    this.spots = [];
    this.group.clearLayers();
  }

  /* A click, or Enter with the plan in focus: something happens there. */
  at(latlng, event) {
    const [x, y] = xy(latlng);
    if (this.name === "place") this.emit("place", { role: this.options.role, x, y });
    else if (this.name === "peg") this.peg(latlng);
    else if (this.name === "measure") this.measure(latlng);
    else if (this.name === "area" && !(event?.detail > 1)) this.corner(latlng);
    else if (this.name === "area") this.close();
    else this.emit("pick", { kind: "ground", x, y });
  }

  peg(latlng) {
    const found = this.helps.peg(latlng);
    if (found !== null) this.emit("peg", found);
  }

  measure(latlng) {
    if (this.spots.length === 2) this.clear();
    this.spots.push(latlng);
    this.draw();
    if (this.spots.length === 2) this.emit("measure", { a: xy(this.spots[0]), b: xy(this.spots[1]) });
  }

  /* What was measured, at the middle of the stroke. */
  say(words) {
    if (this.name !== "measure" || this.spots.length !== 2) return;
    const [a, b] = this.spots, [line, ...more] = words.split("\n");
    const label = element("span", "measured", line);
    for (const part of more) label.append(element("br", ""), part);
    marker([(a.lng + b.lng) / 2, (a.lat + b.lat) / 2], [label], { size: 0, zIndexOffset: 800 }).addTo(this.group);
  }

  corner(latlng) {
    const { map } = this, here = map.latLngToContainerPoint(latlng);
    const first = this.spots.length >= AREA && map.latLngToContainerPoint(this.spots[0]);
    if (first && first.distanceTo(here) < CLOSE) return this.close();
    this.spots.push(latlng);
    this.draw();
  }

  close() {
    const points = this.spots.map(xy);
    if (points.length < AREA) return;
    this.clear();
    this.emit("ring", { role: this.options.role, points });
  }

  /* The stroke from the last spot to the pointer. */
  reach(latlng) {
    const open = this.name === "area" ? this.spots.length > 0 : this.name === "measure" && this.spots.length === 1;
    if (open) this.rubber.setLatLngs([...this.spots, latlng]);
  }

  draw() {
    this.group.clearLayers();
    this.rubber = this.name === "area"
      ? L.polygon(this.spots, { pane: "tools", className: "rubber", interactive: false })
      : stroke(this.spots, "tools", "rubber");
    this.rubber.addTo(this.group);
    for (const spot of this.spots) {
      marker([spot.lng, spot.lat], [element("span", "spot")], { size: 0 }).addTo(this.group);
    }
  }

  key(event) {
    if (!this.busy || event.target !== this.map.getContainer()) return;
    if (event.key === "Enter" && this.name === "area" && this.double(this.map.getCenter())) this.close();
    else if (event.key === "Enter") this.at(this.map.getCenter(), null);
    else if (event.key === "Backspace") { this.spots.pop(); this.draw(); }
    else if (event.key === "Escape" && this.spots.length > 0) this.clear();
    else if (event.key === "Escape") this.emit("stopped", { tool: this.name });
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /* Enter twice at one place closes the ring, as a double click does. */
  double(latlng) {
    const last = this.spots.at(-1);
    return last !== undefined && last.distanceTo(latlng) < 1e-6;
  }
}
