// Sixhold for JavaScript: scenes as text in, diagnoses, figures and reports out. Nothing leaves the machine.
import init, { Scene, Sheet, initSync, optionsOf, scenes as listed } from "./sixhold.js";

async function load() {
  const module = new URL("sixhold_bg.wasm", import.meta.url);
  if (module.protocol !== "file:") return init({ module_or_path: module });
  const { readFile } = await import("node:fs/promises");
  return initSync({ module: await readFile(module) });
}

let ready = null;

/** What is wrong with a scene, its address or an option: `problems` has every one with its place. */
export class SceneError extends Error {
  constructor({ problems, leftOut }) {
    super(problems.map(({ line, column, message }) => (line ? `${line}:${column}: ${message}` : message)).join("\n"));
    Object.assign(this, { name: "SceneError", problems, leftOut });
  }
}

async function within(work) {
  await (ready ??= load());
  try {
    return work();
  } catch (error) {
    throw typeof error === "string" ? new SceneError(JSON.parse(error)) : error;
  }
}

const using = (text, work) => within(() => {
  const scene = Scene.read("scene", text);
  try {
    return work(scene);
  } finally {
    scene.free();
  }
});

const asked = (options) => JSON.stringify(options ?? {});

export const check = (text) => using(text, (scene) => JSON.parse(scene.check()));
export const answer = (text, options) => using(text, (scene) => JSON.parse(scene.answer(asked(options))));
export const figure = (text, options) => using(text, (scene) => scene.figure(asked(options)));
export const frames = (text, options) => using(text, (scene) => scene.frames(asked(options)));
export const film = (text, options) => using(text, (scene) => scene.film(asked(options)));
export const report = (text, options) => using(text, (scene) => scene.reportHtml(asked(options)));
export const reportPdf = (text, options) => using(text, (scene) => scene.reportPdf(asked(options)));
export const lesson = (text, options) => using(text, (scene) => scene.deck(asked(options)));
export const address = (text, page, options) => using(text, (scene) => scene.address(page, asked(options)));
export const sheet = (options, file) => within(() => {
  const drawn = Sheet.drawn(asked(options));
  try {
    return drawn.file(file);
  } finally {
    drawn.free();
  }
});
export const scenes = () => within(() => JSON.parse(listed()));
export const builtIn = (name) => within(() => textOf(Scene.builtIn(name)));
export const read = (address) => within(() => ({ text: textOf(Scene.addressed(address)), options: JSON.parse(optionsOf(address)) }));

function textOf(scene) {
  const text = scene.text();
  scene.free();
  return text;
}
