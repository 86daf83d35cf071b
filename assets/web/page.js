// The page: what is shown of a scene, and what can be done with it. All mechanics is the module's.
import { Compute, latest } from "./compute.js";
import { at, bold, button, fill, notice, quiet, say, written } from "./dom.js";
import { Hand } from "./hand.js";
import { TextHistory, unsaved } from "./history.js";
import { download, takeHome } from "./home.js";
import { described, showReport } from "./markup.js";
import { Turning } from "./turn.js";

const compute = new Compute();
const history = new TextHistory();
const calm = matchMedia("(prefers-reduced-motion: reduce)");

const THEMES = ["hall", "daylight", "stark"];
const SWING_MS = 3000;
const TYPING_MS = 250;
// Points of the figure to a CSS pixel of the screen: letters grow with the room there is.
const POINTS_PER_MM = 72 / 25.4;

const state = {
  name: "handrail", text: "", answer: null, case: null, motion: null, view: null, stage: null, guess: false, guessed: null,
  theme: "hall", frames: [], playing: null,
};

// ---- What is asked of the module

function options() {
  const { case: name, motion, theme, view, stage } = state;
  const asked = { case: name, motion, theme, view, stage: isLesson() ? stage : null, guess: false };
  return Object.fromEntries(Object.entries(asked).filter(([, value]) => value !== null));
}

const isLesson = () => state.stage !== null;
const isHeldBack = () => state.guess && state.guessed === null;

// Width and height of the figure in millimetres, so that letters are as large as the screen allows.
function size() {
  const { width, height } = at("picture").getBoundingClientRect();
  const enlarged = Math.min(Math.max(Math.min(width / 320, height / 240), 1.1), 3.2);
  const mm = (pixels) => Math.min(Math.max(pixels / enlarged / POINTS_PER_MM, 40), 1200);
  return { width: mm(width), tallest: Math.max(mm(height) - 16, 24) };
}

const PARTS = "body,supports,behind,loads,reactions,axis,motion,triad,names";
const HELD_BACK = "body,supports,behind,loads,triad,names";

function drawing() {
  return { ...options(), ...size(), parts: isHeldBack() ? HELD_BACK : PARTS };
}

// ---- Showing

let address = null;
function showSvg(svg) {
  const old = address;
  address = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  at("figure").src = address;
  if (old) URL.revokeObjectURL(old);
}

const draw = latest(async () => {
  try {
    const { svg, handles } = await compute.ask("drawn", drawing());
    if (state.playing || at("phase").value !== "0") return;
    showSvg(svg);
    at("figure").alt = described(svg);
    document.body.classList.remove("old");
    await at("figure").decode().catch(() => {});
    hand.show(isHeldBack() || isLesson() ? [] : handles);
  } catch (trouble) {
    tell(trouble);
  }
});

// `isSame` says that the scene was changed and not opened: what was chosen of it may be gone.
async function show(isSame = false) {
  stop();
  state.frames = [];
  const answer = await (isSame ? answeredAgain() : compute.ask("answer", options()));
  state.answer = answer;
  if (isSame && !answer.motions.some(({ key }) => key === state.motion)) state.motion = null;
  document.title = `${answer.title} · Sixhold`;
  say(at("title"), answer.title);
  showSentence(answer);
  showNumbers(answer);
  showChoices(answer);
  at("phase").value = 0;
  draw();
}

async function answeredAgain() {
  try {
    return await compute.ask("answer", options());
  } catch {
    Object.assign(state, { case: null, stage: null });
    return compute.ask("answer", options());
  }
}

function showSentence(answer) {
  at("guess").hidden = !isHeldBack();
  if (isHeldBack()) return say(at("sentence"), "Is it held?");
  const guessed = state.guessed === null ? "" : judged(answer);
  say(at("sentence"), guessed, ...written(answer.sentence));
}

function judged(answer) {
  const freedom = answer.numbers.find(({ name }) => name === "freedom").value;
  return freedom === state.guessed ? "Right. " : `You guessed ${state.guessed}. `;
}

