import { answer, figure } from "./package/index.js";

const text = document.getElementById("scene").textContent;
const { verdict, reason } = await answer(text);
document.getElementById("verdict").textContent = `${verdict} ${reason}`;
const svg = await figure(text, { parts: "question,reactions,values" });
const drawn = document.getElementById("drawn");
drawn.src = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
drawn.alt = verdict;
