// What is still invented of the plan to start from: marked at its fields and told above them until
// it is replaced, confirmed or left out.

import { button, byId, make, say } from "./dom.js";

// The keys of a part, which is named by their beginning.
function keysOf(value, part) {
  const [table, start] = part.split(".");
  if (start === undefined) return JSON.stringify(value[table]);
  const found = Object.entries(value[table] || {}).filter(([key]) => key.startsWith(start)).sort();
  return JSON.stringify(part === "flight.departure" ? String(value.flight.departure).slice(11, 16) : found);
}

export const isInvented = (value, key) => partsOf(value).some((part) => (part.includes(".") ? key.startsWith(part) : key === part));

const partsOf = ({ invented }) => (Array.isArray(invented) ? invented.filter((part) => typeof part === "string") : []);

// The plan with no longer called invented what is another than it was.
export function stillInvented(before, after) {
  const old = new Set(partsOf(before)), now = partsOf(after);
  const left = now.filter((part) => !old.has(part) || keysOf(before, part) === keysOf(after, part));
  return left.length === now.length ? after : without(after, left);
}

function without(value, left) {
  const { invented, ...rest } = value;
  return left.length ? { ...rest, invented: left } : rest;
}

// What every page of the sheet says first, on paper too; the title heads pages where a browser has no margin boxes.
export function warn(words) {
  const box = byId("warning"), sheet = new CSSStyleSheet();
  box.hidden = !words;
  say(box, words);
  if (words) sheet.replaceSync(`@page { @top-center { content: ${JSON.stringify(words)}; font: 700 10.5pt serif; } }`);
  document.adoptedStyleSheets = [sheet];
}

function leftOut(value, part) {
  const [table, start] = part.split("."), { [table]: old, ...rest } = value;
  if (start === undefined) return rest;
  return { ...value, [table]: Object.fromEntries(Object.entries(old || {}).filter(([key]) => !key.startsWith(start))) };
}

export class Invented {
  constructor(plan, goTo) {
    Object.assign(this, { plan, goTo });
  }

  show(parts) {
    const box = byId("invented"), shown = JSON.stringify(parts);
    box.hidden = !parts.length;
    if (box.dataset.shown === shown) return;
    box.dataset.shown = shown;
    say(byId("invented-title"), parts.length ? `Still invented; replace or confirm: ${parts.length}` : "");
    byId("invented-parts").replaceChildren(...parts.map((part) => this.line(part)));
  }

  line({ part, called, may_go: mayGo }) {
    const { value } = this.plan(), act = (text, run) => button(text, run, `${called}: ${text}`);
    const confirm = () => this.plan().become(without(this.plan().value, partsOf(this.plan().value).filter((each) => !each.startsWith(part))));
    return make("li", {}, make("b", {}, called), " ", act("Go to it", () => this.goTo(this.first(value, part))), " ", act("Confirm", confirm),
      ...(mayGo ? [" ", act("Leave out", () => this.plan().become(leftOut(this.plan().value, part)))] : []));
  }

  first(value, part) {
    const [table, start] = part.split(".");
    if (start === undefined) return `${table}.1`;
    const key = Object.keys(value[table] || {}).find((each) => each.startsWith(start)) || start;
    return Array.isArray(value[table]?.[key]) ? `${table}.${key}.1` : `${table}.${key}`;
  }
}