function showNumbers(answer) {
  const entries = answer.numbers.map(({ name, symbol, value }) => {
    const [entry, term, number] = ["div", "dt", "dd"].map((tag) => document.createElement(tag));
    const hidden = isHeldBack() && name !== "unknowns";
    number.textContent = hidden || value === null ? "–" : value;
    if (hidden || value === null) number.setAttribute("aria-label", "not shown yet");
    term.append(`${name}, `, ...written(symbol));
    entry.append(number, term);
    return entry;
  });
  say(at("numbers"), ...entries);
}

function showChoices(answer) {
  const { cases, motions, planar, lesson } = answer;
  at("case-label").hidden = cases.length < 2;
  fill(at("case"), cases.map((name) => [name, name]), state.case ?? cases[0]);
  const reached = lesson.indexOf(state.stage);
  const moves = !isHeldBack() && motions.length > 0 && (!isLesson() || lesson.slice(0, reached + 1).includes("Motion"));
  at("playing").hidden = !moves;
  document.querySelector("[data-file=gif]").hidden = motions.length === 0;
  at("motion-label").hidden = motions.length < 2;
  fill(at("motion"), motions.map(({ key, words }) => [key, words]), state.motion ?? motions[0]?.key);
  at("reset-view").hidden = state.view === null || planar;
  at("lesson").textContent = isLesson() ? "Show everything" : "Lesson";
  for (const id of ["back", "on"]) at(id).hidden = !isLesson();
  at("back").disabled = reached <= 0;
  at("on").disabled = reached === lesson.length - 1;
  for (const [id, name] of [["undo", history.undone], ["redo", history.redone]]) {
    at(id).hidden = name === undefined;
    at(id).title = name ?? "";
    at(id).textContent = `${id === "undo" ? "Undo" : "Redo"}: ${name}`;
  }
}

// ---- What is wrong

function tell(trouble) {
  const { problems, leftOut } = trouble.problems ? trouble : { problems: [{ message: String(trouble) }], leftOut: 0 };
  document.body.classList.add("old");
  say(at("problems"), ...problems.map((problem) => told(problem, "error")), ...more(leftOut));
  const [first] = problems;
  const place = first.line ? `line ${first.line}: ` : "";
  const hint = first.expected ?? first.hint;
  say(at("sentence"), bold("No scene: "), `${place}${first.message}${hint ? ` (${hint})` : ""}`);
}

const more = (leftOut) => (leftOut > 0 ? [`… and ${leftOut} more`] : []);

function told({ line, column, message, expected, hint }, kind) {
  const element = document.createElement("p");
  element.className = kind;
  if (line) element.append(button(`${line}:${column}`, () => select(line, column)));
  element.append(message);
  for (const [word, words] of [["expected", expected], ["hint", hint]]) {
    if (words) element.append(document.createElement("br"), `${word}: ${words}`);
  }
  return element;
}

function select(line, column) {
  const lines = at("source").value.split("\n");
  const start = lines.slice(0, line - 1).reduce((sum, text) => sum + text.length + 1, 0) + column - 1;
  at("source").focus();
  at("source").setSelectionRange(start, start + 1);
}

// ---- Opening and editing

function forgetChoices() {
  Object.assign(state, { case: null, motion: null, view: null, stage: null, guess: false, guessed: null });
  turning.reset();
  hand.letGo();
}

async function opened(name, text, shown = {}, saved = text) {
  forgetChoices();
  Object.assign(state, { name, text, ...shown });
  history.begin(text, saved);
  at("source").value = text;
  await show();
  showWarningsOf(state.answer);
  mark();
}

function showWarningsOf({ warnings }) {
  say(at("problems"), ...warnings.map((problem) => told(problem, "warning")));
}

async function openBuiltIn(name) {
  const text = await compute.ask("builtIn", name);
  window.history.replaceState(null, "", `#scene=${encodeURIComponent(name)}`);
  await opened(name, text);
}

