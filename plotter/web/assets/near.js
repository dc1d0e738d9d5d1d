// What lies near a point, a checkpoint, a leg, an airport or any place of the map, with what each is
// good for there. Distances and bearings come from the program in words.

import { Fault, get } from "./ask.js";
import { button, byId, later, make, say } from "./dom.js";
import { figure } from "./figures.js";

const FIELDS = { within_nm: "near-within", runway_ft: "near-runway" };

// While a point is dragged its figures come first.
const busy = () => document.querySelector("main").getAttribute("aria-busy") === "true";

export class Near {
  constructor(page) {
    Object.assign(this, { page, item: null, at: null, asked: 0, from: null, found: null });
    this.again = later(() => this.at && (busy() ? this.again() : this.ask()), 150);
    byId("near-close").addEventListener("click", () => this.close());
    byId("near").addEventListener("keydown", (event) => this.key(event));
    byId("near-kind").addEventListener("change", () => this.chosen());
    for (const id of Object.values(FIELDS)) byId(id).addEventListener("input", () => this.again());
    byId("near-middle").addEventListener("click", () => this.openAt(page.chart.map.getCenter()));
  }

  // Near something that stands in a table: it is followed while the route changes.
  open(item) {
    this.show(item, this.page.chart.place(item));
  }

  openAt({ lat, lng }) {
    this.show(null, [lat, lng]);
  }

  show(item, at) {
    if (!at) return;
    this.from = document.activeElement;
    Object.assign(this, { item, at });
    this.title();
    byId("near-turning").hidden = !item?.startsWith("checkpoint-");
    this.clear();
    byId("near").hidden = false;
    byId("near").focus();
    this.chosen();
  }

  title() {
    const head = this.item && this.page.links.rows(this.item)[0]?.querySelector("th");
    const name = head ? head.textContent.trim() : "";
    this.name = !this.item ? "this place on the map" : this.item.startsWith("leg-") ? `the middle of leg ${name}` : name;
    say(byId("near-title"), `Near ${this.name}`);
  }

  chosen() {
    byId("near-long").hidden = byId("near-kind").value !== "airport";
    this.ask();
  }

  // After each change of the route: the same thing at its new place, or nothing once it is gone.
  follow() {
    if (!this.at || !this.item) return;
    const at = this.page.chart.place(this.item);
    if (!at) return this.close();
    this.title();
    if (String(at) === String(this.at)) return this.fill();
    this.at = at;
    return this.again();
  }

  question() {
    const { date, cruise_altitude_ft } = this.page.plan().flight, kind = byId("near-kind").value;
    const { latitude_deg, longitude_deg } = this.page.chart.asked(L.latLng(this.at));
    const asked = { latitude_deg, longitude_deg, kind, date, altitude_ft: [cruise_altitude_ft].flat()[0] ?? 0 };
    for (const [key, id] of Object.entries(FIELDS)) {
      const { text } = this.typed(key, id);
      if (text && (key !== "runway_ft" || kind === "airport")) asked[key] = text;
    }
    return new URLSearchParams(asked);
  }

  typed(key, id) {
    return figure(byId(id).value, key === "runway_ft" ? { whole: true, example: "2500" } : { example: "25" });
  }

  async ask() {
    const asked = ++this.asked;
    for (const [key, id] of Object.entries(FIELDS)) {
      const { wrong } = this.typed(key, id);
      if (wrong) return this.refuse({ error: { where: { key } }, message: wrong });
    }
    try {
      const found = await get(`/api/near/words?${this.question()}`);
      if (asked === this.asked) this.tell(found);
    } catch (fault) {
      if (!(fault instanceof Fault)) throw fault;
      if (asked === this.asked) this.refuse(fault);
    }
    return undefined;
  }

  refuse({ error, message }) {
    this.clear();
    const wrong = error.where?.key?.split(".").pop();
    for (const [key, id] of Object.entries(FIELDS)) byId(id).setAttribute("aria-invalid", String(key === wrong));
    say(byId("near-heading"), message);
  }

  clear() {
    this.found = null;
    for (const id of Object.values(FIELDS)) byId(id).setAttribute("aria-invalid", "false");
    byId("near-notes").replaceChildren();
    byId("near-table").tBodies[0].replaceChildren();
    byId("near-table").hidden = true;
    say(byId("near-heading"), "");
  }

  tell(found) {
    this.clear();
    this.found = found;
    say(byId("near-heading"), found.heading);
    byId("near-notes").replaceChildren(...found.notes.map((note) => make("li", {}, make("bdi", {}, note))));
    byId("near-table").hidden = !found.rows.length;
    this.fill();
  }

  fill() {
    if (!this.found) return;
    const heads = ["Place", "Change", ...this.found.heads].map((head) => make("th", { scope: "col", role: "columnheader" }, head));
    byId("near-table").tHead.replaceChildren(make("tr", { role: "row" }, ...heads));
    byId("near-table").tBodies[0].replaceChildren(...this.found.rows.map((row) => this.row(row)));
  }

  row(row) {
    const name = make("th", { scope: "row", role: "rowheader" }, make("bdi", {}, row.code), " ", make("small", {}, make("bdi", {}, row.what)));
    const acts = this.acts(row).map(([text, spoken, change]) => button(text, () => this.act(change), spoken));
    const cells = row.cells.map((cell) => make("td", { role: "cell" }, cell));
    return make("tr", { role: "row" }, name, make("td", { class: "acts", role: "cell" }, ...acts), ...cells);
  }

  act(change) {
    this.close();
    this.page.edit(change);
  }

  // What a place is good for, seen from where the list was asked: nothing where it is that very place.
  acts(row) {
    if (this.page.links.off) return [];
    const [kind, number] = (this.item || "place").split("-"), { count } = this.page.answer();
    const put = (index) => ({ kind: "write-in", index, text: row.type });
    const on = [count ? "fly on to it" : "begin here", `${count ? "Fly on to" : "Begin at"} ${row.code}`, put(count)];
    const leg = (index) => [`insert on leg ${index}`, `Insert ${row.code} on leg ${index}`, put(index)];
    if (kind === "checkpoint") return this.checkpoint(row, put);
    if (row.here && kind !== "place") return [];
    if (kind === "leg") return [leg(+number)];
    if (kind === "airport") return [leg(this.page.answer().sheet.airports.rows[number].leg), on];
    if (kind !== "point") return [on];
    const index = +number, move = ["move to it", `Move ${this.name} to ${row.code}`, { kind: "write", index, text: row.type }];
    return [index + 1 < count ? ["insert after", `Insert ${row.code} after ${this.name}`, put(index + 1)] : on, move];
  }

  checkpoint(row, put) {
    const { leg } = this.page.chart.sheet.checkpoints.find((mark) => `checkpoint-${mark.n}` === this.item);
    const called = { kind: "write-in", index: leg, text: row.called };
    return [
      ["move to it", `Move ${this.name} to ${row.code}`, put(leg)],
      ...(row.called ? [["name after it", `Name ${this.name} after ${row.code}`, called]] : []),
    ];
  }

  key(event) {
    if (event.key !== "Escape") return;
    event.stopPropagation();
    this.close();
  }

  close() {
    const within = byId("near").contains(document.activeElement);
    this.asked += 1;
    this.item = this.at = null;
    byId("near").hidden = true;
    if (within && this.from?.isConnected) this.from.focus();
    this.from = null;
  }
}
