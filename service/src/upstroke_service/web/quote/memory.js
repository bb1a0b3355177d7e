/** What was entered, kept for as long as the browser's tab: it survives a reload, and is nobody else's. */

const EMPTY = { system: '', text: {}, units: {}, chosen: {}, unsure: {} };

/** What was kept under `name`, ready to be changed; `save` keeps it, `forget` empties it. */
export function remembered(name) {
  const key = `upstroke-quote:${name}`;
  const state = { ...structuredClone(EMPTY), ...stored(key) };
  return {
    state,
    save: () => quietly(() => sessionStorage.setItem(key, JSON.stringify(state))),
    forget() {
      Object.assign(state, structuredClone(EMPTY), { system: state.system });
      quietly(() => sessionStorage.removeItem(key));
    },
  };
}

function stored(key) {
  return quietly(() => JSON.parse(sessionStorage.getItem(key))) ?? {};
}

/** Some pages may not store anything: then nothing is kept, and the form works all the same. */
function quietly(act) {
  try {
    return act();
  } catch {
    return undefined;
  }
}