async function openAddress(hash) {
  const asked = await compute.ask("options", hash);
  const text = await compute.ask("addressed", hash);
  const { case: name, theme, view, stage, guess } = asked;
  if (theme) await dress(theme);
  const named = new URLSearchParams(hash.slice(1)).get("scene");
  await opened(named ?? "scene", text, { case: name, view, stage, guess });
}

async function openText(name, text, saved = text) {
  await compute.ask("read", name, text);
  await opened(name, text, {}, saved);
}

// A text that was typed, stepped to, or comes of a drag; `name` says what was done, and is left out where history knows it.
const reread = latest(async (text, name) => {
  try {
    await compute.ask("read", state.name, text);
    state.text = text;
    if (name) history.keep(text, name);
    const isKept = text === history.saved ? unsaved.forget(state.name) : unsaved.keep(state.name, text);
    if (!isKept) notice("This browser keeps nothing: save the text before you leave.");
    await show(true);
    showWarningsOf(state.answer);
  } catch (trouble) {
    tell(trouble);
  }
});

let typing = 0;
at("source").addEventListener("input", () => {
  clearTimeout(typing);
  typing = setTimeout(() => reread(at("source").value, "typed"), TYPING_MS);
});

for (const [id, by] of [["undo", -1], ["redo", 1]]) {
  at(id).addEventListener("click", () => {
    at("source").value = history.step(by);
    reread(at("source").value);
  });
}

at("file").addEventListener("change", () => openFile(at("file").files[0]));
document.addEventListener("dragover", (event) => event.preventDefault());
document.addEventListener("drop", (event) => {
  event.preventDefault();
  openFile(event.dataTransfer.files[0]);
});

const LARGEST = 4 << 20;

async function openFile(file) {
  if (!file) return;
  if (file.size > LARGEST) return tell({ problems: [{ message: `${file.name} is no scene: it is larger than 4 MB` }], leftOut: 0 });
  const text = await file.text();
  const name = file.name.replace(/\.ron$/i, "");
  try {
    await openText(name, text);
    unsaved.forget(name);
  } catch (trouble) {
    // To be mended where it stands.
    state.name = name;
    history.begin(text);
    at("source").value = text;
    tell(trouble);
    if (at("text").hidden) open("text");
  }
}

// ---- Moving things

const hand = new Hand(at("picture"), at("figure"), moved, async (handle) => {
  notice();
  if (!handle) return;
  notice(`${handle.sentence}. `, quiet("Drag the ring to move it."));
  const changes = await compute.ask("changes", handle.index);
  if (hand.thing === handle.thing) at("notice").append(...offered(changes));
});

// What else can be done to a thing in hand: a word for each, and a list of the kinds that it could be.
function offered(changes) {
  const words = changes.filter(({ isKind }) => !isKind).map((change) => button(change.words, () => act(change)));
  const kinds = changes.filter(({ isKind }) => isKind);
  if (kinds.length === 0) return [" ", ...words];
  const list = document.createElement("select");
  list.setAttribute("aria-label", "Make it another kind");
  fill(list, [["", "another kind"], ...kinds.map(({ words }, index) => [String(index), words])], "");
  list.addEventListener("change", () => list.value && act(kinds[Number(list.value)]));
  return [" ", ...words, list];
}

// A change that makes no scene is refused in one line, and what was there stays.
async function act({ text, name }) {
  try {
    await compute.ask("read", state.name, text);
    at("source").value = text;
    notice(`${name[0].toUpperCase()}${name.slice(1)}.`);
    await reread(text, name);
  } catch (trouble) {
    await compute.ask("read", state.name, state.text);
    notice(`Not possible: ${trouble.problems[0].message}.`);
  }
}

let drag = null;

// While something is dragged, sentence, numbers and figure follow; what makes no scene is not taken.
const follow = latest(async (held, spot, pointsPerPixel, free, isLast) => {
  await held.grabbed;
  const change = await compute.ask("drag", ...spot, pointsPerPixel, free);
  if (change) await take(held, change);
  if (isLast) finish(held);
});

