// Puts the page together: what is typed or drawn goes to the program, its answer to map and tables.

import { Latest, post } from "./ask.js";
import { Before } from "./before.js";
import { Behind } from "./behind.js";
import { Chart } from "./chart.js";
import { showChecks } from "./checks.js";
import { byId, button, make, say } from "./dom.js";
import { offerFormats } from "./files.js";
import { Flight } from "./flight.js";
import { Hand } from "./hand.js";
import { isInvented, warn } from "./invented.js";
import { heights, rowsOf, tellNotes } from "./legs.js";
import { Links } from "./links.js";
import { Log } from "./log.js";
import { Near } from "./near.js";
import { Plan, empty, tablesOf } from "./plan.js";
import { PlanFile } from "./planfile.js";
import { RouteLine } from "./route.js";
import { Settings } from "./settings.js";
import { Table, showCautions } from "./tables.js";

const DEMO = "KRST KLSE KEAU KDLH";

let framed = false;
let answer = { count: 0, points: [], ends: [], words: [], sheet: null };
let waitedOn = ""; // the route that stood there when the program did not answer
let shown = ""; // what was asked for the sheet that stands there

const line = new RouteLine((text, whole = false) => plan.fly({ route: text }, whole ? null : "route"), () => latest.ask(plain), beside);
const links = new Links(slipActs);
const tables = {
  points: new Table(byId("points"), "points-table", "Points", links, { buttons: pointButtons, idle }),
  legs: new Table(byId("legs"), "legs-table", "Legs", links),
  marks: new Table(byId("marks"), "checkpoints-table", "Checkpoints and turning points", links),
  airports: new Table(byId("airports"), "airports-table", "Airports along the route", links),
};
const flight = new Flight(() => plan);
const settings = new Settings(() => plan, (day) => (plan.value.aircraft ? flight.depart({ day }) : plan.fly({ date: day })));
const log = new Log(links, () => tablesOf(plan.value));
const hand = new Hand(() => plan);
const planFile = new PlanFile(() => plan, (value) => { framed = false; plan.become(value, null, false); });
const latest = new Latest(async (body) => (await post("/api/sheet", body.asked)).json(), answered, busy, plain);
const plan = new Plan(planChanged, kept);
const chart = links.chart = new Chart({
  put, grab: () => links.close(), words: () => answer.words,
  drawn: (marks) => links.drawn(marks), pick: (item) => links.pick(item),
  light: (item) => links.light(item), dim: (item) => links.dim(item), near: (place) => near.openAt(place),
});
const near = new Near({ chart, links, edit, plan: () => plan.value, answer: () => answer });
const before = new Before(() => plan);
const behind = new Behind({ chart, links, near, log });

// A change says which points it was made among: where others stand there by now, it is not made.
function asked(value, edit = null, words = []) {
  const flight = value.flight;
  return {
    route: flight.route, date: flight.date, altitude_ft: [flight.cruise_altitude_ft].flat()[0] ?? 0,
    every_nm: flight.checkpoints_every_nm, restart: flight.checkpoints_restart, line: flight.line,
    name: flight.name, sm: value.sm, notes: rowsOf(value), ...(edit ? { edit, among: among(edit, words) } : {}), ...(value.aircraft ? { plan: edited(value, edit) } : {}),
  };
}

function among({ kind, index }, words) {
  if (kind === "order") return words;
  return kind === "reverse" || index === null ? [] : words.slice(0, index + 1);
}

function edited(value, edit) {
  const tables = tablesOf(value);
  return { ...tables, flight: { ...tables.flight, cruise_altitude_ft: heights(value.flight.cruise_altitude_ft, edit) } };
}

// What waits for the program was meant for the route that stood there: typed anew, it is let go.
function planChanged(value) {
  if (latest.away && value.flight.route !== waitedOn) latest.forget();
  fill(value);
  if (!line.typing) latest.ask(plain);
}

function plain() {
  return { asked: asked(plan.value) };
}

// Where the route is by a word: at the point before it, or at the first.
function beside({ start }) {
  const before = answer.ends.filter((end) => end < start).length;
  const points = answer.sheet?.chart.points || answer.points;
  const at = points[Math.min(Math.max(0, before - 1), points.length - 1)]?.at;
  if (!at) return {};
  const { lat, lng } = L.latLng(at).wrap();
  return { latitude_deg: lat, longitude_deg: lng };
}

// A change to the route, made by the program.
function edit(change) {
  const { words } = answer;
  latest.ask(() => ({ asked: asked(plan.value, change, words) }), true);
}

// A point drawn: shown while it moves, and one step of the plan once it is let go.
function put(kind, index, place, moving = false, words = []) {
  latest.ask(() => ({ asked: asked(plan.value, { kind, index, ...place }, words), moving }), !moving);
}

