// One line at the top that says how many cautions there are to check, and leads down to them.

import { byId, say } from "./dom.js";

export function showChecks(cautions) {
  const count = cautions.filter(({ rank }) => rank === "CHECK").length;
  byId("checks").hidden = !count;
  say(byId("checks-link"), `${count} ${count === 1 ? "caution" : "cautions"} to check`);
}

// The address holds the plan: the link goes there without it.
byId("checks-link").addEventListener("click", (event) => {
  event.preventDefault();
  byId("cautions-title").scrollIntoView({ block: "start" });
  byId("cautions-title").focus();
});
