// The forms for all that a plan file holds, built when they are first opened: which there are, and
// which fields they have, the program says.

import { get } from "./ask.js";
import { button, byId, make, say } from "./dom.js";
import { Field } from "./fields.js";
import { isInvented } from "./invented.js";
import { SingleLegs } from "./legs.js";
import { mend } from "./mends.js";
import { Rows } from "./rows.js";

const KEPT = new Set(["flight", "aircraft"]); // tables that stay though nothing is left in them

// A table of the plan by its dotted name, and the plan with another in its place.
function tableAt(value, path) {
  return path.split(".").reduce((inside, key) => inside?.[key], value);
}

function withTable(value, path, table) {
  const [first, ...rest] = path.split(".");
  if (rest.length) return { ...value, [first]: withTable(value[first] || {}, rest.join("."), table) };
  const { [first]: old, ...others } = value;
  const empty = !KEPT.has(first) && (Array.isArray(table) ? !table.length : !Object.keys(table).length);
  return empty ? others : { ...value, [first]: table };
}

export class Forms {
  constructor(plan) {
    Object.assign(this, { plan, panels: [], known: { legs: [], words: [], cautions: [], stations: [] }, wrong: [], building: null });
    byId("flight").addEventListener("toggle", () => byId("flight").open && this.build());
  }

  build() {
    this.building ||= get("/api/plan/forms").then((described) => {
      this.panels = described.forms.map((form) => this.panel(form));
      byId("forms").replaceChildren(...this.panels.map(({ node }) => node));
      this.know(this.known);
      this.fill();
      this.faults(this.wrong);
    }, (fault) => {
      this.building = null;
      byId("forms").replaceChildren(make("p", { class: "wrong" }, fault.message));
    });
    return this.building;
  }

  panel(form) {
    const fields = form.fields.map((spec) => new Field(spec, {
      at: spec.table, keys: () => tableAt(this.plan().value, spec.table),
      become: (table, tag) => this.plan().become(withTable(this.plan().value, spec.table, table), tag),
    }));
    const rows = form.rows.map((spec) => this.rows(spec)), summary = make("summary");
    const parts = [
      ...(form.hint ? [make("p", { class: "hint" }, form.hint)] : []),
      ...(fields.length ? [make("div", { class: "settings" }, ...fields.map((field) => field.node))] : []),
      ...rows.map((each) => each.node),
    ];
    const node = form.title
      ? make("details", { class: "inner", id: `form-${form.name}` }, summary, ...parts)
      : make("div", { id: `form-${form.name}` }, ...parts);
    return { title: form.title, fields, rows, node, summary, wrong: 0 };
  }

  rows(spec) {
    if (spec.table === "leg") return new SingleLegs(spec, this.plan);
    const offered = (kind) => this.offered(kind), { plan } = this;
    if (spec.table === "quiet") {
      return new Rows(spec, {
        offered, named: (row, index) => row?.code ?? index,
        list: () => Object.entries(plan().value.quiet || {}).map(([code, reason]) => ({ code, reason })),
        become: (all, tag) => plan().become(withTable(plan().value, "quiet",
          Object.fromEntries(all.filter(({ code }) => code).map(({ code, reason }) => [code, reason ?? ""]))), tag),
      });
    }
    return new Rows(spec, {
      offered,
      list: () => [tableAt(plan().value, spec.table)].flat().filter((row) => row && typeof row === "object"),
      become: (all, tag) => plan().become(withTable(plan().value, spec.table, all), tag),
    });
  }

  // What the route and its cautions offer to choose from.
  offered(kind) {
    const { words, cautions } = this.known, points = words.map((word) => [word.split("=")[0], word.split("=")[0]]);
    if (kind === "point") return points;
    if (kind === "turning") return points.slice(1, -1);
    return cautions.filter(({ rank, code }) => rank === "CHECK" && code !== "invented").map(({ code, text }) => [code, `${code}: ${text.slice(0, 60)}`]);
  }

