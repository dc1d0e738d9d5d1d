// Other plans that this browser keeps: of other tabs, and those an address took the place of. The newest
// is told, and can be brought back.

import { byId, button, make } from "./dom.js";
import { OTHERS, forgetOther, othersKept, remember } from "./kept.js";
import { plansOf, written } from "./plan.js";

export class Before {
  constructor(plan) {
    this.plan = plan;
    window.addEventListener("storage", ({ key }) => key === OTHERS && this.tell());
  }

  tell() {
    const now = written(this.plan().value), node = byId("before");
    const found = plansOf(othersKept()).filter(({ plan }) => (plan.flight.route.trim() || plan.aircraft) && written(plan) !== now).pop();
    node.hidden = !found;
    if (found?.text === this.told) return;
    this.told = found?.text;
    node.replaceChildren(...(found ? this.words(found) : []));
  }

  // The one takes the other's place here, and the other is kept as this was.
  swap(plan) {
    remember(JSON.stringify(this.plan().value), "before");
    this.plan().become(plan);
  }

  words({ text, plan }) {
    const { route, date } = plan.flight, end = (act) => () => {
      forgetOther(text);
      act();
      this.tell();
    };
    return [
      "This browser has another plan: ", make("bdi", {}, route.trim() || "no route"), ` (${date}). `,
      button("Restore it", end(() => this.swap(plan))), " ", button("Discard it", end(() => {})),
    ];
  }
}
