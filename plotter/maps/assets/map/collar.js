// Graticule, the collar of the sheet with printed degrees, and the scale bar in nautical miles.

import { ink, one, wipe } from "./ink.js";

// Steps in minutes of arc: lines of the graticule, and the shorter stretches of the collar.
const STEPS = [
  [1800, 600], [1200, 300], [600, 300], [300, 60], [120, 60], [60, 30], [30, 10], [20, 10],
  [10, 5], [5, 1], [2, 1], [1, 1],
];
const LEAST_GAP = 90;

// The step whose lines stand far enough apart: meridians, or with `stretched` the parallels, which
// this projection draws farther apart the nearer they are to a pole.
function stepFor(map, stretched = false) {
  const cosine = Math.cos((map.getCenter().lat * Math.PI) / 180);
  const perMinute = (256 * Math.pow(2, map.getZoom())) / 21600 / (stretched ? cosine : 1);
  let best = STEPS[0];
  for (const step of STEPS) if (step[0] * perMinute >= LEAST_GAP) best = step;
  return best;
}

function multiples(low, high, step) {
  const found = [];
  for (let value = Math.ceil(low / step) * step; value <= high; value += step) found.push(value);
  return found;
}

function printedDegrees(minutes, positive, negative) {
  const held = positive === "E" ? ((((minutes + 10800) % 21600) + 21600) % 21600) - 10800 : minutes;
  const whole = Math.abs(held), degrees = Math.floor(whole / 60), rest = Math.round(whole % 60);
  const letter = held === 0 || whole === 10800 ? "" : held > 0 ? positive : negative;
  return degrees + "°" + (rest ? String(rest).padStart(2, "0") + "′" : "") + letter;
}

export class Graticule {
  constructor(map, shown) {
    Object.assign(this, { map, shown });
    map.createPane("graticule").style.zIndex = 350;
    this.renderer = L.svg({ pane: "graticule", padding: 0.35 }).addTo(map);
    this.group = this.renderer._rootGroup;
    this.renderer.on("update", () => this.draw());
  }

  draw() {
    wipe(this.group);
    if (!this.shown.graticule) return;
    const { min, max } = this.renderer._bounds, map = this.map;
    const a = map.layerPointToLatLng(min), b = map.layerPointToLatLng(max);
    const [step] = stepFor(map), [northStep] = stepFor(map, true);
    let path = "";
    for (const east of multiples(a.lng * 60, b.lng * 60, step)) {
      const x = one(map.latLngToLayerPoint([0, east / 60]).x);
      path += `M${x} ${min.y}V${max.y}`;
    }
    for (const north of multiples(b.lat * 60, a.lat * 60, northStep)) {
      const y = one(map.latLngToLayerPoint([north / 60, 0]).y);
      path += `M${min.x} ${y}H${max.x}`;
    }
    ink(this.group, "path", { class: "graticule", d: path });
  }
}

// The collar lies over the edge of the window and follows every move.
export class Collar {
  constructor(map) {
    this.map = map;
    this.printed = [];
    this.svg = ink(map.getContainer(), "svg", { class: "collar", "aria-hidden": "true" });
    map.on("move zoomend resize", () => this.draw());
  }

  draw() {
    const map = this.map, size = map.getSize(), svg = this.svg;
    wipe(svg);
    if (size.x < 60 || size.y < 60) return;
    svg.setAttribute("viewBox", `0 0 ${size.x} ${size.y}`);
    const a = map.containerPointToLatLng([0, 0]), b = map.containerPointToLatLng(size);
    const [step, stretch] = stepFor(map), [northStep, northStretch] = stepFor(map, true);
    const x = (minutes) => one(map.latLngToContainerPoint([0, minutes / 60]).x);
    const y = (minutes) => one(map.latLngToContainerPoint([minutes / 60, 0]).y);
    this.band(a.lng * 60, b.lng * 60, stretch, (from, to) => {
      for (const top of [0, size.y - 5]) this.bar(x(from), top, x(to) - x(from), 5);
    });
    this.band(b.lat * 60, a.lat * 60, northStretch, (from, to) => {
      for (const left of [0, size.x - 5]) this.bar(left, y(to), 5, y(from) - y(to));
    });
    ink(svg, "rect", { class: "neatline", x: 5, y: 5, width: size.x - 10, height: size.y - 10 });
    this.figures(a, b, [step, northStep], x, y, size);
  }

