// Between the map and the tables: a leg lights from its row, a row from its leg; details on a slip.

import { button, byId, make } from "./dom.js";
import { stillPlease } from "./map/ink.js";

export class Links {
  constructor(acts) {
    Object.assign(this, { acts, chart: null, lit: new Set(), off: false, picked: null, from: null, marks: new Map() });
    byId("slip-close").addEventListener("click", () => this.close());
    document.addEventListener("keydown", (event) => event.key === "Escape" && this.close());
  }

  listen(row, link, item) {
    row.addEventListener("mouseenter", () => this.light(item));
    row.addEventListener("mouseleave", () => this.dim(item));
    link.addEventListener("focus", () => this.light(item));
    link.addEventListener("blur", () => this.dim(item));
    link.addEventListener("click", (event) => {
      event.preventDefault();
      if (this.off) return;
      this.chart.goTo(item);
      this.pick(item);
      if (!event.detail) this.enter(link); // chosen with the keyboard
    });
  }

  rows(item) {
    return document.querySelectorAll(`tr[data-item="${CSS.escape(item)}"]`);
  }

  light(item) {
    if (this.off) return;
    this.lit.add(item);
    this.mark(item, true);
  }

  dim(item) {
    if (item === this.picked) return;
    this.lit.delete(item);
    this.mark(item, false);
  }

  mark(item, on) {
    const same = document.querySelectorAll(`tr[data-lights="${CSS.escape(item)}"]`);
    for (const row of [...this.rows(item), ...same]) row.classList.toggle("lit", on);
    const [kind, number] = item.split("-");
    if (kind === "leg") this.chart.drawn[number - 1]?.drawn.getElement()?.classList.toggle("lit", on);
    this.marks.get(item)?.node.classList.toggle("lit", on);
  }

  // Symbols are drawn anew after each move: what is lit stays lit.
  drawn(marks) {
    this.marks = marks;
    for (const item of this.lit) this.mark(item, true);
  }

  pick(item) {
    if (this.off) return;
    this.close();
    this.picked = item;
    this.light(item);
    this.show(item);
  }

  // The keyboard goes on in the slip, and back to the row once that is put away.
  enter(link) {
    if (byId("slip").hidden) return;
    this.from = link;
    byId("slip").focus();
  }

  close() {
    const before = this.picked, within = byId("slip").contains(document.activeElement);
    this.picked = null;
    if (before) this.dim(before);
    byId("slip").hidden = true;
    if (within && this.from?.isConnected) this.from.focus();
    this.from = null;
  }

  // The slip repeats the row under the headings of its table, and adds what no column holds.
  show(item) {
    const row = this.rows(item)[0];
    if (!row) return;
    const heads = [...row.closest("table").querySelectorAll("thead th")].map((head) => head.textContent);
    const cells = [...row.children].filter((cell) => !cell.classList.contains("acts")).map((cell) => cell.textContent.trim());
    byId("slip-title").textContent = `${heads[0].split(" ")[0]} ${cells[0]}`;
    const list = byId("slip-list");
    list.replaceChildren();
    cells.slice(1).forEach((cell, index) => entry(list, heads[index + 1], [cell]));
    this.more(item, list);
    byId("slip-acts").replaceChildren(...this.acts(item, cells[0]).map(([text, act, asks]) => (asks ? asking(text, asks, (said) => {
      this.close();
      act(said);
    }) : button(text, () => {
      this.close();
      act();
    }))));
    byId("slip").hidden = false;
    if (byId("slip").getBoundingClientRect().bottom > innerHeight) {
      byId("slip").scrollIntoView({ block: "nearest", behavior: stillPlease() ? "auto" : "smooth" });
    }
  }

  more(item, list) {
    const [kind, number] = item.split("-");
    const found = { airport: this.chart.sheet.airports, point: this.chart.sheet.points }[kind]?.[number];
    if (!found?.more) return;
    const said = (lines) => (lines.length ? lines : ["not in the data"]);
    entry(list, "Runways", said(found.more[0]));
    entry(list, "Frequencies", said(found.more[1]));
  }
}

function entry(list, head, lines) {
  list.append(make("dt", {}, head), ...lines.map((line) => make("dd", { dir: "auto" }, line)));
}

// A word to be typed, taken at Enter or at a press.
function asking(text, label, act) {
  const field = make("input", { size: 10, autocomplete: "off", maxlength: 60, autocapitalize: "characters" });
  field.addEventListener("keydown", (event) => event.key === "Enter" && act(field.value.trim()));
  return make("span", { class: "asking" }, make("label", {}, `${label} `, field), " ", button(text, () => act(field.value.trim())));
}
