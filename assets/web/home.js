// What is taken home of a scene: files of it, and a link to it.
import { at, say } from "./dom.js";

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

export function download(name, blob) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

// `shown()` gives the name of the scene and the options it is shown with; `tell` hears what is wrong.
export function takeHome(compute, shown, tell) {
  for (const asker of document.querySelectorAll("[data-file]")) {
    asker.addEventListener("click", async () => {
      const [ending, type, call, own] = FILES[asker.dataset.file];
      const { name, options } = shown();
      try {
        asker.disabled = true;
        const made = await compute.ask(call, { ...options, ...own });
        download(`${name}.${ending}`, new Blob([made], { type }));
      } catch (trouble) {
        tell(trouble);
      } finally {
        asker.disabled = false;
      }
    });
  }
  at("copy-link").addEventListener("click", async () => {
    try {
      const [page] = location.href.split("#");
      const made = await compute.ask("address", page, { ...shown().options, guess: at("link-guess").checked });
      say(at("link-said"), made);
      await navigator.clipboard.writeText(made);
      say(at("link-said"), `Copied: ${made}`);
    } catch (trouble) {
      // Where the clipboard is not to be had, the link stands there to be copied by hand.
      if (trouble.problems) say(at("link-said"), trouble.problems[0].message);
    }
  });
}
