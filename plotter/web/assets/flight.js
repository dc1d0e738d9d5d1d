// What the log needs beside the route: take-off here, all else in the forms of the plan file.

import { byId, say } from "./dom.js";
import { Forms } from "./forms.js";
import { Invented, isInvented } from "./invented.js";
import { Setting } from "./settings.js";

const DEPARTURE = /^(.*?)T(\d\d:\d\d)(:[\d.]+)?(.*)$/;
const OFFSET = /^([+-])(0\d|1[0-4]):?([0-5]\d)$/;

export class Flight {
  constructor(plan) {
    Object.assign(this, { plan, forms: new Forms(plan), clock: null });
    this.invented = new Invented(plan, (key) => this.forms.goTo(key));
    this.time = new Setting("time", {
      on: "change", text: ({ flight }) => parts(flight).time, write: (time) => this.depart({ time }),
      read: (typed) => (typed ? { value: typed } : { wrong: "Enter the time of take-off" }),
    });
    this.offset = new Setting("offset", {
      on: "change", text: ({ flight }) => parts(flight).offset, read: (typed) => offsetIn(typed, this.clock),
      write: (offset) => (offset ? this.depart({ offset, clock: null }) : this.depart({ clock: "field" })),
    });
  }

  // The plan's departure with its day, its time or its offset from UTC changed.
  depart({ day, time, offset, clock = this.plan().value.clock }) {
    const { value } = this.plan(), now = parts(value.flight);
    const fixed = offset ?? ((clock && this.clock?.offset) || now.offset);
    const date = day ?? value.flight.date, departure = `${date}T${time ?? now.time}${time ? ":00" : now.seconds}${fixed}`;
    this.plan().become({ ...value, clock, flight: { ...value.flight, date, departure } });
    this.fill(this.plan().value);
  }

  fill(value) {
    const flown = Boolean(value.aircraft);
    byId("flight").hidden = !flown;
    byId("begin").hidden = flown;
    if (!flown) return;
    this.time.fill(value);
    this.offset.fill(value);
    say(byId("clock"), this.clockWords(value));
    this.forms.fill();
    byId("time-invented").hidden = !isInvented(value, "flight.departure");
    say(byId("flight-title"), `Take-off, aircraft, wind and more: ${value.aircraft.name || "no name"}`);
  }

  // By which clock the offset is, or what the clock of the departure has instead.
  clockWords({ flight }) {
    if (!this.clock) return "";
    const { offset, words } = this.clock;
    if (!offset || parts(flight).offset === offset) return words;
    return `As typed. On that day it is ${offset} by ${words}; empty the field to take that.`;
  }

  // What the answer says of the route, and what is wrong with the plan.
  show({ legs, words, sheet, log_faults: faults, invented, stations }) {
    this.invented.show(invented);
    this.forms.know({ legs, words, stations, ...(sheet ? { cautions: sheet.cautions } : {}) });
    this.forms.faults(faults);
    const said = faults.find(({ key }) => key === "flight.departure")?.words;
    this.time.tell(said);
    this.offset.tell(said);
  }

  // The clock of the departure field goes with the route and the day unless an offset was typed.
  // Answers whether the plan's departure is another by that.
  follow(clock) {
    this.clock = clock || this.clock;
    const { value } = this.plan(), now = parts(value.flight);
    const other = Boolean(value.aircraft && value.clock && clock?.offset && now.offset !== clock.offset);
    if (other) this.plan().settle({ flight: { ...value.flight, departure: `${value.flight.date}T${now.time}${now.seconds}${clock.offset}` } });
    this.fill(this.plan().value);
    return other;
  }
}

function parts({ departure }) {
  const [, , time = "", seconds = ":00", offset = ""] = DEPARTURE.exec(departure || "") || [];
  return { time, seconds, offset };
}

function offsetIn(typed, clock) {
  const text = typed.trim().replace("−", "-"), [, sign, hours, minutes] = OFFSET.exec(text) || [];
  if (!text) return clock?.offset ? { value: "" } : { wrong: "Enter the offset from UTC, such as -06:00 or Z: the time zone of the departure is not known" };
  if (/^(z|utc)$/i.test(text)) return { value: "Z" };
  if (sign) return { value: `${sign}${hours}:${minutes}` };
  return { wrong: `“${text}” is no offset from UTC: write it as -06:00, or Z, or leave it empty for the clock of the departure field` };
}
