/**
 * Where the phone keeps its events: the browser's database, or its plain storage where there is
 * none. An event counts once it is kept. Nothing kept is ever deleted.
 */

/**
 * @typedef {import('./fold.js').LayingEvent} LayingEvent
 * @typedef {object} Keep
 * @property {() => Promise<LayingEvent[]>} load
 * @property {(events: LayingEvent[]) => Promise<void>} add an event whose id is there does nothing
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
    asked.onupgradeneeded = () => asked.result.createObjectStore('events', { keyPath: 'id' });
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
    asked.onblocked = () => reject(new Error('blocked'));
  });
}

/** @param {IDBDatabase} database @returns {Keep} */
function databaseKeep(database) {
  return {
    lasting: true,
    load: () => new Promise((resolve, reject) => {
      const asked = database.transaction('events').objectStore('events').getAll();
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => reject(asked.error);
    }),
    add: (events) => new Promise((resolve, reject) => {
      const work = database.transaction('events', 'readwrite', { durability: 'strict' });
      for (const event of events) work.objectStore('events').put(event);
      work.oncomplete = () => resolve();
      work.onerror = () => reject(work.error);
      work.onabort = () => reject(work.error);
    }),
  };
}

/** An event an entry. @param {Storage} storage @param {string} job @returns {Keep} */
export function storageKeep(storage, job) {
  const prefix = `plankwright ${job} `;
  storage.setItem(`${prefix}?`, '');
  storage.removeItem(`${prefix}?`);
  return {
    lasting: true,
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
  return { lasting: false, load: async () => events, add: async (more) => { events.push(...more); } };
}
