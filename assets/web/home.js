// What is taken home of a scene: files of it, and a link to it.
import { at, say } from "./dom.js";
import { download } from "./files.js";
import { canRecord, video } from "./video.js";

// Parts of a figure that stands by itself.
const PARTS = "body,supports,behind,loads,reactions,axis,motion,triad,names";

const FILES = {
  svg: ["svg", "image/svg+xml", "figure", { parts: PARTS, theme: "white" }],
  gif: ["gif", "image/gif", "film", { theme: "white" }],
  pdf: ["pdf", "application/pdf", "reportPdf", {}],
  html: ["html", "text/html", "reportHtml", {}],
  deck: ["slides.html", "text/html", "deck", { theme: "white" }],
  json: ["json", "application/json", "check", {}],
};

// `shown()` gives the name of the scene and the options it is shown with; `tell` hears what is wrong. What is given back makes a file
// or copies a link, and says what it has done.
export function takeHome(compute, shown, tell) {
  async function record() {
    const { name, options } = shown();
    const { ending, blob } = await video(await compute.ask("frames", { ...options, parts: PARTS, theme: "white" }));
    download(`${name}.${ending}`, blob);
    return `Saved: ${name}.${ending}`;
  }

  async function make(key) {
    if (key === "video") return record();
    const [ending, type, call, own] = FILES[key];
    const { name, options } = shown();
    const made = await compute.ask(call, { ...options, ...own });
    download(`${name}.${ending}`, new Blob([made], { type }));
    return `Saved: ${name}.${ending}`;
  }

  async function copyLink() {
    const [page] = location.href.split("#");
    const made = await compute.ask("address", page, { ...shown().options, guess: at("link-guess").checked });
    // Where the clipboard is not to be had, the link stands there to be copied by hand.
    const copied = await navigator.clipboard.writeText(made).then(() => true, () => false);
    return copied ? `Copied: ${made}` : made;
  }

  document.querySelector("[data-file=video]").hidden = !canRecord();
  for (const asker of document.querySelectorAll("[data-file]")) {
    asker.addEventListener("click", async () => {
      asker.disabled = true;
      say(at("made-said"), "Being made …");
      say(at("made-said"), await make(asker.dataset.file).catch((trouble) => {
        tell(trouble);
        return "";
      }));
      asker.disabled = false;
    });
  }
  at("copy-link").addEventListener("click", async () => {
    say(at("link-said"), await copyLink().catch((trouble) => trouble.problems[0].message));
  });
  return { make, copyLink };
}
