/* Pipes: strokes by role, arrows and letters, an unseen stroke for the pointer, the kept plan. */

import { leaflet as L } from "nicegui-leaflet";
import { arrow, at, letters, nearest, spots } from "headfall-along";
import { element, marker, places, stroke } from "./marks.js";

const HIT = 26; // px, width of the unseen stroke that takes a finger
const POINT = 4 / 3; // px in a point
const ARROWS = [110, 55], LETTERS = [330, 110]; // px: every, and before the first

export class Lines {
  /* `looks` are widths [pt], dashes and edges by role; `on` takes {click, over, out}. */
  constructor(map, looks, on) {
    this.map = map;
    this.looks = looks;
    this.on = on;
    this.drawn = new Map();
    this.chosen = null;
    this.keeping = [];
    this.kept = L.layerGroup().addTo(map);
    map.on("zoomend", () => this.drawFlow());
  }

  draw(lines) {
    for (const name of [...this.drawn.keys()]) this.take(name);
    for (const line of lines) this.add(line);
    this.keep(this.keeping);
    this.drawFlow();
  }

  /* Lines as they are with a point somewhere else; for those `gone` there is no way from there. */
  follow(lines, gone) {
    for (const line of lines) {
      this.take(line.name);
      this.add(line);
      this.flow(line.name);
    }
    for (const [name, { group }] of this.drawn) fade(group, gone.includes(name));
    this.choose(this.chosen);
  }

  add(line) {
    const path = places(line.path), look = this.looks[line.role], group = L.featureGroup();
    for (const one of strokes(look, line.role)) stroke(path, "pipes", one.className, one).addTo(group);
    const hit = stroke(path, "hits", "hit", { weight: HIT, opacity: 0, interactive: true }).addTo(group);
    const flow = L.layerGroup().addTo(group), held = { ...line, path };
    hit.on("click", (event) => this.on.click(line, this.near(line.name, event.latlng), event));
    hit.on("mousemove", (event) => this.on.over(line, this.near(line.name, event.latlng)));
    hit.on("mouseout", () => this.on.out(line));
    this.drawn.set(line.name, { line: held, group, flow });
    group.addTo(this.map);
  }

  take(name) {
    this.drawn.get(name)?.group.remove();
    this.drawn.delete(name);
  }

  drawFlow() {
    for (const name of this.drawn.keys()) this.flow(name);
  }

  /* Arrows and letters at even distances on the screen. */
  flow(name) {
    const { line, flow } = this.drawn.get(name), colour = `var(--${line.role})`;
    flow.clearLayers();
    for (const spot of spots(this.map, line.path, ...ARROWS)) flow.addLayer(arrow(spot, colour));
    for (const spot of spots(this.map, line.path, ...LETTERS)) flow.addLayer(letters(spot, { ...line, colour }));
  }

  near(name, latlng) {
    return nearest(this.map, this.drawn.get(name).line, latlng);
  }

  /* The place at a chainage. */
  placeAt(name, chainage) {
    const line = this.drawn.get(name)?.line;
    if (!line) return null;
    return L.latLng(at(line, chainage, (i) => line.path[i][0]), at(line, chainage, (i) => line.path[i][1]));
  }

  /* Another plan, pale, under this one; only where the two differ. */
  keep(lines) {
    this.keeping = lines;
    this.kept.clearLayers();
    for (const line of lines) {
      const path = places(line.path), look = this.looks[line.role];
      if (path.length < 2 || String(path) === String(this.drawn.get(line.name)?.line.path)) continue;
      stroke(path, "kept", `kept ${line.role}`, { weight: look.width * POINT + 4 }).addTo(this.kept);
      const words = element("span", "route-letter kept", `${line.letters} kept`);
      marker(line.path[Math.floor(line.path.length / 3)], [words], { size: 0, zIndexOffset: -900 }).addTo(this.kept);
    }
  }

  choose(name) {
    this.chosen = name;
    for (const [own, { group }] of this.drawn) {
      group.eachLayer((layer) => layer.getElement?.()?.classList.toggle("chosen", own === name));
    }
  }

  list() {
    return [...this.drawn.values()].map(({ line }) => line);
  }
}

function fade(group, faded) {
  group.eachLayer((layer) => {
    const parts = layer.eachLayer ? layer.getLayers() : [layer];
    for (const part of parts) part.getElement?.()?.classList.toggle("gone", faded);
  });
}

/* Strokes of a pipe from the lowest up: a rim of paper, the colour, the core of rigid pipe. */
function strokes({ width, dash, double }, role) {
  const weight = width * POINT, dashArray = dash.map((part) => (part * weight).toFixed(1)).join(" ") || null;
  if (!double) {
    return [
      { className: "rim", weight: weight + 4, opacity: 0.85 },
      { className: `pipe ${role}`, weight, dashArray },
    ];
  }
  return [
    { className: "rim", weight: weight + 7, opacity: 0.85 },
    { className: `pipe ${role}`, weight: weight + 3 },
    { className: "rim core", weight: weight - 0.8 },
  ];
}
