// What a plan says of single legs. The page keeps it by the two ends of the leg; which number that is
// on the route, and what has no leg there, the program says.

import { button, byId, make, say } from "./dom.js";
import { Field } from "./fields.js";

export const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);

// One altitude a leg: where a leg comes or goes, its altitude does too.
export function heights(given, edit) {
  const all = Array.isArray(given) ? [...given] : null;
  if (!all || !edit || !all.length) return given;
  const at = Math.max(0, Math.min((edit.index ?? Infinity) - (edit.kind === "remove" ? 0 : 1), all.length - 1));
  if (edit.kind === "insert" || edit.kind === "write-in") all.splice(at, 0, all[at]);
  else if (edit.kind === "remove" && all.length > 1) all.splice(at, 1);
  else if (edit.kind === "reverse") all.reverse();
  return all;
}

export const rowsOf = (value) => (Array.isArray(value.leg) ? value.leg.filter((row) => row && typeof row === "object") : []);

// What is noted for one leg.
export function noteOf(value, between) {
  return rowsOf(value).find((row) => same(row.between, between)) || { between };
}

// The plan with a note changed; one that says nothing more is taken out.
export function withNote(value, row) {
  const rows = rowsOf(value), says = Object.keys(row).length > 1, at = rows.findIndex((each) => same(each.between, row.between));
  const next = at < 0 ? [...rows, row] : rows.map((each, index) => (index === at ? row : each));
  const { leg, ...rest } = value, kept = says ? next : next.filter((each) => !same(each.between, row.between));
  return kept.length ? { ...rest, leg: kept } : rest;
}

// What is noted, and of which leg; what has no leg on this route is kept aside until it is forgotten.
export function tellNotes({ noted, aside }, plan) {
  const list = byId("leg-notes"), text = JSON.stringify([noted, aside]);
  if (list.dataset.shown === text) return;
  list.dataset.shown = text;
  const lines = aside.map(({ between, text: said }) => make("li", { class: "aside" }, "Set aside, because it is not a leg of this route: ",
    make("bdi", {}, said), " ", button("Discard it", () => plan().become(withNote(plan().value, { between })), `Discard ${said}`)));
  list.replaceChildren(...noted.map((said) => make("li", {}, make("bdi", {}, said))), ...lines);
}

// The fields of every leg, made when the leg is first opened: a long route has many.
export class SingleLegs {
  constructor(spec, plan) {
    Object.assign(this, { spec, plan, shown: [] });
    this.node = make("div");
  }

  know({ legs }) {
    const before = this.shown.length, open = this.shown.filter(({ node }) => node.open).map(({ between }) => between);
    while (this.shown.length > legs.length) this.shown.pop().node.remove();
    while (this.shown.length < legs.length) this.shown.push(this.leg(this.shown.length));
    this.shown.forEach((leg, index) => Object.assign(leg, legs[index]));
    if (before === legs.length) return;
    for (const { node, between } of this.shown) node.open = open.some((each) => same(each, between));
  }

  leg(index) {
    const summary = make("summary"), node = make("details", { class: "inner" }, summary);
    node.addEventListener("toggle", () => node.open && this.open(index));
    this.node.append(node);
    return { node, summary, fields: [] };
  }

  open(index) {
    const leg = this.shown[index];
    if (!leg || leg.fields.length) return;
    const at = `leg.${index + 1}`, keys = () => noteOf(this.plan().value, leg.between);
    const become = (row, tag) => this.plan().become(withNote(this.plan().value, row), tag);
    leg.fields = this.spec.fields.map((each) => new Field(each, { at, keys, become }));
    leg.node.append(make("div", { class: "settings" }, ...leg.fields.map((field) => field.node)));
    this.fill(this.fuel);
    this.tell(this.faults);
  }

  fill(fuel) {
    this.fuel = fuel;
    for (const { summary, title, fields, between } of this.shown) {
      for (const field of fields) field.fill(fuel);
      const count = Object.keys(noteOf(this.plan().value, between)).length - 1;
      say(summary, count ? `${title} (${count})` : title);
    }
  }

  list() {
    return rowsOf(this.plan().value);
  }

  fields() {
    return this.shown.flatMap(({ fields }) => fields);
  }

  // The leg that a fault is about is opened, so that there is a field to tell it at.
  reach(key) {
    const [table, number] = key.split(".");
    if (table === "leg" && this.shown[number - 1]) this.open(number - 1);
  }

  tell(faults = new Map()) {
    this.faults = faults;
    for (const field of this.fields()) field.tell(faults);
    return [...faults.keys()].some((key) => key.startsWith("leg."));
  }
}
