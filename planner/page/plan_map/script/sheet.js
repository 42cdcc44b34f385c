/* The empty sheet: Leaflet in the terrain's own metres, with scale, north and the pointer's level. */

import { leaflet as L } from "nicegui-leaflet";
import { element } from "./marks.js";

/* Lowest first: what lies over what. Marks stand above all of them. */
const PANES = {
  ground: 210, contours: 220, figures: 230, streams: 240, areas: 300, kept: 380, pipes: 400,
  hits: 410, tools: 450, here: 460,
};
const NORTH = `<svg viewBox="-16 -34 32 56" width="26" height="46" aria-hidden="true">
<path d="M0 18V-10M-5 -3L0 -12 5 -3"/><text y="-17" text-anchor="middle">N</text></svg>`;

export function makeSheet(box) {
  const map = L.map(box, {
    crs: L.CRS.Simple, center: [0, 0], zoom: 0, minZoom: -8, maxZoom: 6, zoomSnap: 0.25, zoomDelta: 0.5,
    wheelPxPerZoomLevel: 90, zoomControl: false, attributionControl: false, keyboardPanDelta: 60,
    trackResize: false, inertia: false, // the plan stops where the hand stops
  });
  for (const [name, z] of Object.entries(PANES)) map.createPane(name).style.zIndex = z;
  const north = element("button", "north");
  north.type = "button";
  north.title = "North is up. Press for the whole plan.";
  north.setAttribute("aria-label", north.title);
  north.innerHTML = NORTH;
  L.DomEvent.disableClickPropagation(north);
  const level = element("output", "level"), centre = element("div", "centre");
  level.setAttribute("aria-live", "off");
  centre.setAttribute("aria-hidden", "true");
  box.append(north, level, centre);
  return { map, level, north };
}

/* The scale bar in the site's units. */
export function makeScale(map, metric) {
  return L.control.scale({ metric, imperial: !metric }).addTo(map);
}