function answered(body, got, fault) {
  if (fault) return refused(fault, body);
  show(got, body);
  const { route, date } = plan.value.flight, same = body.asked.route === route;
  if (!body.asked.edit && same && body.asked.date === date && flight.follow(got.clock)) latest.ask(() => ({ asked: asked(plan.value) }));
  if (!body.asked.edit && same) planFile.doing(() => planFile.follow(got.log_faults));
  if (body.asked.edit && !body.moving && same && got.route !== body.asked.route) {
    framed = true;
    const cruise_altitude_ft = heights(plan.value.flight.cruise_altitude_ft, body.asked.edit);
    plan.fly({ route: got.route, cruise_altitude_ft }, null, false);
  }
  return undefined;
}

function busy(on) {
  document.querySelector("main").setAttribute("aria-busy", String(on));
}

// Nothing of what was asked is known. A change that is refused leaves what stands there right.
function refused(fault, body) {
  const away = fault.status === 0;
  if (away) tellAway(fault);
  else if (fault.error.where?.key === "date") settings.all.date.tell("Enter the date of the flight");
  else line.faults(fault.error);
  if (shown === JSON.stringify(asked(plan.value))) return;
  if (!away && body.asked.edit) latest.ask(plain);
  else behind.tell(away ? "the program does not respond" : "the entries above were rejected");
}

function tellAway({ message }) {
  const { kept } = latest;
  waitedOn = plan.value.flight.route;
  const waits = kept ? ` ${kept} ${kept === 1 ? "change waits" : "changes wait"} for it; Undo takes ${kept === 1 ? "it" : "the last"} back.` : "";
  say(byId("told-away"), message + waits);
  byId("undo").disabled = !kept && !plan.past.length;
}

function show(got, body) {
  answer = got;
  say(byId("told-away"), got.is_made ? "" : "That change was not made, because the route had already changed.");
  if (body.asked.edit && body.asked.route === plan.value.flight.route) line.show(got.route);
  if (got.route === byId("route").value || line.typing) line.faults(got.route.trim() && !got.settings.length ? got.error : null);
  flight.show(got);
  settings.tell(got);
  tellNotes(got, () => plan);
  const sheet = got.sheet;
  say(byId("beyond"), sheet?.beyond || "");
  if (sheet) {
    shown = JSON.stringify({ ...asked(plan.value), ...body.asked, route: got.route, edit: undefined, among: undefined });
    behind.shows({ title: sheet.title, route: got.route, date: body.asked.date });
    chart.show(sheet.chart);
    for (const [name, table] of Object.entries(tables)) table.show(sheet[name]);
    log.show(got.log, Boolean(got.log_error));
    hand.show(got.words, got.legs);
    near.follow();
    showCautions(byId("cautions"), sheet.cautions);
    showChecks(sheet.cautions);
    showCautions(byId("stops"), sheet.cautions.filter((caution) => caution.rank === "STOP"));
    byId("all-cautions").hidden = false;
    byId("fields").hidden = !sheet.airports.rows.length;
    say(byId("fields-count"), sheet.airports.title);
    say(byId("summary"), sheet.summary);
    byId("figures").replaceChildren(...sheet.figures.map(([term, text]) => make("div", {}, make("dt", {}, term), make("dd", {}, make("bdi", {}, text)))));
    say(byId("dates"), sheet.dates);
    document.title = `${sheet.title}: ${got.warning || "planning sheet"}`;
    warn(got.warning);
  } else if (!got.route.trim() || got.count < 2) {
    shown = "";
    warn("");
    behind.shows(null);
    chart.loose(got.points, got.loose_legs);
    chart.base.refresh();
    for (const table of Object.values(tables)) table.show(null);
    log.show(null);
    hand.show([], []);
    near.follow();
    byId("all-cautions").hidden = byId("fields").hidden = true;
    showCautions(byId("stops"), []);
    showChecks([]);
    say(byId("summary"), "");
    byId("figures").replaceChildren();
    document.title = "Planning sheet";
  } else {
    chart.loose(got.points, got.loose_legs);
    behind.tell(got.settings.length ? "a setting above is wrong" : "the route above cannot be plotted yet", { map: true });
  }
  frame(body);
}

// A route that was typed or opened is brought into view; one that is drawn stays where it is.
function frame(body) {
  if (body.asked.edit || (!answer.sheet && (framed || answer.points.length < 2))) return;
  const typed = document.activeElement === byId("route");
  if (!framed || (typed && !chart.inView())) chart.whole();
  framed = Boolean(answer.sheet);
}

function fill(value) {
  const before = document.activeElement;
  fillFields(value);
  if (before !== document.body && lost(before)) (value.aircraft && !byId("flight").hidden && before.id === "begin-log" ? byId("flight-title") : byId("route")).focus();
}

// Whether the keyboard stands on what is gone, hidden or no longer to be pressed.
function lost(element) {
  return !element.isConnected || element.disabled || Boolean(element.closest("[hidden]"));
}

