// The navigation log: rows as the program prints them, each lighting its leg, each figure opening
// its working. Arrow keys go from figure to figure; the Tab key passes over the table in one step.

import { Fault, post } from "./ask.js";
import { byId, later, make, say } from "./dom.js";

const STEPS = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0] };

export class Log {
  constructor(links, plan) {
    Object.assign(this, { links, plan, open: null, asked: 0, tables: [] });
    this.again = later(() => this.open && this.ask(), 120);
    byId("working-close").addEventListener("click", () => this.close(true));
    byId("working").addEventListener("keydown", (event) => event.key === "Escape" && this.close(true));
  }

  // While the plan has a fault the log before it stays, marked, so that nothing jumps; it is not
  // printed.
  show(log, faulty = false) {
    const stale = !log && faulty && Boolean(this.shape);
    byId("flown").classList.toggle("stale", stale);
    byId("stale").hidden = !stale;
    if (stale) return undefined;
    byId("flown").hidden = !log;
    if (!log) {
      this.shape = null;
      return this.close();
    }
    const shape = JSON.stringify([log.columns, log.sectors.map(({ rows }) => rows.map(({ leg, turning }) => [leg, turning]))]);
    if (shape !== this.shape) this.build(log);
    this.shape = shape;
    log.sectors.forEach((sector, index) => this.fill(this.tables[index], sector));
    this.weather(log.fields);
    byId("silenced").replaceChildren(...log.silenced.map(({ code, reason }) => make(
      "li", {}, `Silenced by the plan: ${code} (`, make("bdi", {}, reason), ")",
    )));
    if (this.open) this.again();
    return undefined;
  }

  build(log) {
    this.tables = log.sectors.map((sector) => this.table(log.columns, sector));
    byId("sectors").replaceChildren(...this.tables.flatMap(({ scroll, sums }) => [scroll, sums]));
    for (const { table } of this.tables) table.querySelector("tbody button")?.setAttribute("tabindex", "0");
  }

  table(columns, sector) {
    const heads = columns.map(({ heading, title }) => make("th", { scope: "col" }, make("abbr", { title }, heading)));
    const caption = make("caption", {}), body = make("tbody"), foot = make("tr");
    const table = make("table", { class: "log-table" }, caption, make("thead", {}, make(
      "tr", {}, make("th", { scope: "col" }, "Row"), make("th", { scope: "col" }, "To"), ...heads,
    )), body, make("tfoot", {}, foot));
    body.append(...sector.rows.map((row) => this.row(columns, row)));
    table.addEventListener("keydown", (event) => this.key(event));
    const scroll = make("div", { class: "scroll", role: "region", tabindex: 0 }, table);
    return { scroll, sums: make("dl", { class: "sums" }), table, caption, body, foot };
  }

  row(columns, row) {
    const item = `leg-${row.leg}`;
    const cells = columns.map(({ key, heading, title, steer }) => make(
      "td", { class: steer ? "steer" : null },
      make("button", {
        type: "button", tabindex: -1, "data-row": row.number, "data-column": key,
        on: { click: (event) => this.choose(event.currentTarget, heading, title) },
      }),
    ));
    const name = make("td", { class: "name" }, make("bdi"), " ", make("span", { class: "phase" }));
    const line = make("tr", { "data-lights": item, class: row.turning ? "turning" : null }, make("th", { scope: "row" }), name, ...cells);
    line.addEventListener("mouseenter", () => this.links.light(item));
    line.addEventListener("mouseleave", () => this.links.dim(item));
    line.addEventListener("focusin", () => this.links.light(item));
    line.addEventListener("focusout", () => this.links.dim(item));
    return line;
  }

  fill({ scroll, sums, caption, body, foot }, sector) {
    caption.replaceChildren(sector.title, " ", make("small", {}, sector.rule));
    scroll.setAttribute("aria-label", sector.title);
    sector.rows.forEach((row, index) => {
      const line = body.rows[index];
      say(line.cells[0], String(row.number));
      say(line.querySelector("bdi"), row.to);
      say(line.querySelector(".phase"), row.phase);
      row.cells.forEach((cell, number) => {
        const node = line.cells[number + 2].firstChild;
        say(node, cell || "–");
        node.setAttribute("data-row", row.number);
      });
    });
    foot.replaceChildren(make("th", { scope: "row", colspan: 2 }, "Sector"), ...sector.totals.map((cell) => make("td", {}, cell)));
    sums.replaceChildren(...sector.figures.map(([term, said]) => make("div", {}, make("dt", {}, term), make("dd", {}, said))));
  }

  weather({ heads, rows }) {
    byId("weather").hidden = !rows.length;
    byId("weather").replaceChildren(make("table", {}, make("caption", {}, "Weather at the fields"),
      make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head)))),
      make("tbody", {}, ...rows.map(([first, ...rest]) => make(
        "tr", {}, make("th", { scope: "row" }, make("bdi", {}, first)), ...rest.map((cell) => make("td", {}, make("bdi", {}, cell))),
      )))));
  }

  key(event) {
    if (event.key === "Escape") return this.close(true);
    const step = STEPS[event.key], from = event.target.closest("td");
    if (!step || !from) return undefined;
    const line = event.currentTarget.tBodies[0].rows[from.parentNode.sectionRowIndex + step[0]];
    const to = line?.cells[from.cellIndex + step[1]]?.querySelector("button");
    if (!to) return undefined;
    event.preventDefault();
    this.rove(to);
    to.focus();
    return undefined;
  }

  rove(to) {
    for (const each of to.closest("table").querySelectorAll('button[tabindex="0"]')) each.setAttribute("tabindex", "-1");
    to.setAttribute("tabindex", "0");
  }

  choose(cell, heading, title) {
    this.mark(false);
    this.open = { cell, heading, title };
    this.rove(cell);
    this.mark(true);
    this.ask(true);
  }

  mark(on) {
    this.open?.cell.classList.toggle("opened", on);
  }

  async ask(first = false) {
    const asked = ++this.asked, { cell, title } = this.open;
    const [row, column] = [Number(cell.dataset.row), cell.dataset.column];
    try {
      const made = await (await post("/api/working", { plan: this.plan(), row, column })).json();
      if (asked === this.asked && this.open) this.tell(made, first);
    } catch (fault) {
      if (!(fault instanceof Fault)) throw fault;
      if (asked === this.asked && this.open) this.tell({ title, formula: fault.message, put_in: [], arithmetic: [], rounding: "", notes: [] }, first);
    }
  }

  tell(made, first) {
    say(byId("working-title"), `Row ${made.row ?? ""}: ${made.title}`);
    const lines = (texts, of) => texts.map((text) => make("p", { class: of }, make("bdi", {}, text)));
    byId("working-steps").replaceChildren(
      ...lines([made.formula], "formula"),
      make("ul", {}, ...made.put_in.map((put) => make("li", {}, make("b", {}, put.is), " ", make("bdi", {}, put.words)))),
      ...lines(made.arithmetic, "formula"), ...lines([made.rounding], "hint"), ...lines(made.notes, "hint"),
    );
    byId("working").hidden = false;
    if (first) this.open.cell.scrollIntoView({ block: "nearest" });
  }

  close(back = false) {
    const cell = this.open?.cell;
    this.mark(false);
    this.open = null;
    byId("working").hidden = true;
    if (back && cell?.isConnected) cell.focus();
  }
}
