// Asking the program on this machine, and nobody else.

let token = document.querySelector("meta[name=plotter-token]").content;

export class Fault extends Error {
  constructor(error, status) {
    super(error.message);
    this.error = error;
    this.status = status;
  }
}

// What a browser keeps it keeps for one port: behind another the address has the plan.
const AWAY = {
  code: "away", where: null, candidates: [],
  message: `The program does not respond. Start it again with: plotter serve --port ${location.port || 80}. ` +
    "This page then continues by itself. Your plan is stored in this browser and in the address above: " +
    "at another port, append everything from # on to the new address.",
};
const AGAIN = 2500;

async function send(path, options) {
  try {
    return await fetch(path, options);
  } catch {
    throw new Fault(AWAY, 0);
  }
}

async function faultOf(response) {
  try {
    return new Fault((await response.json()).error, response.status);
  } catch {
    return new Fault({ ...AWAY, code: "http", message: `The program answered ${response.status}.` }, response.status);
  }
}

export async function get(path) {
  const response = await send(path);
  if (!response.ok) throw await faultOf(response);
  return response.json();
}

// The answer to a post. A page that was open before the program was started anew fetches its token.
export async function post(path, body, again = true) {
  const response = await send(path, {
    method: "POST",
    headers: { "content-type": "application/json", "x-plotter-token": token },
    body: JSON.stringify(body),
  });
  if (response.ok) return response;
  const fault = await faultOf(response);
  if (fault.error.code !== "token" || !again) throw fault;
  token = (await get("/api/session")).token;
  return post(path, body, false);
}

// One request in flight at a time. Of those that wait only the last is sent, and those that must not
// be lost. What is asked is made up when it is sent, of the plan as it is then. While the program is
// away they wait, and it is asked again now and then: at last for what the plan is by then.
export class Latest {
  constructor(send, done, told, plain) {
    Object.assign(this, { send, done, told, plain, waiting: [], busy: false, away: false, again: 0 });
  }

  // How many changes wait.
  get kept() {
    return this.waiting.filter(({ kept }) => kept).length;
  }

  // The last change that waits is taken back; whether there was one.
  withdraw() {
    const at = this.waiting.findLastIndex(({ kept }) => kept);
    if (at >= 0) this.waiting.splice(at, 1);
    return at >= 0;
  }

  forget() {
    this.waiting = [];
  }

  ask(made, kept = false) {
    const last = this.waiting[this.waiting.length - 1];
    if (last && !last.kept) this.waiting.pop();
    this.waiting.push({ made, kept });
    if (!this.busy) this.run();
  }

  async run() {
    clearTimeout(this.again);
    this.told((this.busy = true));
    this.away = false;
    while (this.waiting.length && !this.away) {
      const asked = this.waiting.shift(), body = asked.made();
      let answer = null, fault = null;
      try {
        answer = await this.send(body);
      } catch (problem) {
        if (!(problem instanceof Fault)) throw problem;
        fault = problem;
      }
      this.away = fault?.status === 0;
      if (this.away && asked.kept) this.waiting.unshift(asked);
      this.done(body, answer, fault);
    }
    this.told((this.busy = false));
    if (this.away) this.again = setTimeout(() => this.ask(this.plain), AGAIN);
  }
}