async function take(held, change) {
  try {
    await compute.ask("read", state.name, change.text);
    held.change = change;
    notice(`${change.name[0].toUpperCase()}${change.name.slice(1)}.`);
    await show(true);
  } catch (trouble) {
    await compute.ask("read", state.name, held.change?.text ?? held.text);
    notice(`Not there: ${trouble.problems[0].message}.`);
  }
}

function moved(index, spot, pointsPerPixel, phase, free) {
  if (phase === "begin") {
    drag = { text: history.text, grabbed: compute.ask("grab", index) };
    drag.grabbed.catch(tell);
  } else if (phase === "go on") {
    drag.last = [spot, pointsPerPixel, free];
    follow(drag, ...drag.last, false);
  } else if (phase === "end") {
    follow(drag, ...drag.last, true);
  }
}

function finish({ change }) {
  if (!change) return;
  at("source").value = change.text;
  history.keep(change.text, change.name);
  reread(change.text);
}

// ---- Motion

async function play() {
  if (state.frames.length === 0) {
    const { view } = state;
    state.frames = await compute.ask("frames", { ...drawing(), ...(view ? { view } : {}) });
  }
  return state.frames.length > 0;
}

function stop() {
  cancelAnimationFrame(state.playing);
  state.playing = null;
  at("play").setAttribute("aria-pressed", "false");
  at("play").textContent = "Let it move";
}

function showPhase(frame) {
  at("phase").value = frame;
  if (state.frames[frame]) showSvg(state.frames[frame]);
}

at("play").addEventListener("click", async () => {
  if (state.playing) return stop();
  try {
    if (!(await play())) return;
  } catch (trouble) {
    return tell(trouble);
  }
  at("play").setAttribute("aria-pressed", "true");
  at("play").textContent = "Hold it";
  const period = calm.matches ? 2 * SWING_MS : SWING_MS;
  const begun = performance.now() - (Number(at("phase").value) / state.frames.length) * period;
  const step = (now) => {
    showPhase(Math.floor((((now - begun) / period) % 1) * state.frames.length));
    state.playing = requestAnimationFrame(step);
  };
  state.playing = requestAnimationFrame(step);
});

at("phase").addEventListener("input", async () => {
  const frame = Number(at("phase").value);
  stop();
  if (await play()) showPhase(frame);
});

// ---- Choices

at("case").addEventListener("change", () => choose({ case: at("case").value, motion: null }));
at("motion").addEventListener("change", () => choose({ motion: at("motion").value }));
at("reset-view").addEventListener("click", () => {
  turning.reset();
  choose({ view: null });
});

async function choose(change) {
  Object.assign(state, change);
  try {
    await show();
  } catch (trouble) {
    tell(trouble);
  }
}

at("lesson").addEventListener("click", () => choose({ stage: isLesson() ? null : state.answer.lesson[0], guess: false }));
at("back").addEventListener("click", () => lead(-1));
at("on").addEventListener("click", () => lead(1));

function lead(by) {
  const { lesson } = state.answer;
  const next = lesson.indexOf(state.stage) + by;
  if (lesson[next]) choose({ stage: lesson[next] });
}

document.addEventListener("keydown", (event) => {
  const typed = event.target.closest("textarea, input, select");
  if (event.key === "Escape") {
    closeDrawers();
    hand.letGo();
  } else if (!typed && isLesson() && event.key === "PageDown") lead(1);
  else if (!typed && isLesson() && event.key === "PageUp") lead(-1);
  else if (!typed && event.key === " " && event.target === at("picture") && !at("playing").hidden) at("play").click();
  else return;
  event.preventDefault();
});

at("guess").addEventListener("submit", (event) => {
  event.preventDefault();
  choose({ guessed: Number(at("guessed").value) });
});

const turning = new Turning(at("picture"), at("figure"), turned, () => !state.answer || state.answer.planar || isHeldBack());

