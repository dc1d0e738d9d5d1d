// The pilot's own layers: quiet, under the route, a point's name where it is pointed at.

import { pairs } from "./ink.js";

export class OwnLayers {
  constructor(map, given) {
    Object.assign(this, { map, group: null });
    if (!given) return;
    map.createPane("own").style.zIndex = 220;
    const pen = { renderer: L.svg({ pane: "own", padding: 0.35 }), pane: "own", interactive: false, smoothFactor: 0.8, fillRule: "evenodd" };
    const pairs = (flat) => {
      const points = [];
      for (let i = 0; i < flat.length; i += 2) points.push([flat[i], flat[i + 1]]);
      return points;
    };
    const shapes = given.areas.map((rings) => L.polygon([rings.map(pairs)], { ...pen, className: "base own-area" }));
    for (const kind in given.lines) {
      shapes.push(L.polyline(given.lines[kind].map(pairs), { ...pen, className: "base own-line own-" + kind }));
    }
    for (const [latitude, longitude, name] of given.points) {
      const point = L.circleMarker([latitude, longitude], { ...pen, interactive: true, radius: 4, className: "base own-point" });
      if (name) point.on("add", () => this.entitle(point.getElement(), name));
      shapes.push(point);
    }
    this.group = L.layerGroup(shapes);
  }

  entitle(path, name) {
    const title = document.createElementNS("http://www.w3.org/2000/svg", "title");
    title.textContent = name;
    path.appendChild(title);
  }

  show(on) {
    if (!this.group || on === this.map.hasLayer(this.group)) return;
    if (on) this.group.addTo(this.map);
    else this.group.remove();
  }
}
