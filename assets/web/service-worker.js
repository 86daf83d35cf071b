// Keeps the page's own files, so that it goes on working without a network. Nothing else is ever asked for.
const CACHE = "sixhold-VERSION";
// Large, and not needed by all: kept once it has been asked for.
const KEPT_WHEN_USED = ["sixhold-window.js", "sixhold-window_bg.wasm"];
const FILES = ["./", "index.html", "page.css", "page.js", "compute.js", "dom.js", "exercises.js", "files.js", "hand.js", "history.js", "home.js", "making.js", "markup.js", "motion.js", "turn.js", "video.js", "window.js",
  "worker.js", "sixhold.js", "sixhold_bg.wasm", "icon.svg", "IBMPlexSans-Medium.ttf", "IBMPlexSans-Bold.ttf"];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(FILES)));
  self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  const old = (names) => names.filter((name) => name.startsWith("sixhold-") && name !== CACHE);
  event.waitUntil(caches.keys().then((names) => Promise.all(old(names).map((name) => caches.delete(name)))));
  self.clients.claim();
});

self.addEventListener("fetch", (event) => {
  const own = new URL(event.request.url).origin === self.location.origin;
  if (event.request.method !== "GET" || !own) return;
  event.respondWith(caches.match(event.request, { ignoreSearch: true }).then((kept) => kept ?? fetched(event.request)));
});

async function fetched(request) {
  const answer = await fetch(request);
  const name = new URL(request.url).pathname.split("/").pop();
  if (answer.ok && KEPT_WHEN_USED.includes(name)) {
    const cache = await caches.open(CACHE);
    await cache.put(request, answer.clone());
  }
  return answer;
}
