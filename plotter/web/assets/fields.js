// One field of a form: a figure or word of a table of the plan file, as the program describes it.

import { make, say } from "./dom.js";
import { figure, tellAt } from "./figures.js";

let made = 0;
const EXAMPLES = { ft: "4500", kt: "110", "ft/min": "500", min: "30" };
const SHOWN = 24;
const ASKED = { point: "choose a point", turning: "choose a turning point", caution: "choose a caution" };

export class Field {
  // `keys` gives the table as it is, `become` takes it changed; `at` is where it lies in the plan and
  // `told` what faults call that; `offered` gives what may be chosen where the plan decides it.
  constructor(spec, { at, told = at, keys, become, offered }) {
    Object.assign(this, { spec, at, told, keys, become, offered, chosen: spec.ways[0].called });
    this.fault = make("span", { class: "fault", id: `fault-${(made += 1)}`, hidden: true });
    this.input = this.control();
    this.input.setAttribute("aria-describedby", this.fault.id);
    this.input.addEventListener("input", () => this.typed());
    this.unit = make("span", {}, spec.unit && spec.unit !== "fuel" ? spec.unit : "");
    const name = spec.kind === "tick" ? [this.input, ` ${spec.label}`] : [`${spec.label} `, make("span", { class: "unit" }, this.input, " ", this.unit)];
    const label = make("label", { class: spec.kind === "tick" ? "tick-box" : null, title: spec.says || null }, ...name);
    this.way = this.choice();
    this.invented = make("span", { class: "invented", hidden: true }, "invented");
    const pair = make("div", { class: "pair" }, label, ...(this.way ? [this.way] : []), this.invented);
    this.there = make("span", { class: "hint", hidden: true });
    this.node = make("div", { class: `field ${spec.kind}` }, pair, this.there, this.fault);
  }

  control() {
    const { kind, choices } = this.spec, plain = { autocomplete: "off" };
    if (kind === "tick") return make("input", { type: "checkbox" });
    if (kind === "lines") return make("textarea", { ...plain, rows: 5, spellcheck: "false" });
    if (kind === "choice") return make("select", {}, ...choices.map((word) => make("option", {}, word)));
    if (ASKED[kind]) return make("select");
    return make("input", kind === "number" ? { ...plain, inputmode: "decimal", size: 6 } : { ...plain, size: 18 });
  }

  // Where a figure may be written in more than one way: which of them.
  choice() {
    const names = [...new Set(this.spec.ways.map(({ called }) => called).filter(Boolean))];
    if (names.length < 2) return null;
    const select = make("select", { "aria-label": `${this.spec.label}: ${names.join(" or ")}` }, ...names.map((name) => make("option", {}, name)));
    select.addEventListener("input", () => {
      const value = this.value();
      this.chosen = select.value;
      this.write(value);
    });
    return select;
  }

  // The way in which the figure is written, or is going to be.
  written() {
    const keys = this.keys() || {};
    const has = ({ key, also }) => keys[key] !== undefined && Object.entries(also).every(([name, word]) => keys[name] === word);
    return this.spec.ways.find(has);
  }

  value() {
    const way = this.written();
    return way ? this.keys()[way.key] : undefined;
  }

  typed() {
    this.write(this.parsed());
  }

  parsed() {
    const { kind } = this.spec, text = this.input.value.trim();
    if (kind === "tick") return this.input.checked === this.spec.usual ? undefined : this.input.checked;
    if (text === "") return undefined;
    if (kind === "number") return this.figure().value ?? text;
    if (kind === "words" && /[\s,]/.test(text)) return text.split(/[\s,]+/);
    return text;
  }

  // What stands in a field of figures, read as one.
  figure() {
    const { unit } = this.spec;
    return figure(this.input.value, { whole: unit === "ft", example: EXAMPLES[unit] || "8.5" });
  }

  write(value) {
    const next = { ...this.keys() }, { ways } = this.spec;
    for (const { key, also } of ways) for (const each of [key, ...Object.keys(also)]) delete next[each];
    const way = Array.isArray(value) ? ways[ways.length - 1] : ways.find(({ called }) => called === this.chosen) || ways[0];
    if (value !== undefined) Object.assign(next, { [way.key]: value }, way.also);
    this.become(next, `${this.at}.${ways[0].key}`);
  }

  fill(fuel) {
    const way = this.written(), { spec, input } = this;
    if (way) this.chosen = way.called;
    if (this.way && this.way.value !== this.chosen) this.way.value = this.chosen;
    const key = (way || spec.ways.find(({ called }) => called === this.chosen) || spec.ways[0]).key;
    input.setAttribute("data-key", `${this.at}.${key}`);
    if (spec.unit === "fuel") say(this.unit, fuel || "");
    const value = this.value();
    if (spec.kind === "tick") {
      input.checked = value ?? spec.usual;
      return;
    }
    if (ASKED[spec.kind] || spec.kind === "choice") this.options(value);
    const text = [value ?? (spec.kind === "choice" ? spec.usual : null) ?? ""].flat().join(" ");
    const same = JSON.stringify(this.parsed()) === JSON.stringify(value);
    if (input.value !== text && !(document.activeElement === input && same)) input.value = text;
  }

  // What may be chosen, and what stands there though it may not.
  options(value) {
    const { kind, choices, blank } = this.spec;
    const all = kind === "choice" ? [...(blank ? [["", blank]] : []), ...choices.map((word) => [word, word])] : [["", ASKED[kind]], ...this.offered(kind)];
    if (value !== undefined && !all.some(([word]) => word === value)) all.push([String(value), String(value)]);
    const shown = JSON.stringify(all);
    if (shown === this.shown) return;
    this.shown = shown;
    this.input.replaceChildren(...all.map(([word, words]) => make("option", { value: word }, words)));
  }

  // The stations of the forecast, for the field that asks for one of them.
  know({ stations }) {
    if (this.spec.kind !== "words") return;
    this.there.hidden = !stations.length;
    const more = stations.length > SHOWN ? ` and ${stations.length - SHOWN} more` : "";
    say(this.there, `In the forecast: ${stations.slice(0, SHOWN).join(", ")}${more}`);
  }

  names() {
    return this.spec.ways.flatMap(({ key, also }) => [key, ...Object.keys(also)]).map((key) => `${this.told}.${key}`);
  }

  // Says at the field what is wrong with it; answers whether anything is.
  tell(faults) {
    const none = this.spec.kind === "number" && typeof this.value() === "string";
    const said = this.names().map((name) => faults.get(name)).filter(Boolean);
    const words = none ? this.figure().wrong || "" : [...new Set(said)].join("; ");
    tellAt(this.input, this.fault, words);
    return Boolean(words);
  }
}
