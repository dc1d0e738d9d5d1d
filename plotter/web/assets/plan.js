// What the pilot planned: kept in the browser and in the address, undone and redone without end.
// It has the keys of a plan file.

import { stillInvented } from "./invented.js";
import { keep, kept, othersKept, remember } from "./kept.js";

const KEPT = "plotter.plan";
const PAUSE = 900;

export function empty() {
  const now = new Date();
  const two = (number) => String(number).padStart(2, "0");
  return {
    flight: {
      name: "", route: "", date: `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`,
      cruise_altitude_ft: 0, checkpoints_every_nm: 10, checkpoints_restart: false, line: "geodesic",
    },
    sm: false,
  };
}

// Text of an address: a key for each value, with dots between; text as it is unless it reads as JSON.
export function written({ file, ...plan }) {
  const found = new URLSearchParams();
  const walk = (value, path) => {
    if (value === undefined) return;
    if (value !== null && typeof value === "object") {
      for (const key of Object.keys(value)) walk(value[key], path ? `${path}.${key}` : key);
    } else {
      found.append(path, typeof value === "string" && !readsAsJson(value) ? value : JSON.stringify(value));
    }
  };
  walk(plan, "");
  return found.toString();
}

// The tables of the plan file: what is the page's own is left out, and what says the usual unasked.
export function tablesOf({ sm, hand, clock, file, format, ...tables }) {
  const { date, ...flight } = tables.flight, text = file?.text || "";
  const unsaid = (key, usual) => flight[key] === usual && !new RegExp(`^\\s*${key}\\s*=`, "m").test(text);
  if (flight.checkpoints_every_min !== undefined) delete flight.checkpoints_every_nm;
  if (!flight.name) delete flight.name;
  for (const [key, usual] of [["line", "geodesic"], ["checkpoints_restart", false]]) if (unsaid(key, usual)) delete flight[key];
  return { ...tables, flight };
}

// A plan as the page has it, of the tables of a plan file.
export function fromFile(tables, file) {
  const flight = { ...tables.flight, date: String(tables.flight.departure || "").slice(0, 10) || empty().flight.date };
  return complete({ ...tables, flight, file });
}

function readsAsJson(text) {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

export function read(text) {
  const plan = {};
  for (const [path, word] of new URLSearchParams(text)) put(plan, path.split("."), readsAsJson(word) ? JSON.parse(word) : word);
  return plan;
}

const FORBIDDEN = new Set(["__proto__", "constructor", "prototype"]);

function put(plan, path, value) {
  if (path.some((key) => FORBIDDEN.has(key))) return;
  let node = plan;
  path.slice(0, -1).forEach((key, depth) => {
    if (node[key] === null || typeof node[key] !== "object") node[key] = /^\d+$/.test(path[depth + 1]) ? [] : {};
    node = node[key];
  });
  node[path[path.length - 1]] = value;
}

export class Plan {
  constructor(changed, told) {
    Object.assign(this, { changed, told, past: [], future: [], tag: null, tagged: 0 });
    this.value = this.first();
    window.addEventListener("hashchange", () => this.fromAddress());
  }

  // An address comes before what is kept; the plan it takes the place of is one step back.
  first() {
    const here = complete(read(location.hash.slice(1))), before = plansOf(kept(KEPT));
    const same = [...before, ...plansOf(othersKept())].find(({ plan }) => !here || written(plan) === written(here));
    if (!same && before.length && here) {
      this.past.push(before[0].text);
      if (!othersKept().includes(before[0].text)) remember(before[0].text, "before");
    }
    return same?.plan || here || empty();
  }

  fromAddress() {
    const text = location.hash.slice(1), plan = complete(read(text));
    if (plan && written(plan) !== written(this.value)) this.become(plan, null, false);
  }

  // One step that can be undone; steps of the same tag without a pause between are one. What the pilot typed
  // is no longer invented; what came whole, or with a change to the route, says itself what is.
  become(next, tag = null, typed = true) {
    const value = typed ? stillInvented(this.value, next) : next, now = Date.now(), before = JSON.stringify(this.value), after = JSON.stringify(value);
    if (before === after) return;
    if (tag === null || tag !== this.tag || now - this.tagged > PAUSE) this.past.push(before);
    Object.assign(this, { tag, tagged: now, future: [] });
    this.set(value);
  }

  change(keys, tag = null) {
    this.become({ ...this.value, ...keys }, tag);
  }

  fly(keys, tag = null, typed = true) {
    this.become({ ...this.value, flight: { ...this.value.flight, ...keys } }, tag, typed);
  }

  // Something that is no step of the plan's: where it was saved.
  settle(keys) {
    this.value = { ...this.value, ...keys };
    this.keep();
  }

  undo() {
    this.step(this.past, this.future);
  }

  redo() {
    this.step(this.future, this.past);
  }

  step(from, to) {
    if (!from.length) return;
    to.push(JSON.stringify(this.value));
    this.tag = null;
    this.set(JSON.parse(from.pop()));
  }

  set(value) {
    this.value = value;
    this.keep();
    this.changed(value);
  }

  keep() {
    const text = JSON.stringify(this.value), name = this.value.file?.name;
    const well = keep(KEPT, text);
    remember(text);
    history.replaceState(null, "", `#${written(this.value)}${name ? `&${new URLSearchParams({ "file.name": name })}` : ""}`);
    this.told(well);
  }
}

// Plans as they are kept, each with its text; what is none is passed over.
export function plansOf(texts) {
  return texts.filter(readsAsJson).map((text) => ({ text, plan: complete(JSON.parse(text)) })).filter(({ plan }) => plan);
}

// A plan from outside with every key the page needs; null where it is none.
function complete(found) {
  if (!found || typeof found !== "object" || !found.flight || typeof found.flight !== "object") return null;
  const blank = empty();
  const plan = { ...blank, ...found, flight: { ...blank.flight, ...found.flight } };
  for (const [key, value] of Object.entries(blank.flight)) {
    const heights = key === "cruise_altitude_ft" && Array.isArray(plan.flight[key]);
    if (typeof plan.flight[key] !== typeof value && !heights) plan.flight[key] = value;
  }
  if (!Array.isArray(plan.invented)) delete plan.invented;
  if (plan.hand === null || typeof plan.hand !== "object") delete plan.hand; // readings as they were typed
  return plan;
}
