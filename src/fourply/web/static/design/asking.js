// Talking to the server: the last change asked for wins, one question at a time; a version goes with what is kept.

/** Asks for the data of a change that is not kept; while one answer is awaited only the newest question waits. */
export class Latest {
  constructor(address, show) {
    this.address = address;
    this.show = show;
    this.waiting = null;
    this.busy = false;
    this.round = 0;
  }

  /** Ask; `show(answer, change)` is called with what comes back unless something newer was asked or forgotten. */
  ask(change) {
    this.waiting = change;
    if (!this.busy) this.#go();
  }

  /** Forget what is asked. */
  forget() {
    this.waiting = null;
    this.round += 1;
  }

  async #go() {
    this.busy = true;
    while (this.waiting) {
      const change = this.waiting, round = this.round;
      this.waiting = null;
      const answer = await send(this.address, "POST", change);
      if (round === this.round) this.show(answer, change);
    }
    this.busy = false;
  }
}

/** Send JSON; returns {ok, status, ...answer}, or what to say where nothing answers. */
export async function send(address, method, body, version) {
  try {
    const headers = { "Content-Type": "application/json", ...(version ? { "If-Match": `"${version}"` } : {}) };
    const response = await fetch(address, { method, headers, body: body === undefined ? undefined : JSON.stringify(body) });
    const answer = await response.json();
    return { ...answer, ok: response.ok, status: response.status };
  } catch {
    return { ok: false, status: 0, detail: "fourply does not answer: nothing is kept yet; try again" };
  }
}

/** Return what a refusal says. */
export const refusal = (answer) => (answer.found && answer.expected ? `${answer.found}: ${answer.expected}` : answer.detail ?? answer.title ?? "It cannot be done");
