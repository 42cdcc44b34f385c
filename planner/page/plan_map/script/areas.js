/* Areas with their outline, hatching and name; the chosen one shows its corners. */

import { leaflet as L } from "nicegui-leaflet";
import { Corners } from "./corners.js";
import { element, marker, places, shorten } from "./marks.js";

const HIT = 22; // px, width of the unseen stroke that takes a finger

export class Areas {
  /* `on` takes {pick, reshape, remove}. */
  constructor(map, on) {
    this.map = map;
    this.on = on;
    this.views = [];
    this.chosen = null;
    this.corners = null;
    this.group = L.featureGroup().addTo(map);
    map.getContainer().addEventListener("keydown", (event) => this.key(event));
  }

  draw(areas) {
    this.views = areas;
    this.group.clearLayers();
    for (const area of areas) this.add(area);
    this.choose(areas.some((area) => area.index === this.chosen) ? this.chosen : null);
  }

  add(area) {
    for (const part of area.parts) {
      const rings = part.map(places);
      L.polygon(rings, { pane: "areas", className: `area ${area.role}`, interactive: false, lineCap: "butt" }).addTo(this.group);
      const hit = L.polygon(rings, { pane: "areas", className: "hit", fill: false, weight: HIT, opacity: 0 });
      hit.on("click", (event) => this.on.pick(area, event)).addTo(this.group);
    }
    if (area.parts.length === 0) return;
    const name = element("span", `area-name ${area.role}`, shorten(area.label));
    const mark = marker(labelAt(area), [name], { size: 0, interactive: true, keyboard: true, zIndexOffset: -300 });
    mark.on("click", (event) => this.on.pick(area, event)).addTo(this.group);
    const box = mark.getElement();
    box.setAttribute("aria-label", `Area ${area.label}. Enter opens it, Delete removes it.`);
    box.addEventListener("keydown", (event) => {
      if (event.key === "Enter") this.on.pick(area, event);
      else if (event.key === "Delete" || event.key === "Backspace") this.on.remove(area);
      else return;
      event.stopPropagation();
    });
  }

  choose(index) {
    this.corners?.remove();
    this.corners = null;
    this.chosen = index;
    const area = this.views.find((one) => one.index === index);
    if (area?.parts.length === 1 && area.parts[0].length === 1) { // holes and further parts keep their shape
      this.corners = new Corners(this.map, open(area.parts[0][0]), (points) => this.on.reshape(area, points));
    }
  }

  key(event) {
    if (event.key === "Escape" && this.chosen !== null) this.choose(null);
  }
}

/* A ring without its first corner said again at the end. */
function open(ring) {
  const [x, y] = ring[0], [u, v] = ring.at(-1);
  return ring.length > 1 && x === u && y === v ? ring.slice(0, -1) : ring;
}

/* Inside at the middle for land not to be dug; at the north-west corner for land to stay on. */
function labelAt({ role, parts }) {
  const ring = parts[0][0], middle = L.polygon(places(ring)).getBounds();
  if (role === "avoid" || role === "costly") return [middle.getCenter().lng, middle.getCenter().lat];
  const corner = ([x, y]) => y - x;
  return ring.reduce((best, at) => (corner(at) > corner(best) ? at : best));
}
