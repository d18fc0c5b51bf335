/** Calls of the server: one shape of refusal, and the network's absence told apart. */

/** @typedef {{message: string, where: string, value: string | null, remedy: string}} Refusal */

/** The server said no. */
export class RefusedError extends Error {
  /**
   * @param {number} status
   * @param {Refusal} refusal
   */
  constructor(status, refusal) {
    super(refusal.message);
    this.status = status;
    this.refusal = refusal;
  }
}

/** The server could not be reached. */
export class AwayError extends Error {}

/**
 * @param {string} method
 * @param {string} path
 * @param {unknown} [body]
 * @param {{signal?: AbortSignal, keepalive?: boolean}} [options]
 * @returns {Promise<any>}
 */
export async function call(method, path, body, options = {}) {
  const answer = await send(method, path, body, options);
  if (answer.status === 204) return null;
  return answer.json();
}

/**
 * @param {string} method
 * @param {string} path
 * @param {unknown} [body]
 * @param {{signal?: AbortSignal, keepalive?: boolean}} [options]
 * @returns {Promise<Response>}
 */
export async function send(method, path, body, options = {}) {
  /** @type {Record<string, string>} */
  const headers = { 'x-plankwright': '1' };
  /** @type {BodyInit | undefined} */
  let content;
  if (body instanceof Blob) content = body;
  else if (body !== undefined) {
    headers['content-type'] = 'application/json';
    content = JSON.stringify(body);
  }
  let answer;
  try {
    answer = await fetch(path, { method, headers, body: content, ...options });
  } catch (error) {
    if (options.signal?.aborted) throw error;
    throw new AwayError(String(error));
  }
  if (answer.ok) return answer;
  // Signed out: what is not sent yet is kept on this device until it is let in again.
  if (answer.status === 401 && location.pathname !== '/pair') location.assign('/pair');
  throw new RefusedError(answer.status, await refusalIn(answer));
}

/**
 * @param {Response} answer
 * @returns {Promise<Refusal>}
 */
async function refusalIn(answer) {
  try {
    return (await answer.json()).error;
  } catch {
    return { message: `the server answered ${answer.status}`, where: '', value: null, remedy: '' };
  }
}

/**
 * Only the latest of several calls counts; an older one is dropped when a newer is asked.
 * One call runs at a time: what is asked meanwhile waits, and only the last of it is sent.
 * @template A, R
 * @param {(argument: A) => Promise<R>} ask
 * @param {(result: R, argument: A) => void} take
 * @param {(error: unknown) => void} fail
 * @returns {(argument: A) => void}
 */
export function latest(ask, take, fail) {
  let running = false;
  /** @type {{argument: A} | null} */
  let waiting = null;
  /** @param {A} argument */
  const run = async (argument) => {
    running = true;
    try {
      const result = await ask(argument);
      if (!waiting) take(result, argument);
      else take(result, argument);
    } catch (error) {
      if (!waiting) fail(error);
    }
    running = false;
    if (waiting) {
      const next = waiting.argument;
      waiting = null;
      run(next);
    }
  };
  return (argument) => {
    if (running) waiting = { argument };
    else run(argument);
  };
}
