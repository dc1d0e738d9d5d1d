// Whether what stands below is of the route above. While it is not, that is said, beside the route and
// over the tables, and nothing below changes the route: a row would mean another point by now.

import { byId, say } from "./dom.js";

const BELOW = "#points button, #sectors button";

export class Behind {
  constructor({ chart, links, near, log }) {
    Object.assign(this, { chart, links, near, log, on: false, held: new Set(), of: null });
  }

  // What was asked is shown: its name, its route, its day. Null where nothing is.
  shows(of) {
    this.of = of;
    this.set("");
  }

  // The sheet is of something else than stands above. The map may show more: what can be read of it.
  tell(why, { map = false } = {}) {
    this.set(this.of ? `The figures below are still those of ${this.of.title} (${this.of.route}, ${this.of.date}): ${why}.`
      : `Nothing is plotted: ${why}.`, map);
  }

  set(words, map = false) {
    const on = this.on = Boolean(words);
    say(byId("behind"), words);
    say(byId("log-behind"), this.of ? words : "");
    if (on) say(byId("summary"), "");
    document.body.classList.toggle("behind", on);
    document.body.classList.toggle("behind-map", on && !map);
    this.chart.fix(on && !map);
    this.links.off = on;
    if (on) this.hold();
    else this.free();
    this.near.fill();
  }

  hold() {
    this.links.close();
    this.log.close();
    for (const node of document.querySelectorAll(BELOW)) {
      if (node.disabled) continue;
      node.disabled = true;
      this.held.add(node);
    }
  }

  free() {
    for (const node of this.held) node.disabled = false;
    this.held.clear();
  }
}
