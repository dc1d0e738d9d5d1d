// Symbols and lettering: drawn anew after each move, most important first, never on one another.

import { Boxes, box } from "./boxes.js";
import { ink, one, pairs, widthOf, wipe } from "./ink.js";
import { directionAt, onScreen, samples } from "./route.js";

const FEW_POINTS = 16;
const FONTS = {
  course: "600 13px ", distance: "13px ", number: "700 13px ", point: "600 14px ",
  checkpoint: "12px ", airport: "12px ", town1: "14px ", town2: "13px ", town3: "12px ",
  isogonic: "12px ",
};
const FAMILY = "'Gill Sans', 'Gill Sans MT', Optima, Candara, 'Segoe UI', 'Liberation Sans', sans-serif";
const LIFT = 17;
const SHARES = [0.5, 0.46, 0.54, 0.42, 0.58, 0.38, 0.62, 0.33, 0.67, 0.28, 0.72];

export class Lettering {
  constructor(map, sheet, base, shown, hooks, collar, isogonic) {
    Object.assign(this, { map, sheet, base, shown, hooks, collar, isogonic });
    map.createPane("ink").style.zIndex = 450;
    this.renderer = L.svg({ pane: "ink", padding: 0.25 }).addTo(map);
    this.group = this.renderer._rootGroup;
    this.renderer.on("update", () => this.draw());
  }

  draw() {
    wipe(this.group);
    this.marks = new Map();
    this.taken = new Boxes();
    this.labels = new Boxes();
    const { min, max } = this.renderer._bounds;
    this.room = L.bounds(min, max);
    const corner = this.map.containerPointToLayerPoint([0, 0]);
    this.view = L.bounds(corner, corner.add(this.map.getSize()));
    this.legs = this.sheet.legs.map((leg) => onScreen(this.map, pairs(leg.line)));
    this.keepClear();
    this.keepLine();
    this.ticks();
    this.turningPoints();
    this.fields = this.shown.airports ? this.airportsHere() : [];
    this.legLabels();
    this.pointNames();
    this.airportSigns();
    this.checkpointNumbers();
    this.airportCodes();
    if (this.shown.isogonic) this.isogonicDegrees();
    if (this.shown.towns) this.towns();
    this.hooks.drawn(this.marks);
  }

  at(place) {
    return this.map.latLngToLayerPoint(place);
  }

  // The corners of the window hold the scale and the zoom buttons, its edges the printed degrees:
  // nothing is lettered there.
  keepClear() {
    const size = this.map.getSize(), corner = this.view.min;
    const clear = (x, y, w, h) => this.taken.add(box(corner.x + x + w / 2, corner.y + y + h / 2, w, h));
    clear(0, 0, 56, 96);
    clear(0, size.y - 64, 230, 64);
    clear(0, 0, size.x, 24);
    clear(0, size.y - 14, size.x, 14);
    clear(0, 0, 14, size.y);
    clear(size.x - 14, 0, 14, size.y);
    for (const [x, y, w, h] of this.collar.printed) clear(x, y, w, h);
  }

  keepLine() {
    this.legs.forEach((leg, index) => {
      for (const spot of samples(leg, 7, this.room)) this.taken.add(box(spot.x, spot.y, 8, 8), "leg" + index);
    });
  }

  word(kind, text, x, y, degrees = 0, anchor = "middle") {
    return ink(this.group, "text", {
      class: "word w-" + kind, x: one(x), y: one(y), "text-anchor": anchor,
      ...(degrees ? { transform: `rotate(${one(degrees)} ${one(x)} ${one(y)})` } : {}),
    }, text);
  }

