// The window in space: loaded behind the page, drawn over it, and kept at the same scene.
import { at } from "./dom.js";

// Bytes of its module, which a server may send compressed; no number on a page that was built without it.
const SIZE = Number("WINDOW_SIZE");
// The page stays as it is on small screens, under fingers and where data is dear, until the window is asked for.
const LEAST_WIDTH = 900;

function drawsInSpace() {
  const context = document.createElement("canvas").getContext("webgl2");
  context?.getExtension("WEBGL_lose_context")?.loseContext();
  return context !== null;
}

const isRoomy = () =>
  innerWidth >= LEAST_WIDTH && !matchMedia("(pointer: coarse)").matches && !navigator.connection?.saveData;

export class SpaceWindow {
  #module = null;
  #loading = null;
  #wanted = false;
  #told = null;
  #page;

  // `page` has `shown()`, which gives `text` and `theme`, and `heard(news)`, called for each piece of news.
  constructor(page) {
    this.#page = page;
    at("enter").addEventListener("click", () => this.enter());
    at("leave").addEventListener("click", () => this.leave());
    // Whoever steps out of the picture by keyboard is on the page.
    document.addEventListener("focusin", ({ target }) => {
      if (this.isOpen && !at("space").contains(target)) this.leave();
    });
    // These keys are the browser's.
    addEventListener("keydown", (event) => {
      const own = ["F5", "F6", "F11", "F12", "Tab"].includes(event.key) || ((event.ctrlKey || event.metaKey) && /^[rtwnl]$/i.test(event.key));
      if (own && this.isOpen) event.stopImmediatePropagation();
    }, true);
  }

  get isOpen() {
    return !at("space").hidden;
  }

  // Loads the module where it can be used, and opens the window by itself where nobody has begun to use the page.
  offer() {
    if (Number.isNaN(SIZE)) return;
    if (!drawsInSpace()) return this.#say("This browser cannot draw in space (WebGL2); the page does all else.");
    at("enter").hidden = false;
    if (!isRoomy()) return;
    let used = false;
    for (const event of ["pointerdown", "keydown"]) addEventListener(event, () => (used = true), { once: true, capture: true });
    this.#load().then(() => used || this.enter(), (error) => this.#fail(error));
  }

  async enter() {
    this.#wanted = true;
    try {
      await this.#load();
      if (this.#wanted) this.#open();
    } catch (error) {
      this.#fail(error);
    }
  }

  leave() {
    this.#wanted = false;
    if (!this.isOpen) return;
    at("space").hidden = true;
    document.body.classList.remove("in-space");
    at("enter").focus();
  }

  #say(words) {
    at("enter-said").textContent = words;
  }

  #fail(error) {
    this.#loading = null;
    at("space-progress").hidden = true;
    const reason = navigator.onLine ? String(error) : "there is no network";
    this.#say(`The window in space is not here (${reason}); the page goes on working.`);
  }

  #load() {
    this.#loading ??= this.#fetched();
    return this.#loading;
  }

  async #fetched() {
    const progress = at("space-progress");
    progress.hidden = false;
    progress.max = SIZE;
    const response = await fetch("sixhold-window_bg.wasm");
    if (!response.ok) throw new Error(`the answer was ${response.status}`);
    const counter = new TransformStream({
      transform(part, out) {
        progress.value += part.length;
        out.enqueue(part);
      },
    });
    const counted = new Response(response.body.pipeThrough(counter), { headers: { "content-type": "application/wasm" } });
    const module = await import("./sixhold-window.js");
    await module.default({ module_or_path: counted });
    progress.hidden = true;
    this.#say("");
    this.#module = module;
  }

  #open() {
    const { text, theme } = this.#page.shown();
    at("space").hidden = false;
    if (this.#told === null) {
      const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
      this.#told = text;
      this.#module.begin(text, "#canvas", theme, calm, (news) => this.#hear(JSON.parse(news)));
    } else {
      this.#module.dress(theme);
      if (text !== this.#told) this.#module.change(text);
    }
    document.body.classList.add("in-space");
    at("canvas").focus();
  }

  #hear(news) {
    if (news.says === "shown") this.#told = news.text;
    this.#page.heard(news);
  }

  // The page has saved a text of the scene.
  saved(text) {
    if (this.#told !== null) this.#module.saved(text);
  }

  // Another scene was opened on the page.
  show(text) {
    if (this.#told === null || text === this.#told) return;
    this.#told = text;
    this.#module.open(text);
  }
}
