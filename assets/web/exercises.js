// Exercise sheets, drawn in this browser and handed out as files.
import { at, fill, say } from "./dom.js";
import { download } from "./files.js";

const TYPES = { html: "text/html", pdf: "application/pdf", xml: "application/xml", zip: "application/zip" };

export async function exerciseSheets(compute) {
  const topics = await compute.ask("sheetTopics");
  fill(at("sheet-topic"), topics, "mixed");

  function options() {
    const asked = new FormData(at("sheet-form"));
    const level = asked.get("level");
    const marks = Number(asked.get("marks"));
    return {
      topic: asked.get("topic"), count: Number(asked.get("count")), seed: Number(asked.get("seed")), course: asked.get("course"),
      us: asked.get("units") === "us", paper: asked.get("paper"), ...(level ? { level } : {}), ...(marks ? { marks } : {}),
    };
  }

  // With the same numbers a sheet is the same on every machine, so its files can be fetched one by one.
  at("sheet-form").addEventListener("submit", async (event) => {
    event.preventDefault();
    const name = event.submitter.value;
    const buttons = at("sheet-form").querySelectorAll("button");
    for (const button of buttons) button.disabled = true;
    say(at("sheet-said"), "The problems are drawn and proven …");
    try {
      const made = await compute.ask("sheet", options(), name);
      download(name, new Blob([made], { type: TYPES[name.split(".").pop()] }));
      say(at("sheet-said"), `Saved: ${name}`);
    } catch (trouble) {
      say(at("sheet-said"), trouble.problems[0].message);
    }
    for (const button of buttons) button.disabled = false;
  });
}
