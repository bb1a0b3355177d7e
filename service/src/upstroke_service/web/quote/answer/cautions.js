/** Cautions under the signal words of ANSI Z535.6: the word says how bad it is, in print and to the ear alike. */

import { element, folded, section } from './dom.js';

/** The section on cautions, worst first; none where there are none. */
export function cautionsSection({ cautions }, { words, sources }) {
  if (!cautions.length) return undefined;
  const said = words.cautions;
  return section('cautions', said.title,
    element('p', {}, said.intro),
    element('ul', {}, cautions.map((one) => element('li', { class: one.signal },
      element('strong', { class: 'signal' }, said.signals[one.signal] ?? one.signal),
      element('div', {},
        element('p', { class: 'text' }, one.text, sources.refer(one.basis)),
        element('div', { class: 'reason' },
          folded(said.why, element('p', {}, one.why)), element('p', { class: 'quiet' }, one.who)))))));
}
