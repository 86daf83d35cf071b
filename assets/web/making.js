// Things of a scene in hand: moved by dragging, copied, taken out, made another kind. Each change is a new text of the scene.
import { latest } from "./compute.js";
import { at, button, fill, notice, quiet } from "./dom.js";
import { Hand } from "./hand.js";

const sentence = (words) => `${words[0].toUpperCase()}${words.slice(1)}.`;

export class Making {
  #hand;
  #compute;
  #page;
  #drag = null;
  #said = [];

  // `page` has `now()`, which gives the `name` and `text` of the scene, `tried()`, which shows a text that has been read and is not
  // kept yet, `changed(text, name)`, which keeps one, and `tell(trouble)`.
  constructor(picture, figure, compute, page) {
    this.#compute = compute;
    this.#page = page;
    const taken = (handle) => this.#inHand(handle);
    this.#hand = new Hand(picture, figure, (...move) => this.#moved(...move), taken);
  }

  // The places that can be dragged, on the figure that is shown.
  show(handles) {
    this.#hand.show(handles);
  }

  letGo() {
    this.#hand.letGo();
  }

  async #inHand(handle) {
    // What has been done stays said, also where the thing is gone with it.
    notice(...this.#said);
    this.#said = [];
    if (!handle) return;
    notice(`${handle.sentence}. `, quiet("Drag the ring to move it."));
    const changes = await this.#compute.ask("changes", handle.index);
    if (this.#hand.thing === handle.thing) at("notice").append(...this.#offered(changes));
  }

  // What else can be done to a thing in hand: a word for each, and a list of the kinds that it could be.
  #offered(changes) {
    const words = changes.filter(({ isKind }) => !isKind).map((change) => button(change.words, () => this.#act(change)));
    const kinds = changes.filter(({ isKind }) => isKind);
    if (kinds.length === 0) return [" ", ...words];
    const list = document.createElement("select");
    list.setAttribute("aria-label", "Make it another kind");
    fill(list, [["", "another kind"], ...kinds.map(({ words }, index) => [String(index), words])], "");
    list.addEventListener("change", () => list.value && this.#act(kinds[Number(list.value)]));
    return [" ", ...words, list];
  }

  // A change that makes no scene is refused in one line, and what was there stays.
  async #act({ text, name }) {
    const before = this.#page.now();
    try {
      await this.#compute.ask("read", before.name, text);
      this.#page.changed(text, name);
      this.#said = [sentence(name)];
      notice(...this.#said);
    } catch (trouble) {
      await this.#compute.ask("read", before.name, before.text);
      notice(`Not possible: ${trouble.problems[0].message}.`);
    }
  }

  #moved(index, spot, pointsPerPixel, phase, free) {
    if (phase === "begin") {
      this.#drag = { text: this.#page.now().text, grabbed: this.#compute.ask("grab", index) };
      this.#drag.grabbed.catch(this.#page.tell);
    } else if (phase === "go on") {
      this.#drag.last = [spot, pointsPerPixel, free];
      this.#follow(this.#drag, ...this.#drag.last, false);
    } else if (phase === "end") {
      this.#follow(this.#drag, ...this.#drag.last, true);
    }
  }

  // While something is dragged, sentence, numbers and figure follow; what makes no scene is not taken.
  #follow = latest(async (held, spot, pointsPerPixel, free, isLast) => {
    await held.grabbed;
    const change = await this.#compute.ask("drag", ...spot, pointsPerPixel, free);
    if (change) await this.#take(held, change);
    if (isLast && held.change) this.#page.changed(held.change.text, held.change.name);
  });

  async #take(held, change) {
    const { name } = this.#page.now();
    try {
      await this.#compute.ask("read", name, change.text);
      held.change = change;
      notice(sentence(change.name));
      await this.#page.tried();
    } catch (trouble) {
      await this.#compute.ask("read", name, held.change?.text ?? held.text);
      notice(`Not there: ${trouble.problems[0].message}.`);
    }
  }
}
