"use strict";
/* Words and marks on the plan, moved aside or left out so that none covers another. */

const HARD = 20; // covering something of this cost is worse than being left out

function settle(map, plan) {
  const panes = map.getPanes().mapPane, frame = map.getContainer().getBoundingClientRect();
  const find = (selector) => Array.from(panes.querySelectorAll(selector));
  const taken = [ // the north arrow and the scale bar
    boxAt(frame.right - 24, frame.top + 32, 40, 62, HARD),
    boxAt(frame.left + 60, frame.bottom - 14, 120, 28, HARD),
  ];
  const ink = plan.lines.flatMap((line) => spots(map, line.path, 10, 10))
    .map((spot) => map.latLngToContainerPoint(spot.latlng).add([frame.left, frame.top]));

  const glyphs = find(".glyph");
  for (const { style } of glyphs.map((glyph) => glyph.parentNode)) style.left = style.top = "0px";
  const homes = glyphs.map((glyph) => homeOf(glyph.parentNode));
  for (const [k, spot] of apart(homes).entries()) {
    glyphs[k].parentNode.style.left = `${spot.x - homes[k].x}px`;
    glyphs[k].parentNode.style.top = `${spot.y - homes[k].y}px`;
    taken.push(boxAt(spot.x, spot.y, 27, 27, 30));
  }
  for (const turn of find("svg.turn")) {
    const { x, y } = homeOf(turn.parentNode);
    taken.push(boxAt(x, y + (turn.nextElementSibling.classList.contains("high") ? -9 : 9), 18, 18, HARD));
  }

  /* The cheapest of the places round its home; what has to cover something is left out. */
  function place(label, choices, { cost, must = false, soft = 1 }) {
    const mark = markOf(label), home = homeOf(mark), style = getComputedStyle(mark);
    const left = -parseFloat(style.marginLeft), top = -parseFloat(style.marginTop);
    const width = label.offsetWidth, height = label.offsetHeight;
    let best = { price: Infinity };
    for (const [order, [dx, dy]] of choices(width, height).entries()) {
      const box = boxAt(home.x + shiftOf(mark).x + dx, home.y + shiftOf(mark).y + dy, width, height, cost);
      const price = order * 0.4 + soft * ink.filter((p) => holds(box, p)).length + covered(box) + outside(box);
      if (price < best.price) best = { price, box, dx, dy, hard: covered(box) >= HARD };
    }
    const shown = must || !best.hard;
    Object.assign(label.style, {
      left: `${left + best.dx - width / 2}px`, top: `${top + best.dy - height / 2}px`,
      right: "auto", transform: "none", visibility: shown ? "" : "hidden",
    });
    if (shown) taken.push(best.box);
  }
  const covered = (box) => taken.reduce((sum, other) => sum + (meet(box, other) ? other.cost : 0), 0);
  const outside = (box) =>
    box.left < frame.left || box.right > frame.right || box.top < frame.top || box.bottom > frame.bottom ? 25 : 0;
  const onMap = (label) => {
    const { x, y } = homeOf(markOf(label));
    return x > frame.left - 40 && x < frame.right + 40 && y > frame.top - 40 && y < frame.bottom + 40;
  };
  /* What lies as it lies: left out where it would cover something. */
  function keep(label, most = HARD) {
    const seen = label.getBoundingClientRect();
    const box = { left: seen.left, right: seen.right, top: seen.top, bottom: seen.bottom, cost: 12 };
    const shown = covered(box) < most;
    label.style.visibility = shown ? "" : "hidden";
    if (shown) taken.push(box);
  }

  for (const label of find(".name").filter(onMap)) place(label, round, { cost: 40, must: true });
  for (const label of find(".rise").filter(onMap)) {
    place(label, label.classList.contains("high") ? beside(-1) : beside(1), { cost: 25 });
  }
  for (const label of find(".numbers").filter(onMap)) place(label, corners, { cost: 30, must: true });
  for (const label of find(".peg-name").filter(onMap)) {
    const { x, y } = label.dataset; // away from the line, on either side
    place(label, (w, h) => [1, -1].map((s) => [s * x * (10 + w / 2), s * y * (10 + h / 2)]), { cost: 25, soft: 4 });
  }
  for (const label of find(".area-name").filter(onMap)) {
    const land = label.matches(".stay, .owner");
    place(label, (w, h) => [0, 1, -1].map((s) => [land ? 8 + w / 2 : 0, (land ? 5 + h / 2 : 0) + s * h]), { cost: 12, soft: 3 });
  }
  for (const label of find(".route-letter, .mark .letters, .contour-figure").filter(onMap)) keep(label);
  for (const label of find(".arrow").filter(onMap)) keep(label, 30);
}

