// Keeps the page's own files, so that it goes on working without a network. Nothing else is ever asked for.
const CACHE = "sixhold-VERSION";
const FILES = ["./", "index.html", "page.css", "page.js", "compute.js", "dom.js", "hand.js", "history.js", "home.js", "markup.js", "turn.js",
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
  event.respondWith(caches.match(event.request, { ignoreSearch: true }).then((kept) => kept ?? fetch(event.request)));
});
