// Makes the map of the page and draws the route on it.

import { drawBase } from "./base.js";
import { Collar, Graticule, ScaleBar } from "./collar.js";
import { stillPlease } from "./ink.js";
import { Isogonic } from "./isogonic.js";
import { Lettering } from "./lettering.js";
import { Links } from "./links.js";
import { OwnLayers } from "./own.js";
import { drawRoute } from "./route.js";
import { OnlineTiles } from "./tiles.js";

L.Map.mergeOptions({
  zoomAnimation: !stillPlease(), fadeAnimation: !stillPlease(), inertia: !stillPlease(),
});

function readData(id) {
  return JSON.parse(document.getElementById(id).textContent);
}

function drawChart() {
  const sheet = readData("plot-data"), base = readData("base-data");
  const map = L.map("map_route", {
    attributionControl: false, zoomSnap: 0.25, zoomDelta: 0.5, minZoom: 2, maxZoom: 13,
  });
  const [south, west, north, east] = sheet.view;
  const shown = { airports: true, towns: true, graticule: true, isogonic: true, tiles: true, own: true };
  const middle = (west + east) / 2;
  const whole = () => map.fitBounds([[south, west], [north, east]], { ...roomFor(map), maxZoom: 11, animate: false });
  whole();
  map.setMaxBounds([[-85.05, middle - 270], [85.05, middle + 270]]);
  drawBase(map, base, middle);
  const graticule = new Graticule(map, shown);
  let links = null;
  const leg = (act) => (index) => links[act]("leg-" + (index + 1));
  const legs = drawRoute(map, sheet, { light: leg("light"), dim: leg("dim"), pick: leg("pick") });
  links = new Links(map, sheet, legs);
  const collar = new Collar(map), isogonic = new Isogonic(map, sheet.isogonic);
  const lettering = new Lettering(map, sheet, base, shown, links, collar, isogonic);
  const tiles = new OnlineTiles(map, sheet.tiles);
  const own = new OwnLayers(map, sheet.own);
  const redraw = () => {
    own.show(shown.own);
    tiles.show(shown.tiles);
    isogonic.show(shown.isogonic);
    [graticule, collar, lettering].forEach((part) => part.draw());
  };
  redraw();
  new ScaleBar().addTo(map);
  switches(map, shown, redraw, whole);
  onPaper(map, whole);
  wheelWhenFocused(map);
}

// Room round the route for its names, the collar and the figures along it.
function roomFor(map) {
  const side = Math.min(60, map.getSize().x * 0.09);
  return { paddingTopLeft: [side, 52], paddingBottomRight: [side, 44] };
}

function switches(map, shown, redraw, whole) {
  for (const choice of document.querySelectorAll("#layers input")) {
    choice.checked = true;
    choice.addEventListener("change", () => {
      const name = choice.value;
      if (name in shown) {
        shown[name] = choice.checked;
        redraw();
      } else {
        map.getContainer().classList.toggle("without-" + name, !choice.checked);
      }
    });
  }
  document.getElementById("whole").addEventListener("click", whole);
  document.getElementById("layers").hidden = false;
}

// Paper has its own width: the map is laid out anew for it, and put back afterwards.
function onPaper(map, whole) {
  const listed = document.getElementById("print-airports");
  if (listed) {
    listed.checked = false;
    listed.addEventListener("change", () => document.body.classList.toggle("with-airports", listed.checked));
  }
  let before = null;
  window.addEventListener("beforeprint", () => {
    before = [map.getCenter(), map.getZoom()];
    document.body.classList.add("on-paper");
    map.invalidateSize({ animate: false, pan: false });
    whole();
  });
  window.addEventListener("afterprint", () => {
    document.body.classList.remove("on-paper");
    map.invalidateSize({ animate: false, pan: false });
    if (before) map.setView(before[0], before[1], { animate: false });
  });
}

// The wheel scrolls the page until the map has been clicked into or reached by the Tab key.
function wheelWhenFocused(map) {
  map.scrollWheelZoom.disable();
  map.getContainer().addEventListener("focusin", () => map.scrollWheelZoom.enable());
  map.getContainer().addEventListener("focusout", () => map.scrollWheelZoom.disable());
}

drawChart();
