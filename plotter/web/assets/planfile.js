// The plan file: opened from the pilot's disk, saved to the downloads, its comments kept.

import { Fault, get, post } from "./ask.js";
import { byId, make, say } from "./dom.js";
import { hand } from "./files.js";
import { isInvented } from "./invented.js";
import { keep, kept } from "./kept.js";
import { fromFile, tablesOf } from "./plan.js";

const SAVED = "plotter.saved";
const MOST = 200000;
const ALTITUDE = "flight.cruise_altitude_ft";

export class PlanFile {
  constructor(plan, opened) {
    Object.assign(this, { plan, opened });
    const chosen = byId("file");
    byId("open").addEventListener("click", () => chosen.click());
    byId("save").addEventListener("click", () => this.doing(() => this.save()));
    byId("begin-log").addEventListener("click", () => this.doing(() => this.begin()));
    chosen.addEventListener("change", () => this.doing(async () => {
      const file = chosen.files[0];
      chosen.value = "";
      if (file) await this.open(file);
    }));
  }

  async doing(act) {
    say(byId("file-told"), "");
    byId("file-faults").replaceChildren();
    try {
      await act();
    } catch (fault) {
      if (!(fault instanceof Fault)) throw fault;
      const all = fault.error.all || [fault.error];
      byId("file-faults").replaceChildren(...all.map(({ message }) => make("li", {}, message)));
    }
  }

  async open(file) {
    if (file.size > MOST) {
      return say(byId("file-told"), `${file.name} is larger than any plan: choose a plan file (.toml), as saved here or by plotter new.`);
    }
    const text = new TextDecoder("utf-8", { ignoreBOM: true }).decode(await file.arrayBuffer()); // its mark stays
    const got = await (await post("/api/plan/read", { text, name: file.name })).json();
    const { sm, hand } = this.plan().value, made = fromFile(got.plan, { name: file.name, text: got.text });
    this.opened({ ...made, sm, ...(hand?.student ? { hand: { student: true } } : {}) });
    this.saved();
    return say(byId("file-told"), `Opened ${file.name}.`);
  }

  // Aircraft, wind and time to start from, for the route that stands there.
  async begin() {
    const plan = await this.fresh(), value = this.plan().value, { sm, hand, leg } = value;
    const kept = leg ? { sm, hand, leg } : { sm, hand };
    const day = value.flight.date, offset = plan.flight.departure.slice(19);
    const flight = { ...value.flight, departure: `${day}T${plan.flight.departure.slice(11, 19)}${offset}` };
    const invented = plan.invented.filter((part) => part !== ALTITUDE || !flight.cruise_altitude_ft);
    if (!flight.cruise_altitude_ft) flight.cruise_altitude_ft = plan.flight.cruise_altitude_ft;
    this.plan().become({ ...plan, format: undefined, flight, ...kept, clock: "field", invented }, null, false);
    byId("flight").open = true;
  }

  async fresh() {
    const { route, date } = this.plan().value.flight;
    return (await get(`/api/plan/new?${new URLSearchParams({ route, date })}`)).plan;
  }

  // Altitudes that are still invented follow a route that has another number of legs.
  async follow(faults) {
    const { value } = this.plan();
    if (!isInvented(value, ALTITUDE) || !faults.some(({ key }) => key === ALTITUDE)) return;
    const { flight } = await this.fresh(), now = this.plan().value, { cruise_altitude_ft } = flight;
    if (now.flight.route === value.flight.route && String(now.flight.cruise_altitude_ft) !== String(cruise_altitude_ft))
      this.plan().set({ ...now, flight: { ...now.flight, cruise_altitude_ft } });
  }

  async save() {
    const value = this.plan().value, file = value.file || {};
    const name = this.bare() ? file.name.replace(/(\.toml)?$/i, "-again.toml") : file.name || `${(value.flight.name || "flight").replace(/[^\p{L}\p{N}_-]+/gu, "-").slice(0, 60)}.toml`;
    const untouched = file.text && kept(SAVED).includes(this.state());
    const got = untouched ? { text: file.text, left_out: [] } : await this.written(value, file);
    hand(new Blob([got.text], { type: "application/toml" }), name);
    this.plan().settle({ file: { name, text: got.text } });
    this.saved();
    const lost = got.left_out.length ? ` Left out, for it is no leg of this route: ${got.left_out.join("; ")}.` : "";
    const made = value.invented?.length ? " Its list invented names the figures that still are." : "";
    say(byId("file-told"), `${name} went to your downloads.${lost}${made}`);
  }

  async written(value, file) {
    return (await post("/api/plan/write", { text: file.text || "", plan: tablesOf(value) })).json();
  }

  // Come by its address, a plan has its file's name and not its text: what the page does not know is not there.
  bare() {
    const { file } = this.plan().value;
    return Boolean(file?.name && file.text === undefined);
  }

  saved() {
    keep(SAVED, this.state()); // where it is refused the page says "not saved", the safe way to be wrong
    this.tell();
  }

  state() {
    return JSON.stringify(tablesOf(this.plan().value));
  }

  tell() {
    const value = this.plan().value, known = kept(SAVED);
    byId("save").hidden = byId("unsaved").hidden = !value.aircraft;
    const name = value.file?.name;
    if (this.bare()) return say(byId("unsaved"), `Opened by its address: it has no comments of ${name}, so it is saved under another name. Open the file itself to keep them.`);
    return say(byId("unsaved"), known.includes(this.state()) && name ? `As saved in ${name}.` : "Not saved to a file.");
  }
}
