/** Asking the service, with an end to waiting. */

const LONGEST = 20_000; // milliseconds
const SLOW = 3_000;

/** Why there is no answer. `kind` is a word of the texts' `problems`, `wait` seconds to wait before the next try. */
export class Problem extends Error {
  constructor(kind, { status = 0, detail = '', wait = 0, body } = {}) {
    super(detail || kind);
    Object.assign(this, { kind, status, detail, wait, body });
  }
}

/**
 * The response, whose status is below 400. Throws Problem otherwise.
 *
 * @param {object} options `body`, `language`, `key`, `accept`, and `slow`, called where it takes long.
 */
export async function ask(address, { body, language, key, accept = 'application/json', slow = () => {}, cancel }) {
  const ending = new AbortController();
  const timers = [setTimeout(() => ending.abort(), LONGEST), setTimeout(slow, SLOW)];
  cancel?.addEventListener('abort', () => ending.abort());
  try {
    const response = await fetch(address, {
      method: body ? 'POST' : 'GET',
      headers: {
        Accept: accept,
        ...(language && { 'Accept-Language': language }),
        ...(body && { 'Content-Type': 'application/json' }),
        ...(key && { Authorization: `Bearer ${key}` }),
      },
      body: body && JSON.stringify(body),
      credentials: 'omit',
      signal: ending.signal,
    });
    if (!response.ok) throw await refusal(response);
    return await (accept === 'application/json' ? response.json() : response.blob());
  } catch (error) {
    throw error instanceof Problem ? error : failure(ending.signal.aborted);
  } finally {
    timers.forEach(clearTimeout);
  }
}

function failure(aborted) {
  if (aborted) return new Problem('timeout');
  return new Problem(navigator.onLine ? 'unreachable' : 'offline');
}

async function refusal(response) {
  const body = await response.json().catch(() => undefined);
  const told = { status: response.status, detail: body?.detail, body, wait: Number(response.headers.get('Retry-After')) || 0 };
  if (body?.errors) return new Problem('faults', told);
  if ([429, 503].includes(response.status)) return new Problem('busy', told);
  if ([401, 403].includes(response.status)) return new Problem('refused', told);
  return new Problem('other', { ...told, detail: body?.detail ?? `HTTP ${response.status}` });
}
