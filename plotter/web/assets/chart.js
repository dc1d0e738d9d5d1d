// The map: the route on its base, and the hand that draws it.

import { Base } from "./base.js";
import { Collar, Graticule, ScaleBar, milesPerPixel } from "./map/collar.js";
import { pairs, stillPlease } from "./map/ink.js";
import { Lettering } from "./map/lettering.js";
import { DASHES } from "./map/route.js";

const SNAP_PX = 16;
const COARSE = matchMedia("(pointer: coarse)").matches; // a finger needs 44 px
const MOST_SNAP_NM = 5; // farther off only a sign that is drawn can be meant
const SIGN_NM = 0.2; // a drawn sign stands where its airport is
const NOTHING = { legs: [], points: [], checkpoints: [], airports: [] };
const FIRST_LOOK = [[24, -125], [50, -66]];

// A route of one point has its name once.
class Names extends Lettering {
  pointNames() {
    if (this.sheet.points.length !== 1) super.pointNames();
    else if (this.marks.has("point-0")) this.beside("point", this.sheet.points[0].name, this.pointSpots[0], 11, [[1, 0]], "point0", true);
  }
}

export class Chart {
  constructor(hooks) {
    const still = stillPlease();
    this.hooks = hooks;
    this.map = L.map("map_route", {
      attributionControl: false, zoomSnap: 0.25, zoomDelta: 0.5, minZoom: 2, maxZoom: 13, doubleClickZoom: false,
      zoomAnimation: !still, fadeAnimation: !still, inertia: !still, maxBounds: [[-85.05, -540], [85.05, 540]],
    });
    this.map.fitBounds(FIRST_LOOK, { animate: false });
    this.shown = { airports: true, towns: true, graticule: true };
    this.sheet = NOTHING;
    this.handles = [];
    this.middles = [];
    this.dragging = null;
    this.prepare();
    this.map.on("click", (event) => event.originalEvent.detail < 2 && hooks.put("insert", null, this.caught(event.latlng)));
    this.map.on("contextmenu", (event) => hooks.near(event.latlng));
    wheelWhenFocused(this.map);
  }

  prepare() {
    const map = this.map;
    map.createPane("route").style.zIndex = 400;
    this.pen = { renderer: L.svg({ pane: "route", padding: 0.35 }), pane: "route", smoothFactor: 0.5, fill: false };
    this.lines = L.layerGroup().addTo(map);
    this.drawn = [];
    this.graticule = new Graticule(map, this.shown);
    this.collar = new Collar(map);
    this.base = new Base(map, () => this.lettering.draw());
    this.lettering = new Names(map, NOTHING, this.base, this.shown, {
      drawn: (marks) => this.hooks.drawn(marks), pick: (item) => this.hooks.pick(item),
      light: (item) => this.hooks.light(item), dim: (item) => this.hooks.dim(item),
    }, this.collar);
    new ScaleBar().addTo(map);
    this.redraw();
  }

  redraw() {
    for (const part of [this.graticule, this.collar, this.lettering]) part.draw();
  }

  // A place on the map as it is asked about: on the globe once, with how near an airport must be.
  asked(latlng) {
    const place = latlng.wrap();
    return {
      latitude_deg: Math.max(-90, Math.min(90, place.lat)), longitude_deg: place.lng,
      snap_nm: Math.min(60, SNAP_PX * milesPerPixel(this.map, place.lat)),
    };
  }

  // The same for a point that is put down: it takes the sign drawn under it, or what lies within a few miles.
  caught(latlng) {
    const here = this.map.latLngToContainerPoint(latlng), asked = this.asked(latlng);
    const near = this.sheet.airports.filter((_, index) => this.lettering.marks?.has(`airport-${index}`))
      .map(({ at }) => [here.distanceTo(this.map.latLngToContainerPoint(at)), at])
      .filter(([away]) => away <= SNAP_PX).sort(([one], [other]) => one - other)[0];
    if (asked.snap_nm <= MOST_SNAP_NM || !near) return { ...asked, snap_nm: Math.min(asked.snap_nm, MOST_SNAP_NM) };
    return { ...this.asked(L.latLng(near[1])), snap_nm: SIGN_NM };
  }

  show(sheet) {
    this.sheet = this.lettering.sheet = sheet || NOTHING;
    this.drawLines();
    this.lettering.draw();
    this.placeHandles();
  }

  // While a route cannot be plotted, its points that can be read are drawn alone, and legs between them.
  loose(points, loose) {
    this.show({ ...NOTHING, points, loose });
  }

  // A route that is not the one above cannot be taken hold of.
  fix(on) {
    if (on === this.fixed) return;
    this.fixed = on;
    this.placeHandles();
  }

  strokes() {
    return this.sheet.loose || this.sheet.legs;
  }

  drawLines() {
    this.lines.clearLayers();
    const lines = this.strokes().map((leg) => pairs(leg.line));
    if (lines.length) L.polyline(lines, { ...this.pen, interactive: false, className: "casing" }).addTo(this.lines);
    this.drawn = lines.map((line, index) => {
      const item = `leg-${index + 1}`;
      const drawn = L.polyline(line, { ...this.pen, interactive: false, className: `ink ink-${index % DASHES}` }).addTo(this.lines);
      const touch = L.polyline(line, { ...this.pen, className: "touch" }).addTo(this.lines);
      touch.on("mouseover", () => this.hooks.light(item)).on("mouseout", () => this.hooks.dim(item));
      touch.on("click", (event) => {
        L.DomEvent.stopPropagation(event);
        this.hooks.pick(item);
      });
      return { line, drawn };
    });
  }