function fillFields(value) {
  line.show(value.flight.route);
  settings.fill(value);
  byId("altitude-invented").hidden = !isInvented(value, "flight.cruise_altitude_ft");
  byId("line").value = value.flight.line;
  byId("restart").checked = value.flight.checkpoints_restart;
  byId("sm").checked = value.sm;
  byId("undo").disabled = !plan.past.length;
  byId("redo").disabled = !plan.future.length;
  byId("reverse").disabled = !value.flight.route.trim();
  byId("clear").disabled = !value.flight.route.trim() && !value.aircraft;
  flight.fill(value);
  planFile.tell();
  before.tell();
  byId("example").hidden = Boolean(value.flight.route.trim());
}

function kept(well) {
  say(byId("kept"), well
    ? "Stored in this browser and in the address above."
    : "NOT KEPT: this browser refuses to store it. The address above holds the plan; bookmark it.");
}

function pointButtons(index) {
  const act = (name, text, spoken, run) => {
    const made = button(text, run, `${spoken} point ${index + 1}`);
    made.dataset.act = name;
    return made;
  };
  const move = (step) => {
    const order = [...Array(answer.count).keys()];
    [order[index], order[index + step]] = [order[index + step], order[index]];
    edit({ kind: "order", order });
  };
  return [
    act("up", "earlier", "Move earlier", () => move(-1)),
    act("down", "later", "Move later", () => move(1)),
    act("after", "insert after", "Insert after", () => line.typeAfter(answer.ends[index])),
    act("remove", "remove", "Remove", () => edit({ kind: "remove", index })),
  ];
}

function idle(act, index, all) {
  return (act === "up" && index === 0) || (act === "down" && index === all - 1);
}

// A checkpoint that is to lie on a landmark becomes a turning point: then it can be dragged and named.
function turning(mark) {
  const place = { ...chart.asked(L.latLng(mark.at)), snap_nm: 0 };
  return [["Make it a turning point, to move or name", () => edit({ kind: "insert", index: mark.leg, ...place })]];
}

function slipActs(item) {
  return [...changes(item), ["What is near", () => near.open(item)]];
}

function changes(item) {
  const [kind, number] = item.split("-");
  if (kind === "point") {
    return [
      ["Name it", (name) => edit({ kind: "name", index: +number, name }), "Name, one word"],
      ["Remove from the route", () => edit({ kind: "remove", index: +number })],
    ];
  }
  if (kind === "checkpoint") return turning(answer.sheet.chart.checkpoints.find((mark) => mark.n === +number));
  if (kind !== "airport") return [];
  const field = answer.sheet.airports.rows[number];
  const write = (index) => edit({ kind: "write-in", index, text: field.type });
  return [
    [`Insert on leg ${field.leg}`, () => write(field.leg)],
    ["Fly on to it", () => write(answer.count)],
  ];
}

function listen() {
  const on = (id, name, act) => byId(id).addEventListener(name, act);
  on("undo", "click", undo);
  on("redo", "click", () => plan.redo());
  on("reverse", "click", () => edit({ kind: "reverse" }));
  on("clear", "click", () => { framed = false; plan.become(empty()); byId("route").focus(); });
  on("example", "click", () => { framed = false; plan.fly({ route: DEMO, name: "" }); });
  on("line", "change", () => plan.fly({ line: byId("line").value }));
  on("restart", "change", () => plan.fly({ checkpoints_restart: byId("restart").checked }));
  on("sm", "change", () => plan.change({ sm: byId("sm").checked }));
  on("whole", "click", () => chart.whole());
  on("print", "click", () => window.print());
  for (const choice of document.querySelectorAll("#layers input")) {
    choice.addEventListener("change", () => chart.toggle(choice.value, choice.checked));
  }
  document.addEventListener("keydown", keys);
  window.addEventListener("beforeprint", beforePaper);
  window.addEventListener("afterprint", () => chart.onPaper(false));
}

function keys(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const letter = event.key.toLowerCase();
  if (letter !== "z" && letter !== "y") return;
  event.preventDefault();
  letter === "y" || event.shiftKey ? plan.redo() : undo();
}

// A change that still waits for the program is the last that was made.
function undo() {
  if (!latest.withdraw()) plan.undo();
  else latest.ask(plain);
}

// What is not answered yet is not on the sheet that goes to paper.
function beforePaper() {
  line.end();
  if (!behind.on && shown && shown !== JSON.stringify(asked(plan.value))) behind.tell("the route above is not computed yet");
  chart.onPaper(true);
}

function exported() {
  const { edit, notes, ...body } = asked(plan.value);
  return body;
}

listen();
for (const id of ["tiles-choice", "tiles-note"])
  byId(id).hidden = !document.querySelector("meta[name=plotter-tiles]").content;
plan.keep();
planChanged(plan.value);
offerFormats(() => ({
  ...exported(), gpx_checkpoints: byId("gpx-checkpoints").checked,
  gpx_as: byId("gpx-as").value, names: byId("names").value,
})).catch((fault) => say(byId("told"), fault.message));