  // Every other stretch is filled, counted from zero so that it stays put while panning.
  band(low, high, stretch, fill) {
    for (let k = Math.floor(low / stretch); k * stretch < high; k++) {
      if (k % 2 === 0) fill(Math.max(low, k * stretch), Math.min(high, (k + 1) * stretch));
    }
  }

  bar(x, y, width, height) {
    if (width > 0 && height > 0) ink(this.svg, "rect", { class: "stretch", x, y, width, height });
  }

  figures(a, b, [step, northStep], x, y, size) {
    this.printed = [];
    for (const minutes of multiples(a.lng * 60, b.lng * 60, step)) {
      const at = x(minutes);
      if (at < 40 || at > size.x - 30) continue;
      ink(this.svg, "text", { class: "word w-degrees", x: at, y: 19, "text-anchor": "middle" },
        printedDegrees(minutes, "E", "W"));
    }
    for (const minutes of multiples(b.lat * 60, a.lat * 60, northStep)) {
      const at = y(minutes);
      if (at < 30 || at > size.y - 20) continue;
      this.printed.push([size.x - 58, at - 17, 58, 19]);
      ink(this.svg, "text", { class: "word w-degrees", x: size.x - 9, y: at - 3, "text-anchor": "end" },
        printedDegrees(minutes, "N", "S"));
    }
  }
}

// WGS 84: half the longest axis [m] and the square of the eccentricity.
const AXIS = 6378137, SQUARED = 0.00669437999014, NM = 1852;

// Nautical miles a pixel covers, east to west at a latitude.
export function milesPerPixel(map, latitude) {
  const radians = (latitude * Math.PI) / 180, sine = Math.sin(radians);
  const round = (2 * Math.PI * AXIS * Math.cos(radians)) / Math.sqrt(1 - SQUARED * sine * sine);
  return round / (256 * Math.pow(2, map.getZoom())) / NM;
}

export const ScaleBar = L.Control.extend({
  options: { position: "bottomleft" },

  onAdd(map) {
    this.node = L.DomUtil.create("div", "scale-bar");
    this.svg = ink(this.node, "svg", { width: 216, height: 46, role: "img" });
    map.on("move zoomend resize", () => this.draw(map));
    this.draw(map);
    return this.node;
  },

  draw(map) {
    const latitude = map.getCenter().lat, each = milesPerPixel(map, latitude);
    const most = Math.min(170, map.getSize().x * 0.36) * each;
    const power = Math.pow(10, Math.floor(Math.log10(most)));
    const length = [8, 6, 5, 4, 3, 2, 1].find((n) => n * power <= most) * power, width = length / each;
    const where = `${Math.abs(latitude).toFixed(1)}°${latitude < 0 ? "S" : "N"}`;
    const svg = this.svg;
    wipe(svg);
    svg.dataset.miles = length;
    svg.dataset.pixels = width;
    svg.setAttribute("aria-label", `Scale bar, ${length} NM, true at latitude ${where}`);
    for (let k = 0; k < 4; k++) {
      ink(svg, "rect", { class: k % 2 ? "blank" : "full", x: one(10 + (width * k) / 4), y: 20, width: one(width / 4), height: 5 });
    }
    const figure = (share) => String(+(length * share).toPrecision(3));
    ink(svg, "text", { class: "word w-degrees", x: 10, y: 15, "text-anchor": "middle" }, "0");
    ink(svg, "text", { class: "word w-degrees", x: one(10 + width / 2), y: 15, "text-anchor": "middle" }, figure(0.5));
    ink(svg, "text", { class: "word w-degrees", x: one(10 + width), y: 15, "text-anchor": "middle" }, figure(1) + " NM");
    ink(svg, "text", { class: "word w-degrees", x: 10, y: 39, "text-anchor": "start" }, "true at " + where);
  },
});