  know(known) {
    this.known = { ...this.known, ...known };
    for (const { fields, rows } of this.panels) for (const each of [...fields, ...rows]) each.know?.(this.known);
    this.fill();
  }

  fill() {
    const fuel = this.plan().value.aircraft?.fuel_unit;
    for (const { fields, rows } of this.panels) for (const each of [...fields, ...rows]) each.fill(fuel);
    this.invented();
    this.heads();
  }

  // Marks what is still invented.
  invented() {
    const { value } = this.plan(), is = (key) => isInvented(value, key);
    for (const panel of this.panels) {
      for (const field of panel.fields) field.invented.hidden = field.value() === undefined || !field.names().some(is);
      for (const rows of panel.rows) if (rows.invented) rows.invented.hidden = !rows.list().length || !is(rows.spec.table);
      panel.invented = [...panel.fields, ...panel.rows].some((each) => each.invented && !each.invented.hidden);
    }
  }

  // How much is set in each form, so that a shut one says whether there is anything in it.
  heads() {
    for (const { title, fields, rows, summary, wrong, invented } of this.panels) {
      const count = fields.filter((field) => field.value() !== undefined).length + rows.reduce((sum, each) => sum + each.list().length, 0);
      say(summary, `${title}${count ? ` (${count})` : ""}${invented ? ", invented" : ""}${wrong ? ": something to put right" : ""}`);
    }
  }

  // Each fault stands at its field; above, all of them lead there.
  faults(all) {
    this.wrong = all;
    const faults = new Map();
    for (const { key, words } of all) faults.set(key, faults.has(key) ? `${faults.get(key)}; ${words}` : words);
    for (const panel of this.panels) {
      const told = [...panel.fields, ...panel.rows.flatMap((rows) => (rows.reach ? [] : rows.fields())), ...panel.rows].map((each) => each.tell(faults));
      panel.wrong = told.filter(Boolean).length;
    }
    for (const field of document.querySelectorAll("[data-plan]")) this.mark(field, faults.has(field.dataset.plan));
    this.heads();
    const list = byId("log-faults"), shown = JSON.stringify([all, this.known.words]);
    if (list.dataset.shown === shown) return;
    list.dataset.shown = shown;
    list.replaceChildren(...all.map(({ key, title, words }) => make(
      "li", {}, ...(title ? [make("b", {}, title), ": "] : []), make("bdi", {}, words), " ",
      ...(title ? [button("Go to it", () => this.goTo(key), `Go to ${title}`)] : []), ...this.mends(key),
    )));
  }

  mends(key) {
    const now = () => mend(key, this.plan().value, this.known), found = now();
    return found ? [" ", button(found.text, () => now() && this.plan().become(now().value))] : [];
  }

  // A field of the page's own, which may be marked for other reasons too.
  mark(field, wrong) {
    if (wrong || field.dataset.marked) field.setAttribute("aria-invalid", String(wrong));
    if (wrong) field.dataset.marked = "true";
    else delete field.dataset.marked;
  }

  async goTo(key) {
    byId("flight").open = true;
    await this.build();
    for (const { rows } of this.panels) for (const each of rows) each.reach?.(key);
    const fields = this.panels.flatMap(({ fields: own, rows }) => [...own, ...rows.flatMap((each) => each.fields())]);
    const rows = this.panels.flatMap(({ rows: own }) => own).find(({ spec }) => `${key}.`.startsWith(`${spec.table}.`));
    const found = fields.find((field) => field.names().includes(key))?.input || rows?.node.querySelector("input, select, button");
    const target = found || document.querySelector(`[data-plan="${CSS.escape(key)}"]`) || byId("flight-title");
    for (let node = target; node; node = node.parentElement) if (node.tagName === "DETAILS") node.open = true;
    target.focus();
    target.scrollIntoView({ block: "center" });
  }
}
