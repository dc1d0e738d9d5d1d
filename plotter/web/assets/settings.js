// A setting beside the route. What cannot be read stays where it was typed, with what to type
// instead; until then the plan keeps what it had.

import { byId } from "./dom.js";
import { figure, figures, tellAt } from "./figures.js";

export class Setting {
  // `text` is what the plan has, `read` makes { value } or { wrong } of what is typed.
  constructor(id, { text, read, write, on = "input" }) {
    Object.assign(this, { field: byId(id), fault: byId(`${id}-fault`), text, read, write, typed: "", said: "", before: "" });
    this.field.addEventListener(on, () => this.take());
  }

  take() {
    const { wrong, value } = this.read(this.field.value);
    this.typed = wrong ? `${wrong}. Until then it stays ${this.before}.` : "";
    this.show();
    if (!wrong) this.write(value);
  }

  fill(plan) {
    const text = this.text(plan), { value } = this.read(this.field.value);
    const held = this.typed || document.activeElement === this.field; // wrong, or still being typed
    if (held && text === this.before) return;
    Object.assign(this, { before: text, typed: "" });
    const same = document.activeElement === this.field && [value].flat().join(" ") === text;
    if (!same && this.field.value !== text) this.field.value = text;
    this.show();
  }

  // What the program says of it.
  tell(words) {
    this.said = words || "";
    this.show();
  }

  show() {
    tellAt(this.field, this.fault, this.typed || this.said);
  }
}

const everyKey = ({ flight }) => (flight.checkpoints_every_min === undefined ? "checkpoints_every_nm" : "checkpoints_every_min");

export class Settings {
  constructor(plan, day) {
    const fly = (key, value) => plan().fly({ [key]: value }, key);
    this.all = {
      date: new Setting("date", {
        on: "change", text: ({ flight }) => flight.date, write: day,
        read: (typed) => (typed ? { value: typed } : { wrong: "Enter the date of the flight" }),
      }),
      altitude: new Setting("altitude", {
        text: ({ flight }) => [flight.cruise_altitude_ft].flat().join(" "), write: (value) => fly("cruise_altitude_ft", value),
        read: (typed) => heightsIn(typed, Boolean(plan().value.aircraft)),
      }),
      every: new Setting("every", {
        text: (value) => String(value.flight[everyKey(value)]), write: (value) => fly(everyKey(plan().value), value),
        read: (typed) => (typed.trim() ? figure(typed, { example: "10" }) : { wrong: "Enter the interval, such as 10" }),
      }),
    };
  }

  fill(value) {
    for (const setting of Object.values(this.all)) setting.fill(value);
    byId("every-unit").textContent = everyKey(value).endsWith("min") ? "min" : "NM";
  }

  // Faults that the program found in the settings, and in the plan's keys that stand here.
  tell({ settings, log_faults: faults }) {
    const said = new Map(settings.map(({ field, words }) => [field, words]));
    const keys = { altitude: "flight.cruise_altitude_ft", every: "flight.checkpoints_every_nm" };
    for (const [name, setting] of Object.entries(this.all)) {
      setting.tell(said.get(name) || faults.find(({ key }) => key === keys[name])?.words);
    }
  }
}

// One altitude, or one a leg where there is a log.
function heightsIn(typed, many) {
  const { values, wrong } = figures(typed, { whole: true });
  if (wrong) return { wrong };
  if (!values.length) return { wrong: "Enter the altitude in feet, such as 4500" };
  if (values.length > 1 && !many) return { wrong: "Enter one altitude; one for each leg is possible once the log is computed" };
  return { value: values.length > 1 ? values : values[0] };
}
