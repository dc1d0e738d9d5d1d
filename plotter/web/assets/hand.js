// What was measured by hand on the chart, leg by leg, and which mistake would explain it.

import { Fault, post } from "./ask.js";
import { byId, later, make, say } from "./dom.js";
import { figure, tellAt } from "./figures.js";
import { noteOf, same, withNote } from "./legs.js";

const A_COURSE = /^(\d{1,3}(?:\.\d{1,3})?)\s*°?\s*([MT])$/i;
const RIGHT = new Set(["read_right", "own_plotter"]);
const GRADES = { fits: "likely", "could also be": "could be", "nothing fits: measure again": "measure again" };

// What a reading comes to: keys of its leg in the plan file, or what is wrong with it.
function distance(typed) {
  const { value, text, wrong } = figure(typed, { example: "26.4" });
  if (wrong || value > 0 || value === undefined) return { wrong, said: text, keys: value > 0 ? { measured_nm: value } : {} };
  return { wrong: `${text} is no distance: write one above zero, as 26.4`, keys: {} };
}

function course(typed) {
  const text = typed.trim(), [, degrees, letter] = A_COURSE.exec(text) || [];
  if (!text) return { keys: {} };
  if (letter && Number(degrees) <= 360) {
    const north = letter.toUpperCase() === "M" ? "magnetic" : "true";
    return { said: text, keys: { measured_course_deg: Number(degrees), measured_course_reference: north } };
  }
  if (letter) return { wrong: `${text} is no course: write 000 to 360 and its north, as 093M`, keys: {} };
  const bare = text.replace(/\s*°$/, ""), asked = /^\d{1,3}(\.\d{1,3})?$/.test(bare) ? bare : null;
  return { wrong: asked
    ? `${text} does not say from which north: write ${asked}T for a true course, ${asked}M for a magnetic one`
    : `“${text}” is not a course: write degrees and their north, as 092T or 093M`, keys: {} };
}

const READ = { nm: distance, course };
const KEYS = { nm: ["measured_nm"], course: ["measured_course_deg", "measured_course_reference"] };

export class Hand {
  constructor(plan) {
    Object.assign(this, { plan, asked: 0, points: [], legs: [] });
    this.ask = later(() => this.send(), 150);
    byId("hand-legs").addEventListener("input", (event) => this.keep(event.target));
    byId("hand-student").addEventListener("change", () => this.remember({ student: byId("hand-student").checked }));
  }

  // One line a leg; what was measured is in the plan, beside it how it was typed: the digits say how
  // finely it was read, and what cannot be read stays until it is put right.
  show(words, legs) {
    Object.assign(this, { points: words, legs });
    const count = Math.max(0, words.length - 1), box = byId("hand-legs");
    byId("hand").hidden = !count;
    while (box.children.length > count) box.lastChild.remove();
    while (box.children.length < count) box.append(this.line(box.children.length + 1));
    [...box.children].forEach((line, index) => {
      say(line.querySelector("bdi"), `${words[index]} to ${words[index + 1]}`);
      for (const field of line.querySelectorAll("input")) this.fill(field, legs[index].between);
    });
    byId("hand-student").checked = this.kept().student === true;
    this.ask();
  }

  line(number) {
    const field = (kind, label, unit) => {
      const id = `hand-${number}-${kind}`, fault = make("span", { class: "fault", id, hidden: true });
      return [make("label", {}, label, " ", make("span", { class: "unit" }, make("input", {
        "data-leg": number, "data-hand": kind, size: 6, autocomplete: "off", "aria-describedby": id, inputmode: kind === "nm" ? "decimal" : null,
      }), unit)), fault];
    };
    return make("div", { class: "hand-row", role: "group", "aria-label": `Leg ${number}` },
      make("span", { class: "unit" }, `${number}  `, make("bdi")), ...field("nm", "Distance", " NM"), ...field("course", "Course, as 093M or 092T", ""));
  }

  kept() {
    return this.plan().value.hand || {};
  }

  rows() {
    const { typed } = this.kept();
    return Array.isArray(typed) ? typed.filter((row) => row && typeof row === "object") : [];
  }

