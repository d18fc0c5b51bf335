/* The offline worker: the page's own files are kept; what the server answers never is. */
const KEPT = 'plankwright-1';

self.addEventListener('install', (event) => event.waitUntil(self.skipWaiting()));
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));
self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  const own = url.origin === self.location.origin;
  if (!own || event.request.method !== 'GET' || url.pathname.startsWith('/api/')) return;
  event.respondWith(fresh(event.request));
});

/** From the network and kept; from what was kept when there is no network. */
async function fresh(request) {
  const kept = await caches.open(KEPT);
  try {
    const answer = await fetch(request);
    if (answer.ok) kept.put(request, answer.clone());
    return answer;
  } catch (error) {
    const before = await kept.match(request, { ignoreSearch: true });
    if (before) return before;
    throw error;
  }
}