function turned(azimuth, elevation) {
  const [a, e] = state.view ?? state.answer.view ?? [32, 22];
  const round = (angle) => Math.round(angle * 10) / 10;
  stop();
  Object.assign(state, { view: [round(a + azimuth), round(Math.min(Math.max(e + elevation, -90), 90))], frames: [] });
  at("phase").value = 0;
  at("reset-view").hidden = false;
  draw();
}

let resized = 0;
new ResizeObserver(() => {
  clearTimeout(resized);
  resized = setTimeout(() => {
    if (!state.answer) return;
    state.frames = [];
    if (!state.playing) {
      at("phase").value = 0;
      draw();
    }
  }, 120);
}).observe(at("picture"));

// ---- Drawers

const DRAWERS = ["scenes", "text", "report", "share"];

function open(name) {
  const wasOpen = !at(name).hidden;
  closeDrawers();
  if (wasOpen) return;
  at(name).hidden = false;
  at(`open-${name}`).setAttribute("aria-expanded", "true");
  if (name === "report") report();
}

function closeDrawers() {
  for (const name of DRAWERS) {
    at(name).hidden = true;
    at(`open-${name}`).setAttribute("aria-expanded", "false");
  }
}

for (const name of DRAWERS) at(`open-${name}`).addEventListener("click", () => open(name));

async function report() {
  try {
    showReport(at("paper"), await compute.ask("reportHtml", options()));
  } catch (trouble) {
    tell(trouble);
  }
}

async function list() {
  const scenes = await compute.ask("scenes");
  const entries = scenes.map(({ name, title }) => {
    const entry = document.createElement("li");
    const opener = button(title, () => {
      closeDrawers();
      openBuiltIn(name).catch(tell);
    });
    opener.dataset.scene = name;
    entry.append(opener);
    return entry;
  });
  say(at("list"), ...entries);
  mark();
}

function mark() {
  for (const opener of at("list").querySelectorAll("button")) {
    if (opener.dataset.scene === state.name) opener.setAttribute("aria-current", "true");
    else opener.removeAttribute("aria-current");
  }
}

// ---- Taking home

takeHome(compute, () => ({ name: state.name, options: options() }), tell);

at("save").addEventListener("click", () => {
  download(`${state.name}.ron`, new Blob([at("source").value], { type: "text/plain" }));
  history.saved = at("source").value;
  unsaved.forget(state.name);
});

// ---- Colours

async function dress(theme) {
  const colours = await compute.ask("colours", theme);
  state.theme = theme;
  for (const [meaning, colour] of Object.entries(colours)) document.documentElement.style.setProperty(`--${meaning}`, colour);
  for (const chosen of at("themes").children) chosen.setAttribute("aria-pressed", String(chosen.textContent === theme));
}

say(at("themes"), ...THEMES.map((theme) => button(theme, async () => {
  await dress(theme);
  draw();
})));

// ---- The beginning

function offerUnsaved(scenes) {
  const offers = scenes.flatMap(({ name, text }) => [
    button(`Take up ${name}`, () => openText(name, text, null).then(() => notice(), tell)),
    button(`forget ${name}`, () => {
      unsaved.forget(name);
      offerUnsaved(unsaved.found());
    }),
  ]);
  if (offers.length > 0) notice("Not saved: ", ...offers);
  else notice();
}

async function begin() {
  if (location.search === "?embed") document.body.classList.add("embed");
  await dress(matchMedia("(prefers-color-scheme: light)").matches ? "daylight" : "hall");
  const kept = unsaved.found();
  try {
    if (location.hash.length > 1) await openAddress(location.hash);
    else await openBuiltIn(state.name);
  } catch (trouble) {
    tell(trouble);
  }
  offerUnsaved(kept);
  document.body.classList.remove("waiting");
  await list();
}

window.addEventListener("hashchange", () => openAddress(location.hash).catch(tell));
begin().catch(tell);

if ("serviceWorker" in navigator && ["https:", "http:"].includes(location.protocol)) {
  // Without it the page works as well, only not without a network.
  navigator.serviceWorker.register("service-worker.js").catch(() => {});
}
