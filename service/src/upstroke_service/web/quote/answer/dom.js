/** Elements made of names, attributes and children. Every string becomes a text node, never markup. */

const SVG = 'http://www.w3.org/2000/svg';

/** An element of HTML. Attributes and children that are undefined or false are left out. */
export function element(name, attributes = {}, ...children) {
  return filled(document.createElement(name), attributes, children);
}

/** The same of SVG. */
export function drawn(name, attributes = {}, ...children) {
  return filled(document.createElementNS(SVG, name), attributes, children);
}

function filled(made, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== undefined && value !== false) made.setAttribute(name, value === true ? '' : value);
  }
  made.append(...children.flat(Infinity).filter((child) => child !== undefined && child !== false));
  return made;
}

/** A part of the answer under its heading. */
export function section(name, title, ...children) {
  return element('section', { class: name }, element('h3', { tabindex: '-1' }, title), ...children);
}

/** What opens on demand. */
export function folded(title, ...children) {
  return element('details', {}, element('summary', {}, title), ...children);
}

/** A table that scrolls sideways where it is wider than its place; the first cell of each row names the row. */
export function table(caption, heads, rows) {
  const head = element('tr', {}, heads.map((text) => element('th', { scope: 'col' }, text)));
  const body = rows.map(([first, ...cells]) =>
    element('tr', {}, element('th', { scope: 'row' }, first), cells.map((cell) => element('td', {}, cell))));
  return element('div', { class: 'wide', role: 'region', tabindex: '0', 'aria-label': caption },
    element('table', {}, element('thead', {}, head), element('tbody', {}, body)));
}

/** A name that somebody else chose: its direction of writing stays its own. */
export function named(text) {
  return element('bdi', {}, text);
}
