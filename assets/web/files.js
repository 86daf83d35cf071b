// Scene files of this machine: opened, and saved where they came from in browsers that let a page do so.
import { at } from "./dom.js";

const TYPES = [{ description: "Scenes", accept: { "text/plain": [".ron"] } }];

const wasStopped = (error) => error.name === "AbortError";

export class SceneFiles {
  // The file of the scene that is shown, where it can be written to.
  #handle = null;

  // Asks for a file; gives nothing where none was chosen, or where the answer comes as a change of the field of files.
  async choose() {
    if (!window.showOpenFilePicker) {
      at("file").click();
      return null;
    }
    try {
      const [handle] = await showOpenFilePicker({ types: TYPES });
      return { file: await handle.getFile(), handle };
    } catch (error) {
      if (wasStopped(error)) return null;
      throw error;
    }
  }

  // Another scene is shown; it came from this file, or from none.
  follow(handle = null) {
    this.#handle = handle;
  }

  // Saves a text under a name; gives the name of its file, or nothing where that was stopped.
  async save(name, text) {
    try {
      if (window.showSaveFilePicker) {
        this.#handle ??= await showSaveFilePicker({ suggestedName: `${name}.ron`, types: TYPES });
        const file = await this.#handle.createWritable();
        await file.write(text);
        await file.close();
        return this.#handle.name;
      }
    } catch (error) {
      if (wasStopped(error)) return null;
      this.#handle = null;
      if (error.name !== "SecurityError" && error.name !== "NotAllowedError") throw error;
    }
    // Where no file can be written, it is a download.
    download(`${name}.ron`, new Blob([text], { type: "text/plain" }));
    return `${name}.ron`;
  }
}

export function download(name, blob) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
