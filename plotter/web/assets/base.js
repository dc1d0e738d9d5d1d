// The offline base of the map: the world once, and the view in finer cells as the map moves.

import { get } from "./ask.js";
import { drawTier, readTier } from "./map/base.js";

const TURNS = [-360, 0, 360];
const ROOM = 0.35;

export class Base {
  constructor(map, drawn) {
    Object.assign(this, { map, drawn, towns: [], view: null, zoom: 0, asked: 0, coming: "" });
    this.world = this.pane("base-world", 190);
    this.near = this.pane("base-near", 200);
    this.group = L.layerGroup().addTo(map);
    get("/api/base/world").then((base) => {
      const group = L.layerGroup().addTo(map);
      for (const tier of base.layers) drawTier(group, readTier(tier, TURNS), this.world);
    }, () => {});
    map.on("moveend", () => this.refresh());
  }

  pane(name, height) {
    this.map.createPane(name).style.zIndex = height;
    return {
      renderer: L.svg({ pane: name, padding: ROOM }), pane: name, interactive: false,
      smoothFactor: 0.8, fillRule: "evenodd",
    };
  }

  async refresh() {
    const seen = this.map.getBounds();
    if (this.view && this.view.contains(seen) && this.map.getZoom() < this.zoom + 1.5) return;
    const view = wider(seen), address = `/api/base?${new URLSearchParams(view)}`;
    if (address === this.coming) return;
    this.coming = address;
    const asked = ++this.asked, zoom = this.map.getZoom();
    let base;
    try {
      base = await get(address);
    } catch {
      return;
    } finally {
      if (address === this.coming) this.coming = "";
    }
    if (asked !== this.asked) return;
    Object.assign(this, { zoom, towns: base.towns, view: L.latLngBounds([view.south, view.west], [view.north, view.east]) });
    const group = L.layerGroup().addTo(this.map);
    for (const tier of base.layers) drawTier(group, readTier(tier, [0]), this.near);
    this.group.remove();
    this.group = group;
    this.drawn();
  }
}

// A view with room round it, on a grid of its own size: the same place is asked for by the same
// address again.
function wider(seen) {
  const span = Math.max(seen.getEast() - seen.getWest(), 0.2);
  const step = 2 ** Math.ceil(Math.log2(span / 4));
  const down = (value) => Math.floor(value / step - 0.5) * step, up = (value) => Math.ceil(value / step + 0.5) * step;
  const west = Math.max(-540, down(seen.getWest()));
  return {
    south: Math.max(-85, down(seen.getSouth())), north: Math.min(85, up(seen.getNorth())),
    west, east: Math.min(540, west + 360, up(seen.getEast())),
  };
}
