// Tables of the sheet, changed in place: what has the focus keeps it while figures change.

import { make, say } from "./dom.js";
import { DASHES } from "./map/route.js";

export class Table {
  constructor(section, id, caption, links, acts = null) {
    Object.assign(this, { section, links, acts });
    this.head = make("tr");
    this.body = make("tbody");
    this.foot = make("tfoot");
    this.more = make("p", { class: "hint" });
    this.table = make("table", { id }, make("caption", {}, caption), make("thead", {}, this.head), this.body, this.foot);
    const scroll = make("div", { class: "scroll", role: "region", "aria-label": caption, tabindex: 0 }, this.table);
    section.replaceChildren(scroll, this.more);
    section.hidden = true;
  }

  show(shown) {
    this.section.hidden = !shown || !shown.rows.length;
    if (this.section.hidden) return;
    this.heads(shown.heads);
    shown.rows.forEach((row, index) => this.row(row, index, shown.rows.length));
    while (this.body.rows.length > shown.rows.length) this.body.lastChild.remove();
    this.footer(shown);
    say(this.more, shown.more || "");
  }

  heads(heads) {
    const all = this.acts ? [...heads, "Change"] : heads;
    if (all.join("|") === this.shownHeads) return;
    this.shownHeads = all.join("|");
    this.head.replaceChildren(...all.map((head) => make("th", { scope: "col" }, head)));
  }

  row(row, index, count) {
    const key = `${row.item}|${row.cells.length}|${row.names}`;
    let line = this.body.rows[index];
    if (!line || line.dataset.key !== key) {
      const fresh = this.fresh(row, key, index);
      if (line) line.replaceWith(fresh);
      else this.body.append(fresh);
      line = fresh;
    }
    say(line.querySelector("th .said"), row.head);
    row.cells.forEach((cell, number) => {
      const node = line.cells[number + 1];
      say(node.querySelector("bdi") || node, cell);
    });
    const small = line.querySelector("small");
    if (small) say(small, row.remarks ? " " + row.remarks : "");
    if (this.acts) for (const act of line.querySelectorAll("button")) act.disabled = this.acts.idle(act.dataset.act, index, count);
  }

  fresh(row, key, index) {
    const said = make("bdi", { class: "said" });
    const link = make("a", { href: "#map_route" }, said);
    const head = make("th", { scope: "row" }, ...this.sign(row.item), link, ...this.stroke(row.item));
    const cells = row.cells.map((_, number) => (row.names.includes(number)
      ? make("td", { class: "name" }, make("bdi"), ...(number === row.names[0] ? [make("small")] : []))
      : make("td")));
    const line = make("tr", { "data-item": row.item, "data-key": key }, head, ...cells);
    if (this.acts) line.append(make("td", { class: "acts" }, ...this.acts.buttons(index)));
    this.links.listen(line, link, row.item);
    return line;
  }

  sign(item) {
    return item.startsWith("point-") ? [make("span", { class: "turn", "aria-hidden": "true" })] : [];
  }

  stroke(item) {
    if (!item.startsWith("leg-")) return [];
    const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
    svg.setAttribute("class", `ink ink-${(item.split("-")[1] - 1) % DASHES}`);
    svg.setAttribute("aria-hidden", "true");
    path.setAttribute("d", "M0 4h34");
    svg.append(path);
    return [svg];
  }

  footer(shown) {
    if (!shown.foot) return;
    const span = shown.heads.length - shown.foot.length;
    this.foot.replaceChildren(make(
      "tr", {}, make("th", { scope: "row", colspan: span }, "Whole route"), ...shown.foot.map((cell) => make("td", {}, cell)),
    ));
  }
}

export function showCautions(list, cautions) {
  const text = JSON.stringify(cautions);
  if (list.dataset.shown === text) return;
  list.dataset.shown = text;
  list.replaceChildren(...cautions.map(({ rank, text: words, source, where }) => make(
    "li", { class: rank }, make("strong", {}, rank), " ",
    make("span", {}, ...(where ? [make("bdi", {}, where), ": "] : []), make("bdi", {}, words),
      ...(source ? [" ", make("cite", {}, source)] : [])),
  )));
}
