// The page: what is shown of a scene, and what can be done with it. All mechanics is the module's.
import { Compute, latest } from "./compute.js";
import { at, bold, button, fill, notice, say, written } from "./dom.js";
import { TextHistory, unsaved } from "./history.js";
import { exerciseSheets } from "./exercises.js";
import { SceneFiles } from "./files.js";
import { takeHome } from "./home.js";
import { described, showReport } from "./markup.js";
import { Making } from "./making.js";
import { Motion } from "./motion.js";
import { Turning } from "./turn.js";
import { SpaceWindow } from "./window.js";

const compute = new Compute();
const history = new TextHistory();
const files = new SceneFiles();

const THEMES = ["hall", "daylight", "stark"];
const TYPING_MS = 250;
// Points of the figure to a CSS pixel of the screen: letters grow with the room there is.
const POINTS_PER_MM = 72 / 25.4;

const state = {
  name: "handrail", text: "", answer: null, case: null, motion: null, view: null, stage: null, guess: false, guessed: null,
  theme: "hall",
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

const motion = new Motion(() => compute.ask("frames", drawing()), showSvg, tell);

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
    if (!motion.isAtRest) return;
    showSvg(svg);
    at("figure").alt = described(svg);
    document.body.classList.remove("old");
    await at("figure").decode().catch(() => {});
    making.show(isHeldBack() || isLesson() ? [] : handles);
  } catch (trouble) {
    tell(trouble);
  }
});

// `isSame` says that the scene was changed and not opened: what was chosen of it may be gone.
async function show(isSame = false) {
  motion.stop();
  motion.reset();
  const answer = await (isSame ? answeredAgain() : compute.ask("answer", options()));
  state.answer = answer;
  if (isSame && !answer.motions.some(({ key }) => key === state.motion)) state.motion = null;
  document.title = `${answer.title} · Sixhold`;
  say(at("title"), answer.title);
  showSentence(answer);
  showNumbers(answer);
  showChoices(answer);
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
  at("films").hidden = motions.length === 0;
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
  making.letGo();
}

async function opened(name, text, shown = {}, saved = text) {
  forgetChoices();
  Object.assign(state, { name, text, ...shown });
  history.begin(text, saved);
  at("source").value = text;
  files.follow();
  space.show(text);
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
  try {
    await opened(named ?? "scene", text, { case: name, view, stage, guess });
  } catch (trouble) {
    // The scene is there, but not what the address says of it.
    await opened(named ?? "scene", text);
    notice(`Not as the address says: ${trouble.problems[0].message}.`);
  }
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
at("choose").addEventListener("click", chooseFile);
document.addEventListener("dragover", (event) => event.preventDefault());
document.addEventListener("drop", (event) => {
  event.preventDefault();
  openFile(event.dataTransfer.files[0]);
});

async function chooseFile() {
  try {
    const chosen = await files.choose();
    if (chosen) await openFile(chosen.file, chosen.handle);
  } catch (trouble) {
    tell(trouble);
  }
}

const LARGEST = 4 << 20;

async function openFile(file, handle) {
  if (!file) return;
  if (file.size > LARGEST) return tell({ problems: [{ message: `${file.name} is no scene: it is larger than 4 MB` }], leftOut: 0 });
  const text = await file.text();
  const name = file.name.replace(/\.ron$/i, "");
  try {
    await openText(name, text);
    files.follow(handle);
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

// ---- Things in hand

const making = new Making(at("picture"), at("figure"), compute, {
  now: () => ({ name: state.name, text: state.text }),
  tried: () => show(true),
  changed(text, name) {
    at("source").value = text;
    reread(text, name);
  },
  tell,
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
    making.letGo();
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
  motion.stop();
  motion.reset();
  state.view = [round(a + azimuth), round(Math.min(Math.max(e + elevation, -90), 90))];
  at("reset-view").hidden = false;
  draw();
}

let resized = 0;
new ResizeObserver(() => {
  clearTimeout(resized);
  resized = setTimeout(() => {
    if (!state.answer) return;
    motion.reset();
    if (!motion.isPlaying) draw();
  }, 120);
}).observe(at("picture"));

// ---- Drawers

const DRAWERS = ["scenes", "text", "report", "exercises", "share"];

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

const home = takeHome(compute, () => ({ name: state.name, options: options() }), tell);

async function save() {
  const text = at("source").value;
  try {
    const file = await files.save(state.name, text);
    if (!file) return;
    history.saved = text;
    unsaved.forget(state.name);
    space.saved(text);
    notice(`Saved: ${file}.`);
    say(at("space-said"), `Saved: ${file}`);
  } catch (trouble) {
    say(at("space-said"), String(trouble));
    tell(trouble);
  }
}

at("save").addEventListener("click", save);

// ---- The window in space

const space = new SpaceWindow({ shown: () => ({ text: state.text, theme: state.theme }), heard });

// The page follows what the window shows, so that its sentence, its drawers and what it keeps are of the same scene.
async function heard({ says, ...news }) {
  if (says === "ready") at("space").dataset.area = news.area.join(" ");
  else if (says === "shown") await shownInSpace(news);
  else if (says === "dressed" && news.theme !== state.theme) await dress(news.theme);
  else if (says === "save") await save();
  else if (says === "choose") await chooseFile();
  else if (says === "handout") await handOut(news.what);
}

async function handOut(what) {
  const said = at("space-said");
  say(said, what === "link" ? "" : "Being made …");
  try {
    say(said, await (what === "link" ? home.copyLink() : home.make(what)));
  } catch (trouble) {
    say(said, trouble.problems?.[0].message ?? String(trouble));
  }
}

async function shownInSpace({ name, text, isOpened, step, case: chosen }) {
  if (text !== state.text) {
    at("source").value = text;
    if (isOpened) return openText(name ?? "scene", text).catch(tell);
    reread(text, step ?? "changed in space");
  }
  if (state.answer?.cases.includes(chosen) && chosen !== (state.case ?? state.answer.cases[0])) choose({ case: chosen, motion: null });
}

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
  await Promise.all([list(), exerciseSheets(compute)]);
  if (location.search === "") space.offer();
}

window.addEventListener("hashchange", () => openAddress(location.hash).catch(tell));
begin().catch(tell);

if ("serviceWorker" in navigator && ["https:", "http:"].includes(location.protocol)) {
  // Without it the page works as well, only not without a network.
  navigator.serviceWorker.register("service-worker.js").catch(() => {});
}
