// Isogonic lines: thin short dashes under the route, each broken by its degrees where there is room.

import { unpack } from "./base.js";
import { onScreen } from "./route.js";

export class Isogonic {
  constructor(map, packed) {
    this.map = map;
    this.lines = [];
    map.createPane("isogonic").style.zIndex = 380;
    this.group = L.layerGroup();
    if (!packed) return;
    const place = (unit, turn) => ([words, text]) => ({
      words, points: unpack(text).map(([y, x]) => [y * unit, x * unit + turn]),
    });
    this.lines.push(...packed.near.map(place(packed.unit, 0)));
    for (const turn of [0, -360, 360]) this.lines.push(...packed.far.map(place(packed.farUnit, turn)));
    L.polyline(this.lines.map((line) => line.points), {
      renderer: L.svg({ pane: "isogonic", padding: 0.35 }), pane: "isogonic", interactive: false,
      smoothFactor: 0.4, fill: false, className: "isogonic",
    }).addTo(this.group);
  }

  show(on) {
    if (on) this.group.addTo(this.map);
    else this.group.remove();
  }

  // Each line in view with its points on the screen and the spots where its degrees could stand,
  // the middle of what is seen of it first.
  *seen(view) {
    const inside = L.bounds(view.min.add([26, 30]), view.max.subtract([26, 22]));
    for (const line of this.lines) {
      const drawn = onScreen(this.map, line.points), spots = [...samples(drawn, 12, inside)];
      if (spots.length > 4) yield { words: line.words, drawn, spots: spread(spots) };
    }
  }
}

function spread(spots) {
  return [0.5, 0.3, 0.7, 0.4, 0.6, 0.2, 0.8, 0.1, 0.9].map((share) => spots[Math.round(share * (spots.length - 1))]);
}
