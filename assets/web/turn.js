// Turning and enlarging the picture by mouse, touch, pen, wheel and keys.
const DEGREES_PER_PIXEL = 0.4;
const DEGREES_PER_KEY = 5;
const ZOOM = [1, 8];

export class Turning {
  zoom = 1;
  #offset = [0, 0];
  #pointers = new Map();

  // `turn(azimuth, elevation)` hears by how many degrees the scene is to be turned; `still()` says whether it cannot be.
  constructor(frame, picture, turn, still) {
    Object.assign(this, { frame, picture, turn, still });
    frame.addEventListener("pointerdown", (event) => this.#down(event));
    frame.addEventListener("pointermove", (event) => this.#move(event));
    for (const end of ["pointerup", "pointercancel"]) frame.addEventListener(end, (event) => this.#up(event));
    frame.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    frame.addEventListener("keydown", (event) => this.#key(event));
  }

  reset() {
    this.zoom = 1;
    this.#offset = [0, 0];
    this.#place();
  }

  #down(event) {
    if (event.button !== 0) return;
    this.frame.setPointerCapture(event.pointerId);
    this.#pointers.set(event.pointerId, [event.clientX, event.clientY]);
    this.frame.classList.add("turning");
  }

  #move(event) {
    const before = this.#pointers.get(event.pointerId);
    if (!before) return;
    const now = [event.clientX, event.clientY];
    const [x, y] = [now[0] - before[0], now[1] - before[1]];
    if (this.#pointers.size === 1) {
      if (event.shiftKey || this.still()) this.#shift(x, y);
      else this.turn(-x * DEGREES_PER_PIXEL, y * DEGREES_PER_PIXEL);
    } else {
      const others = [...this.#pointers].filter(([id]) => id !== event.pointerId);
      const [other] = others.map(([, place]) => place);
      const length = (place) => Math.hypot(place[0] - other[0], place[1] - other[1]);
      this.#enlarge(length(now) / Math.max(length(before), 1));
      this.#shift(x / 2, y / 2);
    }
    this.#pointers.set(event.pointerId, now);
  }

  #up(event) {
    this.#pointers.delete(event.pointerId);
    if (this.#pointers.size === 0) this.frame.classList.remove("turning");
  }

  #wheel(event) {
    event.preventDefault();
    this.#enlarge(Math.exp(-event.deltaY * 0.0015));
  }

  #key(event) {
    const step = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (step && !this.still()) this.turn(step[0] * DEGREES_PER_KEY, step[1] * DEGREES_PER_KEY);
    else if (event.key === "+") this.#enlarge(1.25);
    else if (event.key === "-") this.#enlarge(0.8);
    else return;
    event.preventDefault();
  }

  #enlarge(times) {
    this.zoom = Math.min(Math.max(this.zoom * times, ZOOM[0]), ZOOM[1]);
    if (this.zoom === ZOOM[0]) this.#offset = [0, 0];
    this.#place();
  }

  #shift(x, y) {
    if (this.zoom === ZOOM[0]) return;
    this.#offset = [this.#offset[0] + x, this.#offset[1] + y];
    this.#place();
  }

  #place() {
    const [x, y] = this.#offset;
    this.picture.style.transform = this.zoom === 1 ? "" : `translate(${x}px, ${y}px) scale(${this.zoom})`;
  }
}
