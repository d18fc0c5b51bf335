/** Long work followed while it goes on. */

import { call, send } from './net.js';

/**
 * @typedef {object} Hearing
 * @property {(shown: {state: string, told: string, seconds: number}) => void} told
 * @property {(result: any) => void} done
 * @property {(error: {message: string, where: string, remedy: string} | null) => void} failed
 * @property {boolean} [asFile] the result is a file, not JSON
 */

/**
 * Follow a piece of work; what comes back ends the listening.
 * @param {string} id
 * @param {Hearing} hearing
 */
export function follow(id, hearing) {
  const source = new EventSource(`/api/work/${id}/progress`);
  let left = false;
  const leave = () => {
    left = true;
    source.close();
  };
  source.addEventListener('message', async (event) => {
    const shown = JSON.parse(event.data);
    if (shown.state === 'working' || shown.state === 'waiting') return hearing.told(shown);
    source.close();
    if (shown.state !== 'done') return hearing.failed(shown.error);
    try {
      const path = `/api/work/${id}/result`;
      const result = hearing.asFile ? await (await send('GET', path)).blob() : await call('GET', path);
      if (!left) hearing.done(result);
    } catch {
      if (!left) hearing.failed(null);
    }
  });
  source.addEventListener('error', () => {
    if (source.readyState === EventSource.CLOSED && !left) hearing.failed(null);
  });
  return leave;
}
