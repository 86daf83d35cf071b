// Things taken in hand: a click near one takes it, its marks are dragged, a click elsewhere lets it go.
const REACH = 26;
const CLICK = 6;

export class Hand {
  thing = null;
  #handles = [];
  #press = null;
  #marks = new Map();

  // `moved(index, spot, pointsPerPixel, phase, free)` hears of drags, phase being "begin", "go on" or "end"; `taken(handle)` of what is in
  // hand, or null.
  constructor(frame, picture, moved, taken) {
    Object.assign(this, { frame, picture, moved, taken });
    // Before turning hears of them.
    frame.addEventListener("pointerdown", (event) => this.#down(event), { capture: true });
    frame.addEventListener("pointermove", (event) => this.#move(event), { capture: true });
    for (const end of ["pointerup", "pointercancel"]) frame.addEventListener(end, (event) => this.#up(event), { capture: true });
  }

  show(handles) {
    this.#handles = handles;
    if (!handles.some(({ thing }) => thing === this.thing)) this.letGo();
    this.#place();
  }

  letGo() {
    if (this.thing === null) return;
    this.thing = null;
    this.#place();
    this.taken(null);
  }

  get dragging() {
    return this.#press?.index !== undefined;
  }

  // Where the figure is on the screen, and how many of its points a pixel covers.
  #sheet() {
    const box = this.picture.getBoundingClientRect();
    const points = [this.picture.naturalWidth, this.picture.naturalHeight].map((pixels) => pixels * 0.75);
    const scale = Math.min(box.width / points[0], box.height / points[1]);
    return {
      scale,
      left: box.left + (box.width - points[0] * scale) / 2,
      top: box.top + (box.height - points[1] * scale) / 2,
    };
  }

  // During a drag by the figure that was there when it began: the one that follows may be larger or smaller.
  #spot(event) {
    const { scale, left, top } = this.#press.sheet;
    return { spot: [(event.clientX - left) / scale, (event.clientY - top) / scale], pointsPerPixel: 1 / scale };
  }

  #near(event, handles) {
    const { scale, left, top } = this.#sheet();
    const away = ({ spot }) => Math.hypot(left + spot[0] * scale - event.clientX, top + spot[1] * scale - event.clientY);
    const near = handles.filter((handle) => away(handle) < REACH);
    return near.sort((a, b) => away(a) - away(b))[0] ?? null;
  }

  #down(event) {
    if (event.button !== 0 || this.#press) return;
    this.#press = { at: [event.clientX, event.clientY], id: event.pointerId };
    const held = this.#near(event, this.#handles.filter(({ thing }) => thing === this.thing));
    if (!held) return;
    event.stopPropagation();
    this.frame.focus({ preventScroll: true });
    this.frame.setPointerCapture(event.pointerId);
    Object.assign(this.#press, { index: held.index, sheet: this.#sheet() });
    this.moved(held.index, null, 0, "begin", false);
  }

  #move(event) {
    if (this.#press?.id !== event.pointerId || this.#press.index === undefined) return;
    event.stopPropagation();
    const { spot, pointsPerPixel } = this.#spot(event);
    this.#press.went = true;
    this.moved(this.#press.index, spot, pointsPerPixel, "go on", event.altKey);
  }

  #up(event) {
    const press = this.#press;
    if (press?.id !== event.pointerId) return;
    this.#press = null;
    if (press.index !== undefined) {
      event.stopPropagation();
      this.moved(press.index, null, 0, press.went ? "end" : "nothing", false);
      return;
    }
    const apart = Math.hypot(event.clientX - press.at[0], event.clientY - press.at[1]);
    if (event.type === "pointerup" && apart < CLICK) this.#click(event);
  }

  #click(event) {
    const found = this.#near(event, this.#handles);
    if (!found) return this.letGo();
    this.thing = found.thing;
    this.#place();
    this.taken(found);
  }

  #place() {
    const own = this.#handles.filter(({ thing }) => thing === this.thing);
    const { scale, left, top } = this.#sheet();
    const frame = this.frame.getBoundingClientRect();
    for (const mark of this.#marks.values()) mark.remove();
    this.#marks.clear();
    for (const { index, spot } of own) {
      const mark = document.createElement("span");
      mark.className = "mark";
      mark.style.left = `${left + spot[0] * scale - frame.left}px`;
      mark.style.top = `${top + spot[1] * scale - frame.top}px`;
      this.frame.append(mark);
      this.#marks.set(index, mark);
    }
  }
}
