// What was measured by hand on the chart, leg by leg, and which mistake would explain it.

import { Fault, post } from "./ask.js";
import { byId, later, make, say } from "./dom.js";
import { noteOf, withNote } from "./legs.js";

export class Hand {
  constructor(plan) {
    Object.assign(this, { plan, asked: 0, points: [], legs: [] });
    this.ask = later(() => this.send(), 150);
    byId("hand-legs").addEventListener("input", (event) => this.keep(event.target));
    byId("hand-student").addEventListener("change", () => this.ask());
  }

  // One line a leg; what was measured comes from the plan, its digits from what was typed.
  show(words, legs) {
    Object.assign(this, { points: words, legs });
    const count = Math.max(0, words.length - 1), box = byId("hand-legs");
    byId("hand").hidden = !count;
    while (box.children.length > count) box.lastChild.remove();
    while (box.children.length < count) box.append(this.line(box.children.length + 1));
    [...box.children].forEach((line, index) => {
      say(line.querySelector("bdi"), `${words[index]} to ${words[index + 1]}`);
      const kept = noteOf(this.plan().value, legs[index].between);
      for (const field of line.querySelectorAll("input")) this.fill(field, kept);
    });
    this.ask();
  }

  line(number) {
    const field = (kind, label, unit, size) => make("label", {}, label, " ", make("span", { class: "unit" },
      make("input", { "data-leg": number, "data-hand": kind, size, autocomplete: "off", inputmode: kind === "nm" ? "decimal" : null }), unit));
    return make("div", { class: "hand-row", role: "group", "aria-label": `Leg ${number}` },
      make("span", { class: "unit" }, `${number}  `, make("bdi")), field("nm", "Distance", " NM", 6), field("course", "Course, as 093M or 092T", "", 6));
  }

  fill(field, kept) {
    const { measured_nm: nm, measured_course_deg: course, measured_course_reference: north } = kept;
    const letter = north === "magnetic" ? "M" : "T";
    const said = field.dataset.hand === "nm" ? nm ?? "" : course === undefined ? "" : String(course).padStart(3, "0") + letter;
    const same = field.dataset.hand === "nm" ? Number(field.value.trim() || NaN) === said : field.value.trim().toUpperCase() === said;
    if (document.activeElement !== field && !same) field.value = String(said);
  }

  // A reading is a key of its leg in the plan file: compared there, never used.
  keep(field) {
    const number = Number(field.dataset.leg), text = field.value.trim();
    const row = { ...noteOf(this.plan().value, this.legs[number - 1].between) };
    if (field.dataset.hand === "nm") {
      if (text && Number(text) > 0) row.measured_nm = Number(text);
      else delete row.measured_nm;
    } else {
      const [, degrees, letter] = /^(\d{1,3}(?:\.\d+)?)\s*°?\s*([MT])$/i.exec(text) || [];
      for (const key of ["measured_course_deg", "measured_course_reference"]) delete row[key];
      if (letter) Object.assign(row, { measured_course_deg: Number(degrees), measured_course_reference: letter.toUpperCase() === "M" ? "magnetic" : "true" });
    }
    this.plan().become(withNote(this.plan().value, row), `leg.${number}.${field.dataset.hand}`);
    this.ask();
  }

  readings() {
    return [...byId("hand-legs").children].flatMap((line, index) => {
      const [nm, course] = [...line.querySelectorAll("input")].map((field) => field.value.trim());
      if (!nm && !course) return [];
      return [{ start: this.points[index], end: this.points[index + 1], reading: nm || null, course: course || null }];
    });
  }

  async send() {
    const asked = ++this.asked, readings = this.readings();
    if (!readings.length) return byId("hand-answer").replaceChildren();
    const body = { readings, student: byId("hand-student").checked, date: this.plan().value.flight.date };
    try {
      const made = await (await post("/api/measure", body)).json();
      if (asked === this.asked) this.tell(made);
    } catch (fault) {
      if (!(fault instanceof Fault)) throw fault;
      if (asked === this.asked) byId("hand-answer").replaceChildren(make("p", { class: "wrong" }, fault.message));
    }
    return undefined;
  }

  // Where a reading is right that is all there is to say.
  tell(made) {
    const parts = [["Distance", made.distance], ["Course", made.course]].filter(([, answer]) => answer);
    byId("hand-answer").replaceChildren(...parts.flatMap(([title, answer]) => {
      const [first] = answer.explanations, right = first.code === "read_right" && first.grade === "fits";
      const worth = right ? [first] : answer.explanations.filter((each) => each === first || each.code !== "none");
      const next = answer.next_measurement ? [make("p", {}, `Next: ${answer.next_measurement}`)] : [];
      return [make("h3", {}, `${title}: ${answer.verdict}`), make("ul", {}, ...worth.map((each) => make(
        "li", {}, make("b", {}, each.grade), " ", make("bdi", {}, each.text),
      ))), ...next];
    }));
  }
}
