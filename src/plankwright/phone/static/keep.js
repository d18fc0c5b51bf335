/**
 * Where the phone keeps its events and photographs: the browser's database, or its plain storage
 * where there is none. An event counts once it is kept. Nothing kept is ever deleted.
 */

/**
 * @typedef {import('./fold.js').LayingEvent} LayingEvent
 * @typedef {{ digest: string, blob: Blob }} Photo
 * @typedef {object} Keep
 * @property {() => Promise<LayingEvent[]>} load
 * @property {(events: LayingEvent[]) => Promise<void>} add an event whose id is there does nothing
 * @property {((photo: Photo) => Promise<void>) | null} addPhoto null where photographs are too large
 * @property {() => Promise<Photo[]>} photos
 * @property {boolean} lasting whether it outlives the page
 */

/** @param {string} job @returns {Promise<Keep>} */
export async function openKeep(job) {
  try {
    return databaseKeep(await openDatabase(job));
  } catch {
    try {
      return storageKeep(window.localStorage, job);
    } catch {
      return memoryKeep();
    }
  }
}

/** @param {string} job @returns {Promise<IDBDatabase>} */
function openDatabase(job) {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(`plankwright-${job}`, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore('events', { keyPath: 'id' });
      asked.result.createObjectStore('photographs', { keyPath: 'digest' });
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
    asked.onblocked = () => reject(new Error('blocked'));
  });
}

/** @param {IDBDatabase} database @returns {Keep} */
function databaseKeep(database) {
  /** @param {string} store @returns {Promise<any[]>} */
  const all = (store) => new Promise((resolve, reject) => {
    const asked = database.transaction(store).objectStore(store).getAll();
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  /** @param {string} store @param {object[]} things @returns {Promise<void>} */
  const put = (store, things) => new Promise((resolve, reject) => {
    const work = database.transaction(store, 'readwrite', { durability: 'strict' });
    for (const thing of things) work.objectStore(store).put(thing);
    work.oncomplete = () => resolve();
    work.onerror = () => reject(work.error);
    work.onabort = () => reject(work.error);
  });
  return {
    lasting: true,
    load: () => all('events'),
    add: (events) => put('events', events),
    photos: () => all('photographs'),
    addPhoto: (photo) => put('photographs', [photo]),
  };
}

/** An event an entry. @param {Storage} storage @param {string} job @returns {Keep} */
export function storageKeep(storage, job) {
  const prefix = `plankwright ${job} event `;
  storage.setItem(`${prefix}?`, '');
  storage.removeItem(`${prefix}?`);
  return {
    lasting: true,
    photos: async () => [],
    addPhoto: null,
    load: async () => Object.keys(storage)
      .filter((key) => key.startsWith(prefix))
      .map((key) => JSON.parse(/** @type {string} */ (storage.getItem(key)))),
    add: async (events) => {
      for (const event of events) storage.setItem(prefix + event.id, JSON.stringify(event));
    },
  };
}

/** @returns {Keep} */
function memoryKeep() {
  /** @type {LayingEvent[]} */
  const events = [];
  const add = async (/** @type {LayingEvent[]} */ more) => { events.push(...more); };
  return { lasting: false, load: async () => events, add, photos: async () => [], addPhoto: null };
}
