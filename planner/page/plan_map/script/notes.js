/* What the plan says of its lines: high and low points, and the numbers of the findings. */

import { leaflet as L } from "nicegui-leaflet";
import { drawing, element, marker } from "./marks.js";

const MOST = 4; // numbers beside one place

export class Notes {
  constructor(map, glyphs, pick) {
    this.glyphs = glyphs;
    this.pick = pick;
    this.turns = L.layerGroup().addTo(map);
    this.findings = L.layerGroup().addTo(map);
    this.shown = [];
  }

  draw(turns, findings) {
    this.findings.clearLayers();
    this.drawTurns(turns);
    const rows = new Map();
    for (const finding of findings.filter((f) => f.at !== null)) {
      const key = finding.at.join(" ");
      rows.set(key, [...(rows.get(key) ?? []), finding]);
    }
    for (const row of rows.values()) this.findings.addLayer(this.numbers(row));
  }

  drawTurns(turns) {
    this.shown = turns;
    this.turns.clearLayers();
    for (const turn of turns) {
      const key = `${turn.kind}${turn.vent ? " fitted" : ""}`;
      const parts = [drawing("turn", this.glyphs[key]), element("span", `rise ${turn.kind}`, turn.text)];
      this.turns.addLayer(marker(turn.at, parts, { zIndexOffset: -200 }));
    }
  }

  /* While a point moves, what was found of the lines that move with it no longer holds. */
  follow(names, turns) {
    this.drawTurns([...this.shown.filter((turn) => !names.includes(turn.line)), ...turns]);
    this.findings.eachLayer((layer) => {
      for (const number of layer.getElement()?.querySelectorAll("[data-line]") ?? []) {
        number.classList.toggle("stale", names.includes(number.dataset.line));
      }
    });
  }

  numbers(row) {
    const box = element("span", "numbers");
    for (const finding of row.slice(0, MOST)) {
      const number = element("b", `number ${finding.level}`, String(finding.number));
      number.dataset.finding = finding.number;
      if (finding.line !== null) number.dataset.line = finding.line;
      number.title = finding.message;
      box.append(number);
    }
    if (row.length > MOST) box.append(element("i", "", `+${row.length - MOST}`));
    const mark = marker(row[0].at, [box], { size: 0, interactive: true, zIndexOffset: 300 });
    mark.on("click", (event) => {
      const { finding } = event.originalEvent.target.dataset ?? {};
      if (finding !== undefined) this.pick(Number(finding), event);
    });
    return mark;
  }

  choose(number) {
    this.findings.eachLayer((layer) => {
      for (const one of layer.getElement()?.querySelectorAll("[data-finding]") ?? []) {
        one.classList.toggle("chosen", Number(one.dataset.finding) === number);
      }
    });
  }
}