  placeHandles() {
    const [points, legs] = this.fixed ? [[], []] : [this.sheet.points, this.strokes()];
    this.keepHandles(this.handles, points.map((point) => point.at), "handle", "move");
    this.keepHandles(this.middles, legs.map((leg) => leg.mid), "handle middle", "insert");
  }

  // As many handles as places; the one under the finger is left alone.
  keepHandles(handles, places, name, kind) {
    while (handles.length > places.length && handles[handles.length - 1] !== this.dragging) handles.pop().remove();
    places.forEach((place, index) => {
      if (!handles[index]) handles.push(this.handle(name, kind, index));
      if (handles[index] !== this.dragging) handles[index].setLatLng(place).addTo(this.map);
    });
  }

  handle(name, kind, index) {
    const size = COARSE ? 44 : kind === "move" ? 34 : 24;
    const made = L.marker([0, 0], {
      draggable: true, keyboard: false, bubblingMouseEvents: false,
      icon: L.divIcon({ className: name, iconSize: [size, size] }),
    });
    const at = () => (kind === "move" ? this.sheet.points[index]?.index ?? index : (this.strokes()[index]?.index ?? index) + 1);
    const put = (moving) => this.hooks.put(kind, this.held.from, this.caught(made.getLatLng()), moving, this.held.among);
    // Which point is meant is settled when it is touched: what was being typed may come in before it moves.
    const hold = () => ({ from: at(), among: this.hooks.words() });
    made.on("add", () => made.getElement().addEventListener("pointerdown", () => {
      this.held = hold();
    }));
    made.on("dragstart", () => {
      this.dragging = made;
      this.held ||= hold();
      this.hooks.grab();
    });
    made.on("drag", () => put(true));
    made.on("dragend", () => {
      this.dragging = null;
      put(false);
      this.held = null;
    });
    made.on("click", () => this.hooks.pick(kind === "move" ? `point-${index}` : `leg-${index + 1}`));
    return made;
  }

  whole() {
    const view = this.sheet.view;
    const places = view ? [[view[0], view[1]], [view[2], view[3]]] : this.sheet.points.map((point) => point.at);
    if (!places.length) return;
    const side = Math.min(60, this.map.getSize().x * 0.09);
    const room = { paddingTopLeft: [side, 52], paddingBottomRight: [side, 44] };
    this.map.fitBounds(places, { ...room, maxZoom: 11, animate: false });
  }

  // Whether the route is all in view and large enough to read.
  inView() {
    const view = this.sheet.view;
    if (!view) return true;
    const places = L.latLngBounds([view[0], view[1]], [view[2], view[3]]);
    return this.map.getBounds().contains(places) && this.map.getBoundsZoom(places) < this.map.getZoom() + 1.75;
  }

  toggle(name, on) {
    if (name in this.shown) {
      this.shown[name] = on;
      this.redraw();
    } else if (name === "tiles") {
      this.online(on);
    } else {
      this.map.getContainer().classList.toggle("without-" + name, !on);
    }
  }

  online(on) {
    const { content, dataset } = document.querySelector("meta[name=plotter-tiles]");
    if (!this.tiles) this.tiles = L.tileLayer(content, { maxZoom: 19, className: "online" });
    if (!this.credit) this.credit = L.control.attribution({ prefix: false }).addAttribution(plain(dataset.attribution));
    for (const layer of [this.tiles, this.credit]) on ? layer.addTo(this.map) : layer.remove();
  }

  place(item) {
    const [kind, number] = item.split("-");
    if (kind === "checkpoint") return this.sheet.checkpoints.find((mark) => mark.n === +number)?.at;
    if (kind === "leg") return this.sheet.legs[number - 1]?.mid;
    return (kind === "point" ? this.sheet.points[number] : this.sheet.airports[number])?.at;
  }

  goTo(item) {
    const still = { animate: !stillPlease() };
    this.map.getContainer().scrollIntoView({ block: "nearest", behavior: stillPlease() ? "auto" : "smooth" });
    if (item.startsWith("leg-")) {
      this.map.fitBounds(this.drawn[item.split("-")[1] - 1].line, { padding: [60, 60], maxZoom: 11, ...still });
    } else {
      this.map.setView(this.place(item), Math.max(this.map.getZoom(), 8), still);
    }
  }

  // Paper has its own width: the map is laid out anew for it, and put back afterwards.
  onPaper(before) {
    document.body.classList.toggle("on-paper", before);
    if (before) this.put = [this.map.getCenter(), this.map.getZoom()];
    this.map.invalidateSize({ animate: false, pan: false });
    if (before) this.whole();
    else this.map.setView(this.put[0], this.put[1], { animate: false });
  }
}

function plain(text) {
  const node = document.createElement("i");
  node.textContent = text;
  return node.innerHTML;
}

// The wheel scrolls the page until the map has been clicked into or reached by the Tab key.
function wheelWhenFocused(map) {
  map.scrollWheelZoom.disable();
  map.getContainer().addEventListener("focusin", () => map.scrollWheelZoom.enable());
  map.getContainer().addEventListener("focusout", () => map.scrollWheelZoom.disable());
}