/* Places of a label of this size round its point, those preferred first. */
const round = (w, h) => [
  [17 + w / 2, 0], [-17 - w / 2, 0], [0, -15 - h / 2], [0, 15 + h / 2],
  [12 + w / 2, 10 + h / 2], [-12 - w / 2, 10 + h / 2], [12 + w / 2, -10 - h / 2], [-12 - w / 2, -10 - h / 2],
  [0, 34 + h / 2], [0, -34 - h / 2], [30 + w / 2, 30], [-30 - w / 2, 30], [30 + w / 2, -30], [-30 - w / 2, -30],
];
const corners = (w, h) => [16, 34, 56, 80].flatMap((far) => [
  [-far + 4 - w / 2, far - 4 + h / 2], [far - 4 + w / 2, far - 4 + h / 2],
  [-far + 4 - w / 2, -far + 4 - h / 2], [far - 4 + w / 2, -far + 4 - h / 2],
  [far + w / 2, 0], [-far - w / 2, 0],
]);
const beside = (down) => (w) => [
  [down * (10 + w / 2), down * 11], [-down * (10 + w / 2), down * 11],
  [down * (10 + w / 2), 0], [-down * (10 + w / 2), 0],
];

const markOf = (label) => label.closest(".leaflet-marker-icon");
function boxAt(x, y, width, height, cost) {
  return { left: x - width / 2, right: x + width / 2, top: y - height / 2, bottom: y + height / 2, cost };
}
const meet = (a, b) => a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top;
const holds = (box, p) => p.x > box.left && p.x < box.right && p.y > box.top && p.y < box.bottom;
const shiftOf = (mark) => ({ x: parseFloat(mark.style.left) || 0, y: parseFloat(mark.style.top) || 0 });

/* Where the place that a mark stands for is seen. */
function homeOf(mark) {
  const seen = mark.getBoundingClientRect(), style = getComputedStyle(mark), shift = shiftOf(mark);
  return { x: seen.left - parseFloat(style.marginLeft) - shift.x, y: seen.top - parseFloat(style.marginTop) - shift.y };
}

/* Points too near to each other are pushed apart, never so far that one leaves its place. */
function apart(homes, least = 29, most = 13) {
  const spots = homes.map(({ x, y }) => ({ x, y }));
  for (let round = 0; round < 12; round++) {
    for (const [k, a] of spots.entries()) {
      for (const b of spots.slice(k + 1)) {
        const far = Math.hypot(b.x - a.x, b.y - a.y);
        if (far >= least) continue;
        const [x, y] = far > 0.5 ? [(b.x - a.x) / far, (b.y - a.y) / far] : [1, 0];
        const push = (least - far) / 2;
        a.x -= x * push; a.y -= y * push;
        b.x += x * push; b.y += y * push;
      }
    }
    for (const [k, spot] of spots.entries()) {
      const dx = spot.x - homes[k].x, dy = spot.y - homes[k].y, far = Math.hypot(dx, dy);
      if (far > most) { spot.x = homes[k].x + (dx / far) * most; spot.y = homes[k].y + (dy / far) * most; }
    }
  }
  return spots;
}
