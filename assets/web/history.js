// The texts a scene has had, and the work that is not saved.
const UNSAVED = "sixhold-unsaved";

export class TextHistory {
  #texts = [""];
  #at = 0;

  // `saved` is the text that need not be kept: null for a scene that was not saved when it was opened.
  begin(text, saved = text) {
    this.saved = saved;
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

// Scenes that were changed and not saved, by name, the last one first. Storage can be full or forbidden; then nothing is kept, which
// the page says.
export const unsaved = {
  found() {
    try {
      const kept = JSON.parse(localStorage.getItem(UNSAVED)) ?? [];
      return kept.filter(({ name, text }) => typeof name === "string" && typeof text === "string");
    } catch {
      return [];
    }
  },
  keep(name, text) {
    return this.write([{ name, text }, ...this.others(name)]);
  },
  forget(name) {
    return this.write(this.others(name));
  },
  others(name) {
    return this.found().filter((kept) => kept.name !== name);
  },
  write(scenes) {
    try {
      localStorage.setItem(UNSAVED, JSON.stringify(scenes));
      return true;
    } catch {
      return false;
    }
  },
};
