// Between the map and the tables: light a leg from its row and a row from its leg, show details.

import { stillPlease, wipe } from "./ink.js";

export class Links {
  constructor(map, sheet, legs) {
    Object.assign(this, { map, sheet, legs, lit: new Set(), picked: null, marks: new Map() });
    this.slip = document.getElementById("slip");
    document.getElementById("slip-close").addEventListener("click", () => this.close());
    document.addEventListener("keydown", (event) => event.key === "Escape" && this.close());
    for (const row of document.querySelectorAll("tr[data-item]")) this.listen(row);
    for (const row of document.querySelectorAll("tr[data-lights]")) this.follow(row);
  }

  // A row of the log lights the leg it is flown on; its own links lead elsewhere.
  follow(row) {
    row.addEventListener("mouseenter", () => this.light(row.dataset.lights));
    row.addEventListener("mouseleave", () => this.dim(row.dataset.lights));
  }

  listen(row) {
    const item = row.dataset.item, link = row.querySelector("a");
    row.addEventListener("mouseenter", () => this.light(item));
    row.addEventListener("mouseleave", () => this.dim(item));
    link.addEventListener("focus", () => this.light(item));
    link.addEventListener("blur", () => this.dim(item));
    link.addEventListener("click", (event) => {
      event.preventDefault();
      this.goTo(item);
      this.pick(item);
    });
  }

  row(item) {
    return document.querySelector(`tr[data-item="${item}"]`);
  }

  light(item) {
    this.lit.add(item);
    this.mark(item, true);
  }

  dim(item) {
    if (item === this.picked) return;
    this.lit.delete(item);
    this.mark(item, false);
  }

  mark(item, on) {
    const row = this.row(item), [kind, number] = item.split("-");
    if (row) row.classList.toggle("lit", on);
    for (const log of document.querySelectorAll(`tr[data-lights="${item}"]`)) log.classList.toggle("lit", on);
    if (kind === "leg") {
      const path = this.legs[number - 1].drawn.getElement();
      if (path) path.classList.toggle("lit", on);
    }
    const mark = this.marks.get(item);
    if (mark) mark.node.classList.toggle("lit", on);
  }

  // Symbols are drawn anew after each move: what is lit stays lit.
  drawn(marks) {
    this.marks = marks;
    for (const item of this.lit) this.mark(item, true);
  }

  place(item) {
    const [kind, number] = item.split("-");
    if (kind === "checkpoint") return this.sheet.checkpoints.find((mark) => mark.n === +number).at;
    return kind === "point" ? this.sheet.points[number].at : this.sheet.airports[number].at;
  }

  goTo(item) {
    const still = { animate: !stillPlease() };
    this.map.getContainer().scrollIntoView({ block: "nearest", behavior: stillPlease() ? "auto" : "smooth" });
    if (item.startsWith("leg-")) {
      const line = this.legs[item.split("-")[1] - 1].line;
      this.map.fitBounds(line, { padding: [60, 60], maxZoom: 11, ...still });
    } else {
      this.map.setView(this.place(item), Math.max(this.map.getZoom(), 8), still);
    }
  }

  pick(item) {
    const before = this.picked;
    this.picked = null;
    if (before) this.dim(before);
    this.picked = item;
    this.light(item);
    this.show(item);
  }

  close() {
    const before = this.picked;
    this.picked = null;
    if (before) this.dim(before);
    this.slip.hidden = true;
  }

  // The slip repeats the row under the headings of its table, and adds what no column holds.
  show(item) {
    const row = this.row(item), table = row && row.closest("table");
    if (!row) return;
    const heads = [...table.querySelectorAll("thead th")].map((head) => head.textContent);
    const cells = [...row.children].map((cell) => cell.textContent.trim());
    const title = document.getElementById("slip-title"), name = document.createElement("bdi");
    title.textContent = heads[0].split(" ")[0] + " ";
    name.textContent = cells[0];
    title.appendChild(name);
    const list = document.getElementById("slip-list");
    wipe(list);
    for (let i = 1; i < cells.length; i++) entry(list, heads[i], [cells[i]]);
    this.more(item, list);
    this.slip.hidden = false;
  }

  more(item, list) {
    const [kind, number] = item.split("-");
    const found = kind === "airport" ? this.sheet.airports[number] : kind === "point" ? this.sheet.points[number] : null;
    if (!found || !found.more) return;
    const said = (lines) => (lines.length ? lines : ["not in the data"]);
    entry(list, "Runways", said(found.more[0]));
    entry(list, "Frequencies", said(found.more[1]));
  }
}

function entry(list, head, lines) {
  const term = document.createElement("dt");
  term.textContent = head;
  list.appendChild(term);
  for (const line of lines) {
    const item = document.createElement("dd");
    item.textContent = line;
    item.dir = "auto";
    list.appendChild(item);
  }
}