  typed(between) {
    return this.rows().find((row) => same(row.between, between)) || { between };
  }

  fill(field, between) {
    const kind = field.dataset.hand, text = this.typed(between)[kind] ?? "", note = noteOf(this.plan().value, between);
    const { keys } = READ[kind](text), holds = KEYS[kind].every((key) => keys[key] === note[key]);
    const shown = holds ? text : this.noted(kind, note);
    if (document.activeElement !== field && field.value !== shown) field.value = shown;
    this.tellField(field);
  }

  noted(kind, { measured_nm: nm, measured_course_deg: degrees, measured_course_reference: north }) {
    if (kind === "nm") return String(nm ?? "");
    return degrees === undefined ? "" : String(degrees).padStart(3, "0") + (north === "magnetic" ? "M" : "T");
  }

  tellField(field) {
    tellAt(field, byId(field.getAttribute("aria-describedby")), READ[field.dataset.hand](field.value).wrong || "");
  }

  // A reading is a key of its leg in the plan file: compared there, never used.
  keep(field) {
    const number = Number(field.dataset.leg), kind = field.dataset.hand, { between } = this.legs[number - 1];
    const row = { ...noteOf(this.plan().value, between) };
    for (const key of KEYS[kind]) delete row[key];
    Object.assign(row, READ[kind](field.value).keys);
    const texts = { ...this.typed(between), [kind]: field.value.trim() };
    const others = this.rows().filter((each) => !same(each.between, between));
    const typed = texts.nm || texts.course ? [...others, texts] : others;
    this.plan().become({ ...withNote(this.plan().value, row), hand: { ...this.kept(), typed } }, `leg.${number}.${kind}`);
    this.tellField(field);
    this.ask();
  }

  remember(keys) {
    this.plan().become({ ...this.plan().value, hand: { ...this.kept(), ...keys } });
    this.ask();
  }

  readings() {
    return [...byId("hand-legs").children].flatMap((line, index) => {
      const [nm, read] = [...line.querySelectorAll("input")].map((field) => READ[field.dataset.hand](field.value));
      const reading = nm.wrong ? null : nm.said, direction = read.wrong ? null : read.said;
      if (!reading && !direction) return [];
      return [{ start: this.points[index], end: this.points[index + 1], reading: reading || null, course: direction || null }];
    });
  }

  async send() {
    const asked = ++this.asked, readings = this.readings();
    if (!readings.length) return byId("hand-answer").replaceChildren();
    const body = { readings, student: byId("hand-student").checked, date: this.plan().value.flight.date, chart_middle: this.plan().value.flight.chart_middle ?? null };
    try {
      const made = await (await post("/api/measure", body)).json();
      if (asked === this.asked) this.tell(made, readings);
    } catch (fault) {
      if (!(fault instanceof Fault)) throw fault;
      if (asked === this.asked) byId("hand-answer").replaceChildren(make("p", { class: "wrong" }, fault.message));
    }
    return undefined;
  }

  // Where a reading is right that is all there is to say.
  tell(made, readings) {
    const parts = [["Distance", made.distance, "reading"], ["Course", made.course, "course"]].filter(([, answer]) => answer);
    byId("hand-answer").replaceChildren(...parts.flatMap(([title, answer, kind]) => {
      const [first] = answer.explanations, right = RIGHT.has(first.code) && first.grade === "fits";
      const worth = right ? [first] : answer.explanations.filter((each) => each === first || each.code !== "none");
      const next = answer.next_measurement ? [make("p", {}, `Next: ${answer.next_measurement}`)] : [];
      const read = readings.map((each) => each[kind]).filter(Boolean);
      return [make("h3", {}, `${title}: ${read.length === 1 ? `${read[0]} ` : ""}${answer.heading}`), make("ul", {}, ...worth.map((each) => make(
        "li", {}, ...(right ? [] : [make("b", {}, GRADES[each.grade]), " "]), make("bdi", {}, each.text),
      ))), ...next];
    }));
  }
}
