// Rows of a table of the plan: stops, winds, the compass card. A row that is being made stands here
// alone until it has what a row must have; then it joins the plan in one step.

import { button, make, say } from "./dom.js";
import { Field } from "./fields.js";

export class Rows {
  constructor(spec, { list, become, offered, named = (_, index) => index + 1 }) {
    Object.assign(this, { spec, list, become, offered, named, draft: null, shown: [] });
    this.body = make("div", { class: "rows" });
    this.fault = make("p", { class: "fault", hidden: true });
    this.adding = button(spec.add, () => this.begin());
    this.invented = make("p", { class: "invented", hidden: true }, "invented");
    this.node = make("div", { class: "table-rows", "data-table": spec.table }, this.invented, this.body, this.fault,
      make("p", { class: "acts" }, this.adding));
  }

  begin() {
    this.draft ||= {};
    this.fill(this.fuel);
    this.shown[this.list().length].fields[0].input.focus();
  }

  row(index) {
    return this.list()[index] ?? this.draft ?? {};
  }

  missing(row) {
    const { needed, fields } = this.spec;
    const lacking = needed.filter((keys) => !keys.some((key) => row[key] !== undefined));
    return lacking.map((keys) => fields.find(({ ways }) => ways.some(({ key }) => keys.includes(key)))?.label || keys[0]);
  }

  change(index, row, tag) {
    const rows = this.list();
    if (index < rows.length) return this.become(rows.map((each, at) => (at === index ? row : each)), tag);
    this.draft = row;
    if (this.missing(row).length) return this.fill(this.fuel);
    this.draft = null;
    return this.become([...rows, row], tag);
  }

  remove(index) {
    const rows = this.list();
    if (index < rows.length) this.become(rows.filter((_, at) => at !== index));
    else this.draft = null;
    this.fill(this.fuel);
    this.adding.focus();
  }

  fill(fuel) {
    this.fuel = fuel;
    const rows = this.list(), count = rows.length + (this.draft ? 1 : 0);
    while (this.shown.length > count) this.shown.pop().node.remove();
    while (this.shown.length < count) this.shown.push(this.made(this.shown.length));
    this.shown.forEach(({ node, fields, lacks }, index) => {
      node.setAttribute("aria-label", `${this.spec.called} ${index + 1}`);
      for (const field of fields) {
        field.told = `${this.spec.table}.${this.named(rows[index], index)}`;
        field.fill(fuel);
      }
      lacks.hidden = index < rows.length;
      say(lacks, lacks.hidden ? "" : `Not in the plan yet. Missing: ${this.missing(this.draft).join(", ")}.`);
    });
  }

  made(index) {
    const { spec } = this, at = `${spec.table}.${index}`;
    const fields = spec.fields.map((each) => new Field(each, {
      at, keys: () => this.row(index), become: (row, tag) => this.change(index, row, tag), offered: this.offered,
    }));
    const lacks = make("p", { class: "hint", hidden: true });
    const node = make("div", { class: "form-row", role: "group" }, ...fields.map((field) => field.node),
      button("remove", () => this.remove(index), `Remove ${spec.called} ${index + 1}`), lacks);
    this.body.append(node);
    return { node, fields, lacks };
  }

  fields() {
    return this.shown.flatMap(({ fields }) => fields);
  }

  // Says what is wrong with a row or the whole table, where no single field is.
  tell(faults) {
    const { table } = this.spec, known = [table, ...this.shown.map((_, index) => `${table}.${index + 1}`)];
    const words = known.map((key) => faults.get(key)).filter(Boolean);
    say(this.fault, words.join("; "));
    this.fault.hidden = !words.length;
    return words.length > 0;
  }
}
