// The worker that computes, as promises. A worker that breaks is replaced, and the scene read again.
export class Compute {
  #worker = null;
  #waiting = new Map();
  #next = 0;
  #read = null;

  // Asks for one thing. What is wrong with a scene or an option is thrown as an object with `problems`.
  async ask(call, ...values) {
    if (!this.#worker) await this.#start();
    const value = await this.#send(call, values);
    if (["read", "builtIn", "addressed"].includes(call)) this.#read = ["read", ["scene", value]];
    return value;
  }

  async #start() {
    this.#worker = new Worker("worker.js", { type: "module" });
    this.#worker.onmessage = ({ data }) => this.#hear(data);
    this.#worker.onerror = (event) => this.#break(event.message || "the module could not be loaded");
    if (this.#read) await this.#send(...this.#read);
  }

  #send(call, values) {
    const id = (this.#next += 1);
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject });
      this.#worker.postMessage({ id, call, values });
    });
  }

  #hear({ id, value, trouble, fault }) {
    if (fault) return this.#break(fault);
    const { resolve, reject } = this.#waiting.get(id) ?? {};
    this.#waiting.delete(id);
    if (trouble) reject?.(trouble);
    else resolve?.(value);
  }

  #break(reason) {
    this.#worker?.terminate();
    this.#worker = null;
    const message = `An internal error has occurred (${reason}). The scene is kept; change it and try again.`;
    for (const { reject } of this.#waiting.values()) reject({ problems: [{ message }], leftOut: 0 });
    this.#waiting.clear();
  }
}

// Only the last of many requests matters: while one is under way, the next waits, and what was waiting is dropped.
export function latest(work) {
  let running = false;
  let next = null;
  const run = async (values) => {
    running = true;
    try {
      await work(...values);
    } finally {
      running = false;
      if (next) {
        const values = next;
        next = null;
        run(values);
      }
    }
  };
  return (...values) => {
    if (running) next = values;
    else run(values);
  };
}
