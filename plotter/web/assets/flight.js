// What the log needs beside the route: take-off here, all else in the forms of the plan file.

import { byId, say } from "./dom.js";
import { Forms } from "./forms.js";

export class Flight {
  constructor(plan) {
    Object.assign(this, { plan, forms: new Forms(plan) });
    for (const id of ["time", "offset"]) byId(id).addEventListener("change", () => this.takeOff());
  }

  // The plan's departure, from its day, its time and its offset from UTC.
  takeOff(day = this.plan().value.flight.date) {
    const offset = byId("offset").value.trim().replace("−", "-") || "Z", before = this.plan().value.flight;
    const time = byId("time").value || /T(\d\d:\d\d)/.exec(before.departure || "")?.[1] || "12:00";
    byId("time").value = time;
    this.plan().fly({ date: day, departure: `${day}T${time}:00${offset}` });
  }

  fill(value) {
    const flown = Boolean(value.aircraft);
    byId("flight").hidden = !flown;
    byId("begin").hidden = flown;
    if (!flown) return;
    const [, time, offset] = /T(\d\d:\d\d)(?::[\d.]+)?(.*)$/.exec(value.flight.departure || "") || [];
    set(byId("time"), time || "");
    set(byId("offset"), offset || "");
    this.forms.fill();
    say(byId("flight-title"), `Take-off, aircraft, wind and all else: ${value.aircraft.name || "no name"}`);
  }

  // What the answer says of the route, and what is wrong with the plan.
  show({ legs, words, sheet, log_faults: faults }) {
    this.forms.know(sheet ? { legs, words, cautions: sheet.cautions } : { legs, words });
    this.forms.faults(faults);
  }
}

function set(field, value) {
  if (document.activeElement !== field && field.value !== String(value)) field.value = String(value);
}
