/* The ground: hillshade, contours with their figures, and its level under the pointer. */

import { leaflet as L } from "nicegui-leaflet";
import { spots } from "headfall-along";
import { element, marker, places, stroke } from "./marks.js";
import { makeScale } from "./sheet.js";

const EVERY = 330, FIRST = 110; // px between two figures on one contour, and before the first
const CLOSEST = 48; // px of a cell at most
const APART = 90; // px between any two figures

export class Ground {
  constructor({ map, level }) {
    this.map = map;
    this.level = level;
    this.view = null;
    this.drawn = L.layerGroup().addTo(map);
    this.figures = L.layerGroup().addTo(map);
    map.on("mousemove click", ({ latlng }) => this.point(latlng));
    map.on("mouseout", () => { level.textContent = ""; });
    map.on("resize", () => this.limit());
    map.on("moveend", () => { this.holdBack(); this.drawFigures(); });
  }

  draw(view, picture) {
    const [west, south, east, north] = view.bounds, box = L.latLngBounds([south, west], [north, east]);
    const { map } = this;
    this.view = view;
    this.drawn.clearLayers();
    L.imageOverlay(picture, box, { pane: "ground", className: "shade" }).addTo(this.drawn);
    L.rectangle(box, { pane: "ground", className: "night", interactive: false }).addTo(this.drawn);
    for (const index of [false, true]) {
      const paths = view.contours.filter((c) => c[1] === index).map((c) => places(c[2]));
      stroke(paths, "contours", index ? "contour index" : "contour").addTo(this.drawn);
    }
    this.scale?.remove();
    this.scale = makeScale(map, view.unit === "m");
    this.limit();
    map.options.maxZoom = Math.ceil(Math.log2(CLOSEST / view.cell));
  }

  get box() {
    if (this.view === null) return null;
    const [west, south, east, north] = this.view.bounds;
    return L.latLngBounds([south, west], [north, east]);
  }

  /* No wider than the whole ground. */
  limit() {
    const { x, y } = this.map.getSize();
    if (this.view === null || x === 0 || y === 0) return;
    const [west, south, east, north] = this.view.bounds;
    const whole = Math.log2(Math.min(x / (east - west), y / (north - south)));
    this.map.options.minZoom = Math.floor(whole * 4) / 4 - 0.25; // setMinZoom() would zoom at once
  }

  /* The middle of the view stays on the ground, or the plan could be lost. */
  holdBack() {
    const { box, map } = this, at = map.getCenter();
    if (box === null) return;
    const within = (value, least, most) => Math.min(Math.max(value, least), most);
    const held = L.latLng(
      within(at.lat, box.getSouth(), box.getNorth()), within(at.lng, box.getWest(), box.getEast()),
    );
    const away = map.project(at).distanceTo(map.project(held));
    if (away > 2) map.panTo(held, { animate: false }); // it stops on whole pixels, so never quite there
  }

  /* Levels along the index contours in view, apart from each other. */
  drawFigures() {
    this.figures.clearLayers();
    if (this.view === null) return;
    const seen = this.map.getBounds(), taken = [];
    for (const [level, index, path] of this.view.contours) {
      if (!index || !L.latLngBounds(places(path)).intersects(seen)) continue;
      for (const spot of spots(this.map, places(path), EVERY, FIRST)) {
        const here = this.map.latLngToContainerPoint(spot.latlng);
        if (!seen.contains(spot.latlng) || taken.some((other) => other.distanceTo(here) < APART)) continue;
        taken.push(here);
        this.figures.addLayer(this.figure(level, spot));
      }
    }
  }

  figure(level, { latlng, angle }) {
    const text = Number((level * this.view.per_metre).toPrecision(10)).toLocaleString("en");
    const words = element("span", "contour-figure", text);
    words.style.transform = `rotate(${Math.abs(angle) > 90 ? angle + 180 : angle}deg)`;
    return marker([latlng.lng, latlng.lat], [words], { size: 14, pane: "figures" });
  }

  point(latlng) {
    const level = this.at(latlng), { unit, per_metre: scale } = this.view ?? {};
    this.level.textContent = Number.isFinite(level) ? `ground ${(level * scale).toFixed(1).replace("-", "−")} ${unit}` : "";
  }

  /* Ground level [m] from the coarse grid, bilinear; NaN outside it and on missing data. */
  at({ lat, lng }) {
    if (this.view === null) return NaN;
    const { bounds: [west, south, east, north], rows, cols, levels } = this.view;
    const row = ((north - lat) / (north - south)) * (rows - 1), col = ((lng - west) / (east - west)) * (cols - 1);
    if (!(row >= 0 && row <= rows - 1 && col >= 0 && col <= cols - 1)) return NaN;
    const r = Math.max(0, Math.min(Math.floor(row), rows - 2)), c = Math.max(0, Math.min(Math.floor(col), cols - 2));
    const node = (dr, dc) => (levels[(r + dr) * cols + c + dc] ?? NaN) / 10;
    const fr = row - r, fc = col - c;
    return (1 - fr) * ((1 - fc) * node(0, 0) + fc * node(0, 1)) + fr * ((1 - fc) * node(1, 0) + fc * node(1, 1));
  }
}