  // Candidate places round a symbol; the first free one is taken. A forced name takes the one in view
  // that covers least, a "clear" one the first that covers no other name or leg label; signs give way.
  beside(kind, text, spot, reach, places, owner = null, forced = false) {
    const width = widthOf(text, FONTS[kind] + FAMILY), height = parseInt(FONTS[kind].match(/(\d+)px/)[1], 10);
    const visible = this.view.contains(spot);
    let best = null, least = Infinity;
    for (const [dx, dy] of places) {
      const x = spot.x + dx * (reach + width / 2), y = spot.y + dy * (reach + height / 2);
      const place = box(x, y, width + 6, height + 3);
      if (visible && !this.view.contains(L.bounds([place.left, place.top], [place.right, place.bottom]))) continue;
      if (forced === "clear" && !this.labels.free(place)) continue;
      if (!forced && !this.taken.free(place, owner)) continue;
      const beneath = forced ? this.taken.beneath(place, owner) : 0;
      if (beneath >= least) continue;
      [best, least] = [{ place, x, y: y + height * 0.36 }, beneath];
      if (!beneath || forced === "clear") break;
    }
    if (!best) return null;
    this.taken.add(best.place, owner);
    if (forced || kind === "point") this.labels.add(best.place);
    return this.word(kind, text, best.x, best.y);
  }

  ticks() {
    const every = thinning(this.checkpointGap(), 22);
    this.tickSpots = [];
    for (const mark of this.sheet.checkpoints) {
      if (mark.n % every) continue;
      const spot = this.at(mark.at);
      if (!this.room.contains(spot)) continue;
      const turn = directionAt(this.legs[mark.leg - 1], spot) + Math.PI / 2;
      const dx = Math.cos(turn) * 7, dy = Math.sin(turn) * 7;
      const path = `M${one(spot.x - dx)} ${one(spot.y - dy)}L${one(spot.x + dx)} ${one(spot.y + dy)}`;
      ink(this.group, "path", { class: "tick-casing", d: path });
      const node = ink(this.group, "path", { class: "tick", d: path });
      this.taken.add(box(spot.x, spot.y, 16, 7, (turn * 180) / Math.PI), "tick" + mark.n);
      this.remember("checkpoint-" + mark.n, node, spot);
      this.tickSpots.push({ mark, spot, turn });
    }
  }

  checkpointGap() {
    const marks = this.sheet.checkpoints;
    let least = Infinity;
    for (let i = 1; i < marks.length; i++) {
      if (marks[i].leg === marks[i - 1].leg) {
        least = this.at(marks[i].at).distanceTo(this.at(marks[i - 1].at));
        break;
      }
    }
    return least;
  }

  turningPoints() {
    this.pointSpots = this.sheet.points.map((point, index) => {
      const spot = this.at(point.at);
      if (this.room.contains(spot) && this.roomForCircle(spot, index)) {
        const node = ink(this.group, "circle", { class: "turn", cx: one(spot.x), cy: one(spot.y), r: 5 });
        this.taken.add(box(spot.x, spot.y, 13, 13), "point" + index);
        this.remember("point-" + index, node, spot);
      }
      return spot;
    });
  }

  // Of a thousand turning points on a small screen, those that stand clear of the last one drawn.
  roomForCircle(spot, index) {
    const end = index === 0 || index === this.sheet.points.length - 1;
    if (!end && this.lastCircle && this.lastCircle.distanceTo(spot) < 9) return false;
    this.lastCircle = spot;
    return true;
  }

  remember(item, node, spot) {
    this.marks.set(item, { node, spot });
  }

  // Course above the line and distance below it, at the middle or as near to it as there is room;
  // of a leg in parts for each of them.
  legLabels() {
    this.sheet.legs.forEach((leg, index) => {
      for (const part of leg.parts || [leg]) {
        if (this.room.contains(this.at(part.mid))) this.courseAndDistance(part, leg, index);
      }
      if (this.sheet.legs.length > 1 && this.room.contains(this.at(leg.mid))) {
        this.legNumber(index, this.legs[index].length);
      }
    });
  }

  courseAndDistance(part, leg, index) {
    const drawn = part === leg ? this.legs[index] : onScreen(this.map, pairs(part.line));
    const size = [
      widthOf(part.above, FONTS.course + FAMILY), widthOf(part.below, FONTS.distance + FAMILY),
    ];
    if (drawn.length < Math.max(...size) + 26) return;
    const place = this.bestPlace(part, drawn, index, size);
    this.label("course", part.above, place, -LIFT, size[0], index);
    this.label("distance", part.below, place, LIFT, size[1], index);
  }

  labelAt(part, drawn, share) {
    if (share === 0.5) return { spot: this.at(part.mid), angle: part.angle };
    const spot = pointAlong(drawn, share);
    return { spot, angle: upright((directionAt(drawn, spot) * 180) / Math.PI) };
  }

