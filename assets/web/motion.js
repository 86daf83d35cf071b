// The motion that is shown: its frames are made when it first moves, and kept until the picture is another one.
import { at } from "./dom.js";

const SWING_MS = 3000;
const calm = matchMedia("(prefers-reduced-motion: reduce)");

export class Motion {
  #frames = [];
  #playing = null;
  #made;
  #show;
  #tell;

  // `made()` gives the frames, `show(frame)` puts one into the picture, `tell(trouble)` hears what is wrong.
  constructor(made, show, tell) {
    this.#made = made;
    this.#show = show;
    this.#tell = tell;
    at("play").addEventListener("click", () => (this.isPlaying ? this.stop() : this.#play()));
    at("phase").addEventListener("input", () => this.#holdAt(Number(at("phase").value)));
  }

  get isPlaying() {
    return this.#playing !== null;
  }

  // Whether the body is where it was written, and does not move.
  get isAtRest() {
    return !this.isPlaying && at("phase").value === "0";
  }

  // The picture is another one: its frames are to be made anew.
  reset() {
    this.#frames = [];
    if (!this.isPlaying) at("phase").value = 0;
  }

  stop() {
    cancelAnimationFrame(this.#playing);
    this.#playing = null;
    at("play").setAttribute("aria-pressed", "false");
    at("play").textContent = "Let it move";
  }

  async #hasFrames() {
    try {
      if (this.#frames.length === 0) this.#frames = await this.#made();
    } catch (trouble) {
      this.#tell(trouble);
    }
    return this.#frames.length > 0;
  }

  async #play() {
    if (!(await this.#hasFrames())) return;
    at("play").setAttribute("aria-pressed", "true");
    at("play").textContent = "Hold it";
    const period = calm.matches ? 2 * SWING_MS : SWING_MS;
    const begun = performance.now() - (Number(at("phase").value) / this.#frames.length) * period;
    const step = (now) => {
      this.#showFrame(Math.floor((((now - begun) / period) % 1) * this.#frames.length));
      this.#playing = requestAnimationFrame(step);
    };
    this.#playing = requestAnimationFrame(step);
  }

  async #holdAt(frame) {
    this.stop();
    if (await this.#hasFrames()) this.#showFrame(frame);
  }

  #showFrame(frame) {
    at("phase").value = frame;
    if (this.#frames[frame]) this.#show(this.#frames[frame]);
  }
}
