/** What this device keeps by itself: small values under names, safe before they are acknowledged. */

const NAME = 'plankwright';
const TABLE = 'pocket';

/** @type {Promise<IDBDatabase> | null} */
let opened = null;
/** @type {Map<string, any>} where the browser keeps nothing, until the tab is closed */
const inMemory = new Map();

function open() {
  opened ??= new Promise((resolve, reject) => {
    const asking = indexedDB.open(NAME, 1);
    asking.onupgradeneeded = () => asking.result.createObjectStore(TABLE);
    asking.onsuccess = () => resolve(asking.result);
    asking.onerror = () => reject(asking.error);
  });
  return opened;
}

/**
 * @param {string} key
 * @param {any} value undefined takes it away
 */
export async function keep(key, value) {
  inMemory.set(key, value);
  try {
    const database = await open();
    await new Promise((resolve, reject) => {
      const writing = database.transaction(TABLE, 'readwrite', { durability: 'strict' });
      if (value === undefined) writing.objectStore(TABLE).delete(key);
      else writing.objectStore(TABLE).put(value, key);
      writing.oncomplete = () => resolve(null);
      writing.onerror = () => reject(writing.error);
      writing.onabort = () => reject(writing.error);
    });
  } catch {
    // In memory it is kept all the same.
  }
}

/**
 * @param {string} key
 * @returns {Promise<any>} undefined where there is nothing
 */
export async function kept(key) {
  if (inMemory.has(key)) return inMemory.get(key);
  try {
    const database = await open();
    return await new Promise((resolve, reject) => {
      const reading = database.transaction(TABLE).objectStore(TABLE).get(key);
      reading.onsuccess = () => resolve(reading.result);
      reading.onerror = () => reject(reading.error);
    });
  } catch {
    return undefined;
  }
}

/** A name of this device that stays the same. */
export function deviceName() {
  const known = localStorage.getItem('device');
  if (known) return known;
  const name = randomName();
  localStorage.setItem('device', name);
  return name;
}

/** A name that nobody else makes up; crypto.randomUUID is missing over plain http. */
export function randomName() {
  return [...crypto.getRandomValues(new Uint8Array(9))].map((byte) => byte.toString(36).padStart(2, '0')).join('');
}
