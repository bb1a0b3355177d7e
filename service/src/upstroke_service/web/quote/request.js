/** From what was answered to the body of a sizing, and back from its faults to what was answered. */

/**
 * @param {Array} facts `{ id, pointer, value, entry }`; of a list `entry` tells its entries apart.
 * @returns {{body: object, sources: Map<string, string>}} The body, and by JSON Pointer what answered it.
 */
export function requestOf(facts, { catalogue, reference }) {
  const body = {};
  const sources = new Map();
  const entries = new Map();
  if (reference) body.client_reference = reference;
  for (const { id, pointer, value, entry } of facts) {
    const place = entry ? placed(pointer, entry, entries) : pointer;
    put(body, place.slice(1).split('/'), value);
    sources.set(place, id);
  }
  if (catalogue) body.selection = { catalogue };
  return { body, sources };
}

/** The pointer with the place of `entry` in its list, by the order in which entries come. */
function placed(pointer, entry, entries) {
  const [list, member] = pointer.split('/0/');
  const known = entries.get(list) ?? [];
  entries.set(list, known);
  if (!known.includes(entry)) known.push(entry);
  return `${list}/${known.indexOf(entry)}/${member}`;
}

function put(node, [step, ...rest], value) {
  if (!rest.length) {
    node[step] = value;
    return;
  }
  node[step] ??= /^\d+$/.test(rest[0]) ? [] : {};
  put(node[step], rest, value);
}

/** The id of what answered the fact at `pointer`, or one above or below it. */
export function answeredBy(pointer, sources) {
  if (sources.has(pointer)) return sources.get(pointer);
  const near = [...sources.keys()].find((one) =>
    one.startsWith(`${pointer}/`) || pointer.startsWith(`${one}/`));
  return near && pointer ? sources.get(near) : undefined;
}
