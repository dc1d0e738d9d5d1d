// The route: a graphite line with a pale casing, one line a leg, told apart by number and dash.

import { pairs } from "./ink.js";

export const DASHES = 3;

export function drawRoute(map, sheet, onLeg) {
  map.createPane("route").style.zIndex = 400;
  const renderer = L.svg({ pane: "route", padding: 0.35 });
  const pen = { renderer, pane: "route", smoothFactor: 0.5, fill: false };
  const lines = sheet.legs.map((leg) => pairs(leg.line));
  L.polyline(lines, { ...pen, interactive: false, className: "casing" }).addTo(map);
  return lines.map((line, index) => {
    const dash = "ink ink-" + (index % DASHES);
    const drawn = L.polyline(line, { ...pen, interactive: false, className: dash }).addTo(map);
    const touch = L.polyline(line, { ...pen, className: "touch" }).addTo(map);
    touch.on("mouseover", () => onLeg.light(index)).on("mouseout", () => onLeg.dim(index));
    touch.on("click", (event) => {
      L.DomEvent.stopPropagation(event);
      onLeg.pick(index);
    });
    return { line, drawn };
  });
}

// The leg on the screen: its points, and how far along each of them is [px].
export function onScreen(map, line) {
  const points = line.map((at) => map.latLngToLayerPoint(at));
  const gone = [0];
  for (let i = 1; i < points.length; i++) gone.push(gone[i - 1] + points[i].distanceTo(points[i - 1]));
  return { points, gone, length: gone[gone.length - 1] };
}

// The stretch of a leg that passes nearest to a point, as its direction on the screen [radians].
export function directionAt(leg, at) {
  let best = Infinity, turn = 0;
  for (let i = 1; i < leg.points.length; i++) {
    const a = leg.points[i - 1], b = leg.points[i];
    const apart = L.LineUtil.pointToSegmentDistance(at, a, b);
    if (apart < best) {
      best = apart;
      turn = Math.atan2(b.y - a.y, b.x - a.x);
    }
  }
  return turn;
}

// Points every `step` px along a leg, within `room`; what the lettering must not lie on.
export function* samples(leg, step, room) {
  for (let i = 1; i < leg.points.length; i++) {
    const a = leg.points[i - 1], b = leg.points[i];
    const piece = L.LineUtil.clipSegment(a, b, room, false, true);
    if (!piece) continue;
    const many = Math.max(1, Math.ceil(piece[0].distanceTo(piece[1]) / step));
    for (let k = 0; k <= many; k++) {
      yield piece[0].add(piece[1].subtract(piece[0]).multiplyBy(k / many));
    }
  }
}
