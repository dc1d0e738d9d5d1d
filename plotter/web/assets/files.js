// The files of a plan: each made by the program, handed over by the browser.

import { get, post } from "./ask.js";
import { button, byId, make, say } from "./dom.js";

export async function offerFormats(asked) {
  const formats = await get("/api/formats");
  byId("formats").replaceChildren(...formats.map((format) => make(
    "li", {}, button(`${format.title}`, () => download(format, asked())), make("small", {}, ` leaves out: ${plain(format.loses)}`),
  )));
}

const plain = (text) => text.replaceAll("`", "");

async function download(format, body) {
  say(byId("told"), `Making ${format.title} …`);
  try {
    const response = await post(`/api/export/${format.name}`, body);
    const said = response.headers.get("content-disposition") || "";
    const whole = /filename\*=UTF-8''(\S+)/.exec(said), plain = /filename="([^"]+)"/.exec(said);
    hand(await response.blob(), whole ? decodeURIComponent(whole[1]) : plain ? plain[1] : `plan${format.suffix}`);
  } catch (fault) {
    say(byId("told"), fault.message);
  }
}

export function hand(blob, name) {
  const address = URL.createObjectURL(blob);
  make("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
  say(byId("told"), `${name} went to your downloads.`);
}
