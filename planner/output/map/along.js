"use strict";
/* Places along a line on the screen: marks at even distances, a chainage, the nearest one. */

/* Where a place lies on the screen, not rounded to whole pixels as Leaflet's own layer points. */
const exact = (map, latlng) => map.project(latlng).subtract(map.getPixelOrigin());

/* Spots every so many px along a path, with the direction there; the middle of a short one. */
function spots(map, path, every, first) {
  const px = path.map((p) => exact(map, p));
  const run = [0];
  for (let i = 1; i < px.length; i++) run.push(run[i - 1] + px[i].distanceTo(px[i - 1]));
  const total = run.at(-1), found = [];
  const point = (d) => {
    let i = run.findIndex((r) => r >= d);
    if (i <= 0) i = 1;
    const t = (d - run[i - 1]) / (run[i] - run[i - 1] || 1);
    return px[i - 1].add(px[i].subtract(px[i - 1]).multiplyBy(t));
  };
  const add = (d) => {
    const reach = Math.min(6, total / 4), a = point(d - reach), b = point(d + reach);
    found.push({ latlng: map.layerPointToLatLng(point(d)), angle: (Math.atan2(b.y - a.y, b.x - a.x) * 180) / Math.PI });
  };
  if (total < 1.5 * first) { if (total > 14) add(total / 2); }
  else for (let d = first; d < total - first / 2 && found.length < 400; d += every) add(d);
  return found;
}

function arrow(spot, colour) {
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  svg.setAttribute("viewBox", "-8 -8 16 16");
  const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
  path.setAttribute("class", "arrow");
  path.setAttribute("d", "M-5 -5.5L7 0-5 5.5-2 0Z");
  path.setAttribute("fill", colour);
  path.setAttribute("transform", `rotate(${spot.angle})`);
  svg.append(path);
  return icon(spot.latlng, svg);
}

function letters(spot, line) {
  const span = document.createElement("span");
  span.className = "letters";
  span.textContent = line.letters;
  span.style.color = line.colour;
  const upright = Math.abs(spot.angle) > 90 ? spot.angle + 180 : spot.angle;
  span.style.transform = `translate(8px, 8px) rotate(${upright}deg)`;
  return icon(spot.latlng, span);
}

function icon(latlng, html) {
  const look = L.divIcon({ html, className: "mark flow", iconSize: [16, 16] });
  return L.marker(latlng, { icon: look, interactive: false, keyboard: false, zIndexOffset: -1000 });
}

/* The value at a chainage, between the samples beside it. */
function at(line, chainage, value) {
  const c = line.chainage;
  let i = c.findIndex((v) => v >= chainage);
  if (i < 0) i = c.length - 1;
  if (i === 0) return value(0) ?? NaN;
  const t = (chainage - c[i - 1]) / (c[i] - c[i - 1]), a = value(i - 1) ?? NaN, b = value(i) ?? NaN;
  return a + (b - a) * t;
}

/* The chainage of the line nearest to a place. */
function nearest(map, line, latlng) {
  const p = exact(map, latlng), px = line.path.map((q) => exact(map, q));
  let best = Infinity, chainage = 0;
  for (let i = 1; i < px.length; i++) {
    const d = px[i].subtract(px[i - 1]), size = d.x * d.x + d.y * d.y || 1;
    const t = Math.min(1, Math.max(0, ((p.x - px[i - 1].x) * d.x + (p.y - px[i - 1].y) * d.y) / size));
    const away = p.distanceTo(px[i - 1].add(d.multiplyBy(t)));
    if (away < best) { best = away; chainage = line.chainage[i - 1] + t * (line.chainage[i] - line.chainage[i - 1]); }
  }
  return chainage;
}