  labelBox({ spot, angle }, lift, width) {
    const turn = (angle * Math.PI) / 180;
    return box(spot.x - Math.sin(turn) * lift, spot.y + Math.cos(turn) * lift, width + 8, 16, angle);
  }

  // The first place that is free; else the one where the least lies beneath.
  bestPlace(part, drawn, index, size) {
    let best = null, least = Infinity;
    for (const share of SHARES) {
      const place = this.labelAt(part, drawn, share), owner = "leg" + index;
      const beneath = this.taken.beneath(this.labelBox(place, -LIFT, size[0]), owner)
        + this.taken.beneath(this.labelBox(place, LIFT, size[1]), owner);
      if (beneath < least) [best, least] = [place, beneath];
      if (!beneath) break;
    }
    return best;
  }

  label(kind, text, place, lift, width, index) {
    const room = this.labelBox(place, lift, width);
    if (!this.labels.take(room)) return;
    this.taken.add(room, "label" + index);
    const node = this.word(kind, text, room.x, room.y, place.angle);
    node.setAttribute("dy", "0.36em");
    node.dataset.leg = index;
  }

  // The number of a leg breaks its line, as the figure of a contour does.
  legNumber(index, room) {
    const text = String(index + 1), width = widthOf(text, FONTS.number + FAMILY);
    if (room < width + 30) return;
    const half = Math.min(0.4, 0.5 - (width + 16) / 2 / room) * room;
    for (let gone = 0; gone <= half; gone = gone > 0 ? -gone : 3 - gone) {
      const spot = pointAlong(this.legs[index], 0.5 + gone / room);
      if (this.taken.take(box(spot.x, spot.y, width + 6, 14), "leg" + index)) {
        this.word("number", text, spot.x, spot.y + 4.7).dataset.leg = index;
        return;
      }
    }
  }

  // On a route of few turning points each of them is named; on a long one, those with room.
  pointNames() {
    const last = this.sheet.points.length - 1;
    const name = (index, forced) => this.beside("point", this.sheet.points[index].name, this.pointSpots[index], 11,
      this.outward(index), "point" + index, forced);
    const order = [0, last, ...Array.from({ length: Math.max(0, last - 1) }, (_, i) => i + 1)];
    for (const index of order) {
      if (!this.marks.has("point-" + index)) continue;
      if (name(index)) continue;
      if (index === 0 || index === last) name(index, true);
      else if (last < FEW_POINTS) name(index, "clear");
    }
  }

  // Places for a name, those away from the legs that meet there first.
  outward(index) {
    const here = this.pointSpots[index];
    let x = 0, y = 0;
    for (const leg of [this.legs[index - 1], this.legs[index]]) {
      if (!leg) continue;
      const turn = directionAt(leg, here), sign = leg === this.legs[index] ? -1 : 1;
      x += sign * Math.cos(turn);
      y += sign * Math.sin(turn);
    }
    const away = (place) => place[0] * x + place[1] * y;
    return [...AROUND].sort((a, b) => away(b) - away(a));
  }

  checkpointNumbers() {
    const every = thinning(this.checkpointGap(), 30);
    for (const { mark, spot, turn } of this.tickSpots) {
      if (mark.n % every) continue;
      const side = [Math.cos(turn), Math.sin(turn)].map((part) => part * (Math.sin(turn) < -0.05 ? -1 : 1));
      const places = [side, [-side[0], -side[1]]];
      this.beside("checkpoint", String(mark.n), spot, 9, places, "tick" + mark.n);
    }
  }

  airportsHere() {
    const fields = this.sheet.airports.map((field, index) => ({ field, index, spot: this.at(field.at) }));
    const near = fields.filter(({ field, spot }) => field.rank !== 9 && this.room.contains(spot));
    near.sort((a, b) => b.field.rank - a.field.rank || a.index - b.index);
    return near.filter(({ index, spot }) => this.taken.take(box(spot.x, spot.y, 12, 12), "airport" + index));
  }

