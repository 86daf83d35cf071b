// Computes beside the page, so that it stays quick to the touch: one request, one answer, in their order.
import init, { Scene, Sheet, colours, optionsOf, scenes, sheetTopics } from "./sixhold.js";

const ready = init();
let scene = null;
let drag = null;

function keep(next) {
  scene?.free();
  scene = next;
  return scene.text();
}

// The sheet that was drawn last, for its other files.
let drawn = { options: null, sheet: null };

function sheetOf(options) {
  if (options !== drawn.options) {
    const sheet = Sheet.drawn(options);
    drawn.sheet?.free();
    drawn = { options, sheet };
  }
  return drawn.sheet;
}

const calls = {
  scenes: () => JSON.parse(scenes()),
  colours: (theme) => JSON.parse(colours(theme)),
  options: (address) => JSON.parse(optionsOf(address)),
  builtIn: (name) => keep(Scene.builtIn(name)),
  addressed: (address) => keep(Scene.addressed(address)),
  read: (name, text) => keep(Scene.read(name, text)),
  answer: (options) => JSON.parse(scene.answer(JSON.stringify(options))),
  figure: (options) => scene.figure(JSON.stringify(options)),
  // Both of one scene: another may be read before the next call.
  drawn: (options) => ({ svg: scene.figure(JSON.stringify(options)), handles: JSON.parse(scene.handles()) }),
  changes: (index) => JSON.parse(scene.changes(index)),
  grab: (index) => {
    drag?.free();
    drag = scene.grab(index);
  },
  drag: (x, y, pointsPerPixel, free) => JSON.parse(drag.to(x, y, pointsPerPixel, free) ?? "null"),
  frames: (options) => scene.frames(JSON.stringify(options)),
  film: (options) => scene.film(JSON.stringify(options)),
  reportHtml: (options) => scene.reportHtml(JSON.stringify(options)),
  reportPdf: (options) => scene.reportPdf(JSON.stringify(options)),
  deck: (options) => scene.deck(JSON.stringify(options)),
  check: () => scene.check(),
  sheetTopics: () => JSON.parse(sheetTopics()),
  sheet: (options, name) => sheetOf(JSON.stringify(options)).file(name),
  address: (page, options) => scene.address(page, JSON.stringify(options)),
};

// What the module throws is its account of what is wrong, as JSON; anything else is a fault of ours and ends the worker.
function trouble(error) {
  if (typeof error === "string") return { trouble: JSON.parse(error) };
  return { fault: String(error) };
}

self.onmessage = async ({ data: { id, call, values } }) => {
  try {
    await ready;
    self.postMessage({ id, value: calls[call](...values) });
  } catch (error) {
    self.postMessage({ id, ...trouble(error) });
  }
};
