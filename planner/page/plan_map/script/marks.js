/* Small parts that everything on the plan is made of. Text goes in as text, never as markup. */

import { leaflet as L } from "nicegui-leaflet";

/* The terrain's x, y [m] as Leaflet's latitude and longitude, and back. */
export const place = ([x, y]) => [y, x];
export const places = (path) => path.map(place);
export const xy = ({ lat, lng }) => [Math.round(lng * 100) / 100, Math.round(lat * 100) / 100];

export function element(tag, className, text = "") {
  const made = document.createElement(tag);
  made.className = className;
  made.textContent = text;
  return made;
}

/* A drawing of ours, from `glyphs.jinja`; `letter` replaces the one in it. */
export function drawing(className, markup, letter) {
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  svg.setAttribute("class", className);
  svg.setAttribute("viewBox", "-20 -20 40 40");
  svg.setAttribute("width", 40);
  svg.setAttribute("height", 40);
  svg.setAttribute("aria-hidden", "true");
  svg.innerHTML = markup;
  const text = svg.querySelector("text");
  if (text && letter) text.textContent = letter;
  else text?.remove();
  return svg;
}

/* A marker without a picture, made of elements. */
export function marker(at, parts, { size = 40, className = "mark", ...options } = {}) {
  const html = element("div", "");
  const icon = L.divIcon({ html, className, iconSize: [size, size] });
  const made = L.marker(place(at), { icon, interactive: false, keyboard: false, ...options });
  made.on("add", () => made.getElement().replaceChildren(...parts));
  return made;
}

/* A line or ring; `className` gives its ink, so that light and dark can differ. */
export function stroke(latlngs, pane, className, look = {}) {
  return L.polyline(latlngs, { pane, className, interactive: false, lineCap: "butt", smoothFactor: 1, ...look });
}

export const shorten = (text, most = 28) => (text.length > most ? `${text.slice(0, most - 1)}…` : text);