  // Under the label of a leg or the name of an end no sign is drawn: it is there at a larger scale, and in the table.
  airportSigns() {
    this.fields = this.fields.filter(({ spot }) => this.labels.free(box(spot.x, spot.y, 9, 9)));
    for (const { field, index, spot } of this.fields) {
      const node = airportSign(this.group, field, spot);
      node.addEventListener("click", () => this.hooks.pick("airport-" + index));
      node.addEventListener("mouseenter", () => this.hooks.light("airport-" + index));
      node.addEventListener("mouseleave", () => this.hooks.dim("airport-" + index));
      this.remember("airport-" + index, node, spot);
    }
  }

  airportCodes() {
    for (const { field, index, spot } of this.fields) this.beside("airport", field.code, spot, 9, AROUND, "airport" + index);
  }

  isogonicDegrees() {
    for (const { words, drawn, spots } of this.isogonic.seen(this.view)) {
      const width = widthOf(words, FONTS.isogonic + FAMILY);
      for (const spot of spots) {
        const angle = upright((directionAt(drawn, spot) * 180) / Math.PI);
        if (!this.taken.take(box(spot.x, spot.y, width + 10, 14, angle))) continue;
        this.word("isogonic", words, spot.x, spot.y, angle).setAttribute("dy", "0.36em");
        break;
      }
    }
  }

  towns() {
    const most = (this.map.getSize().x * this.map.getSize().y) / 14000;
    let drawn = 0;
    for (const [name, latitude, longitude, population] of this.base.towns) {
      if (drawn >= most) break;
      const spot = this.at([latitude, longitude]);
      if (!this.room.contains(spot) || !this.taken.free(box(spot.x, spot.y, 5, 5))) continue;
      const kind = population >= 250000 ? "town1" : population >= 30000 ? "town2" : "town3";
      if (!this.beside(kind, name, spot, 4, AROUND)) continue;
      this.taken.add(box(spot.x, spot.y, 5, 5));
      ink(this.group, "circle", { class: "town", cx: one(spot.x), cy: one(spot.y), r: kind === "town1" ? 2.4 : 1.7 });
      drawn += 1;
    }
  }
}

const AROUND = [[1, 0], [-1, 0], [0, -1], [0, 1], [0.9, -0.8], [0.9, 0.8], [-0.9, -0.8], [-0.9, 0.8]];

// One in how many marks to draw, so that they stand `least` px apart: 1, 2, 5, 10, 20, 50, ...
function thinning(gap, least) {
  let every = 1;
  for (const step of [2, 2.5, 2]) {
    if (every * gap >= least || !gap) return every;
    every *= step;
  }
  return every * thinning(gap * every, least);
}

// An angle [degrees, clockwise] turned by half where text along it would stand on its head.
function upright(angle) {
  return angle >= 90 ? angle - 180 : angle < -90 ? angle + 180 : angle;
}

function pointAlong(leg, share) {
  const want = leg.length * share;
  let i = 1;
  while (i < leg.points.length - 1 && leg.gone[i] < want) i++;
  const a = leg.points[i - 1], b = leg.points[i], span = leg.gone[i] - leg.gone[i - 1] || 1;
  return a.add(b.subtract(a).multiplyBy((want - leg.gone[i - 1]) / span));
}

// A small circle with a bar laid as the longest runway lies; other kinds have their own sign.
function airportSign(group, field, spot) {
  const node = ink(group, "g", {
    class: "field " + field.sign, transform: `translate(${one(spot.x)} ${one(spot.y)})`,
  });
  ink(node, "circle", { class: "reach", r: 10 });
  if (field.sign === "heliport") ink(node, "path", { d: "M0-4.5L4 3H-4Z" });
  else if (field.sign === "closed") ink(node, "path", { d: "M-3.5-3.5L3.5 3.5M-3.5 3.5L3.5-3.5" });
  else ink(node, "circle", { r: 5 });
  if (field.sign === "seaplane") ink(node, "path", { d: "M-2.8.6Q-1.4-1.4 0 .4T2.8 0" });
  else if (field.sign === "balloon") ink(node, "circle", { r: 1.2 });
  else if (field.sign === "airport" && field.turn !== null) {
    ink(node, "path", { class: "runway", d: "M0-3.2V3.2", transform: `rotate(${field.turn})` });
  }
  return node;
}
