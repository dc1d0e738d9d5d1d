// The line the route is typed on: suggestions under it, faults marked under the wrong words.

import { get } from "./ask.js";
import { button, byId, later, letters, make, replaced } from "./dom.js";

const LEAST_TYPED = 2;
const PATIENCE = 900;

export class RouteLine {
  // A word is not ended while it is being typed: what it may come to is not plotted before it is ended, by a
  // space or by leaving it, by a choice, by Enter or by a pause.
  constructor(typed, ended, near) {
    Object.assign(this, { typed, ended, near, typing: false, pause: 0, field: byId("route"), echo: document.querySelector(".echo"), list: byId("suggestions") });
    this.found = [];
    this.at = -1;
    this.asked = 0;
    this.look = later(() => this.suggest(), 80);
    this.field.addEventListener("input", (event) => {
      this.field.value = this.field.value.replace(/[\r\n]+/g, " ");
      this.mark([]);
      this.shut();
      this.typing = /^(insert(Composition)?Text|delete)/.test(event.inputType || "") && this.within();
      if (this.typing) this.pause = setTimeout(() => this.end(), PATIENCE);
      this.typed(this.field.value);
      this.look();
    });
    this.field.addEventListener("keydown", (event) => this.key(event));
    this.field.addEventListener("blur", () => {
      this.close();
      this.end();
    });
    this.list.addEventListener("pointerdown", (event) => event.preventDefault());
  }

  show(text) {
    if (this.field.value !== text) {
      this.field.value = text;
      this.shut();
    }
    this.mark([]);
  }

  // Whether the caret stands in or behind a word, or within quotes that are not closed.
  within() {
    return Boolean(this.word().text) || /(^|\s)(["'])(?:(?!\2).)*$/.test(this.field.value.slice(0, this.field.selectionStart));
  }

  shut() {
    clearTimeout(this.pause);
    this.typing = false;
  }

  end() {
    const typing = this.typing;
    this.shut();
    if (typing) this.ended();
  }

  // The route again under the field, wrong words marked; it gives the field its height too.
  mark(stretches) {
    const all = letters(this.field.value), parts = [];
    let at = 0;
    for (const { start, end } of [...stretches].sort((a, b) => a.start - b.start)) {
      if (start < at) continue;
      parts.push(all.slice(at, start).join(""), make("mark", {}, all.slice(start, end).join("")));
      at = end;
    }
    this.echo.replaceChildren(...parts, all.slice(at).join("") + "​");
  }

  // Every fault with what to type instead, each a button that types it.
  faults(error) {
    const all = error ? error.all || [error] : [];
    const faults = this.typing ? all.filter(({ code }) => code !== "too-few-points") : all; // one may be coming
    const text = this.field.value;
    const here = faults.filter((fault) => fault.where?.text && text.startsWith(fault.where.text));
    this.mark(here.filter((fault) => fault.code !== "too-few-points").map((fault) => fault.where));
    this.field.setAttribute("aria-invalid", here.length ? "true" : "false");
    byId("faults").replaceChildren(...faults.map((fault) => this.fault(fault, here.includes(fault))));
  }

  fault(fault, here) {
    const item = make("li", {}, make("span", {}, fault.message));
    const offers = here ? fault.candidates.filter((each) => fault.message.includes(each)) : [];
    for (const offer of offers) {
      item.append(" ", button(offer, () => {
        this.write(replaced(this.field.value, fault.where.start, fault.where.end, offer));
      }, `Type ${offer} instead`));
    }
    for (const { type, said, start, end } of here ? fault.offers || [] : []) {
      item.append(make("br"), button(said, () => this.write(replaced(this.field.value, start, end, type)), `Type ${said} instead`));
    }
    return item;
  }

  write(text) {
    this.field.value = text;
    this.field.focus();
    this.mark([]);
    this.shut();
    this.typed(text, true);
    this.close();
  }

  // The word the caret stands in or behind.
  word() {
    const text = this.field.value, caret = this.field.selectionStart;
    const start = text.slice(0, caret).search(/\S*$/), end = caret + text.slice(caret).search(/\s|$/);
    return { start, end, text: text.slice(start, end) };
  }

  // Up to three words that stand before it, for a name of several; none of a name in quotes.
  before(word) {
    const open = this.field.value.slice(0, word.start).split(/["']/).pop();
    return open.split(/\s+/).filter((each) => each && !/[="']/.test(each)).slice(-3);
  }

  async suggest() {
    const word = this.word(), asked = ++this.asked;
    if (document.activeElement !== this.field || word.text.length < LEAST_TYPED || word.text.includes("=")) return this.close();
    let found = [];
    try {
      found = await get(`/api/find?${new URLSearchParams({ text: word.text, before: this.before(word).join(" "), ...this.near(word) })}`);
    } catch {
      return this.close();
    }
    if (asked === this.asked && document.activeElement === this.field) this.open(found, word.text);
    return undefined;
  }

  open(found, text) {
    const exact = text.length > 3 && found[0]?.type === text.toUpperCase(); // it stands there already
    if (!found.length || exact) return this.close();
    this.found = found;
    this.at = -1;
    this.list.replaceChildren(...found.map((place, index) => make(
      "li", { role: "option", id: `place-${index}`, "aria-selected": "false", on: { click: () => this.choose(index) } },
      make("b", {}, place.type), " ", make("bdi", {}, place.said),
    )));
    this.list.hidden = false;
    this.field.setAttribute("aria-expanded", "true");
    return undefined;
  }

  close() {
    this.asked += 1;
    this.found = [];
    this.list.hidden = true;
    this.field.setAttribute("aria-expanded", "false");
    this.field.removeAttribute("aria-activedescendant");
  }

  choose(index) {
    const word = this.word(), text = this.field.value, { type: typed, taken } = this.found[index];
    const rest = text.slice(word.end).trimStart();
    const start = text.slice(0, word.end).search(new RegExp(`(\\S+\\s+){${taken - 1}}\\S*$`));
    const before = text.slice(0, start) + typed + " ";
    this.write(before + rest);
    this.field.setSelectionRange(before.length, before.length);
  }

  key(event) {
    const open = !this.list.hidden;
    if (event.key === "Enter") {
      event.preventDefault();
      if (open && this.at >= 0) this.choose(this.at);
      else this.end();
    } else if (event.key === "Tab" && open && this.at >= 0) {
      event.preventDefault();
      this.choose(this.at);
    } else if (event.key === "Escape" && open) {
      event.stopPropagation();
      this.close();
    } else if (open && (event.key === "ArrowDown" || event.key === "ArrowUp")) {
      event.preventDefault();
      this.move(event.key === "ArrowDown" ? 1 : -1);
    }
  }

  move(step) {
    const items = [...this.list.children];
    this.at = (this.at + step + items.length + (this.at < 0 && step < 0 ? 1 : 0)) % items.length;
    items.forEach((item, index) => item.setAttribute("aria-selected", String(index === this.at)));
    items[this.at].scrollIntoView({ block: "nearest" });
    this.field.setAttribute("aria-activedescendant", items[this.at].id);
  }

  // The caret behind a point, ready for another to be typed after it.
  typeAfter(offset) {
    const text = this.field.value;
    const before = letters(text).slice(0, offset).join(""), after = text.slice(before.length);
    this.field.value = `${before} ${after}`;
    this.field.focus();
    this.field.setSelectionRange(before.length + 1, before.length + 1);
    this.mark([]);
  }
}
