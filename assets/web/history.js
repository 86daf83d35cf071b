// The texts a scene has had, and the work that is not saved.
const UNSAVED = "sixhold-unsaved";

export class TextHistory {
  #texts = [""];
  #at = 0;

  begin(text) {
    this.#texts = [text];
    this.#at = 0;
  }

  keep(text) {
    if (text === this.#texts[this.#at]) return;
    this.#texts.splice(this.#at + 1, Infinity, text);
    this.#at += 1;
  }

  get canUndo() {
    return this.#at > 0;
  }

  get canRedo() {
    return this.#at + 1 < this.#texts.length;
  }

  step(by) {
    this.#at = Math.min(Math.max(this.#at + by, 0), this.#texts.length - 1);
    return this.#texts[this.#at];
  }
}

// Storage can be full or forbidden; then nothing is kept, which the page says once.
export const unsaved = {
  keep(name, text) {
    try {
      localStorage.setItem(UNSAVED, JSON.stringify({ name, text }));
      return true;
    } catch {
      return false;
    }
  },
  forget() {
    try {
      localStorage.removeItem(UNSAVED);
    } catch {
      // What could not be kept need not be forgotten.
    }
  },
  found() {
    try {
      const { name, text } = JSON.parse(localStorage.getItem(UNSAVED));
      return typeof name === "string" && typeof text === "string" ? { name, text } : null;
    } catch {
      return null;
    }
  },
};
