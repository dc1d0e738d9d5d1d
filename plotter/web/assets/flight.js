// What the log needs beside the route: take-off, aircraft, wind. Each field is a key of the plan file.

import { button, byId, make, say } from "./dom.js";

const WIND = [
  ["altitude_ft", "Altitude", "ft"], ["from", "From", "°"], ["speed_kt", "Speed", "kt"], ["temperature_c", "Temperature", "°C"],
];

const isRows = (value) => Array.isArray(value) && value.every((each) => each && typeof each === "object");

export class Flight {
  constructor(plan) {
    this.plan = plan;
    this.section = byId("flight");
    this.section.addEventListener("input", (event) => this.typed(event.target));
    byId("wind-add").addEventListener("click", () => this.winds((rows) => [...rows, { altitude_ft: 3000, from_true_deg: 360, speed_kt: 0 }]));
    for (const id of ["time", "offset"]) byId(id).addEventListener("change", () => this.takeOff());
  }

  // The plan's departure, from its day, its time and its offset from UTC.
  takeOff(day = this.plan().value.flight.date) {
    const offset = byId("offset").value.trim().replace("−", "-") || "Z", time = byId("time").value || "12:00";
    this.plan().fly({ date: day, departure: `${day}T${time}:00${offset}` });
  }

  typed(field) {
    const path = field.dataset?.key?.split(".");
    if (!path) return;
    const text = field.value.trim(), number = Number(text.replaceAll(",", "").replace("−", "-"));
    let value = text;
    if (text === "") value = undefined;
    else if (field.dataset.kind === "number" && Number.isFinite(number)) value = number;
    if (path[0] === "wind") return this.windTyped(Number(path[1]), path[2], value);
    const whole = this.plan().value, table = { ...whole[path[0]] };
    if (value === undefined) delete table[path[1]];
    else table[path[1]] = value;
    const next = { ...whole, [path[0]]: table };
    if (!Object.keys(table).length || (path[0] === "winds_aloft" && !table.text)) delete next[path[0]];
    return this.plan().become(next, field.dataset.key);
  }

  windTyped(index, key, value) {
    this.winds((rows) => rows.map((row, at) => (at === index ? windWith(row, key, value) : row)), `wind.${index}.${key}`);
  }

  winds(change, tag = null) {
    const whole = this.plan().value, rows = change(isRows(whole.wind) ? whole.wind : []);
    const next = { ...whole, wind: rows };
    if (!rows.length) delete next.wind;
    this.plan().become(next, tag);
  }

  fill(value) {
    const flown = Boolean(value.aircraft);
    this.section.hidden = !flown;
    byId("begin").hidden = flown;
    if (!flown) return;
    const [, time, offset] = /T(\d\d:\d\d)(?::[\d.]+)?(.*)$/.exec(value.flight.departure || "") || [];
    set(byId("time"), time || "");
    set(byId("offset"), offset || "");
    this.fillWinds(isRows(value.wind) ? value.wind : []);
    for (const field of this.section.querySelectorAll("[data-key]")) {
      const [table, key, inner] = field.dataset.key.split(".");
      if (table === "wind") set(field, windOf(value.wind[key], inner));
      else set(field, value[table]?.[key] ?? "");
    }
    const name = value.aircraft.name || "no name";
    say(byId("flight-title"), `Take-off, aircraft and wind: ${name}`);
  }

  fillWinds(rows) {
    const body = byId("winds");
    if (body.children.length === rows.length) return;
    body.replaceChildren(...rows.map((_, index) => make(
      "div", { class: "wind-row", role: "group", "aria-label": `Wind ${index + 1}` },
      ...WIND.map(([key, name, unit]) => make("label", {}, name, " ", make(
        "span", { class: "unit" }, make("input", { "data-key": `wind.${index}.${key}`, "data-kind": "number", inputmode: "decimal", size: 5, autocomplete: "off" }), ` ${unit}`,
      ))),
      make("label", {}, "North ", make("select", { "data-key": `wind.${index}.reference` },
        make("option", { value: "true" }, "true"), make("option", { value: "magnetic" }, "magnetic"))),
      button("remove", () => this.winds((all) => all.filter((_, at) => at !== index)), `Remove wind ${index + 1}`),
    )));
  }

  // Faults stand at their fields and in words below them.
  faults(error) {
    const all = error ? error.all || [error] : [];
    byId("log-faults").replaceChildren(...all.map(({ message }) => make("li", {}, message)));
    const wrong = new Set(all.map(({ where }) => where?.key).filter(Boolean));
    for (const field of this.section.querySelectorAll("[data-key]")) {
      const key = field.dataset.key.split(".").map((step) => (/^\d+$/.test(step) ? String(Number(step) + 1) : step)).join(".");
      const names = key.endsWith(".from") ? [key + "_deg", key + "_true_deg"] : [key];
      field.setAttribute("aria-invalid", String(names.some((name) => wrong.has(name))));
    }
  }
}

function set(field, value) {
  if (document.activeElement !== field && field.value !== String(value)) field.value = String(value);
}

function windOf(row, key) {
  if (key === "from") return row.from_true_deg ?? row.from_deg ?? "";
  if (key === "reference") return row.reference || "true";
  return row[key] ?? "";
}

// A wind's reference is written with it, in one of the two ways of the plan file.
function windWith(row, key, value) {
  const next = { ...row };
  if (key !== "from" && key !== "reference") {
    if (value === undefined) delete next[key];
    else next[key] = value;
    return next;
  }
  const reference = key === "reference" ? value : windOf(row, "reference");
  const from = key === "from" ? value : windOf(row, "from");
  for (const each of ["from_deg", "from_true_deg", "reference"]) delete next[each];
  if (from === undefined || from === "") return next;
  return reference === "magnetic" ? { ...next, from_deg: from, reference } : { ...next, from_true_deg: from };
}
