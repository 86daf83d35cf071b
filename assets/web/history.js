// The texts a scene has had, and the work that is not saved.
const UNSAVED = "sixhold-unsaved";

export class TextHistory {
  #steps = [{ text: "", name: "" }];
  #at = 0;

  // `saved` is the text that need not be kept: null for a scene that was not saved when it was opened.
  begin(text, saved = text) {
    this.saved = saved;
    this.#steps = [{ text, name: "" }];
    this.#at = 0;
  }

  // `name` says what was done, to follow "undo".
  keep(text, name = "typed") {
    if (text === this.text) return;
    this.#steps.splice(this.#at + 1, Infinity, { text, name });
    this.#at += 1;
  }

  get text() {
    return this.#steps[this.#at].text;
  }

  // What undoing takes back, and redoing does again; undefined where there is nothing.
  get undone() {
    return this.#at > 0 ? this.#steps[this.#at].name : undefined;
  }

  get redone() {
    return this.#steps[this.#at + 1]?.name;
  }

  step(by) {
    this.#at = Math.min(Math.max(this.#at + by, 0), this.#steps.length - 1);
    return this.text;
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
