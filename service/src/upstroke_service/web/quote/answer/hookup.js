/** How to connect the pump: the way, its conditions and checks, the steps in order, and the parts. */

import { element, folded, named, section } from './dom.js';

/** The section on connecting the pump; none where no way is advised. */
export function hookupSection({ hookup, procedure = [] }, context) {
  if (!hookup) return undefined;
  const said = context.words.hookup;
  return section('hookup', said.title,
    element('p', { class: 'lead' }, said.best(hookup.name)),
    element('p', {}, hookup.text),
    hookup.conditions.length > 0 && element('div', { class: 'conditions' },
      element('h4', {}, said.conditions), tasks('ul', hookup.conditions, context)),
    hookup.advantages.length + hookup.drawbacks.length > 0 && folded(said.forAndAgainst,
      points(said.advantages, hookup.advantages, context), points(said.drawbacks, hookup.drawbacks, context)),
    hookup.checks.length > 0 && [element('h4', {}, said.checks), tasks('ul', hookup.checks, context)],
    phases(procedure).map(([phase, steps]) => [
      element('h4', {}, said.phases[phase] ?? said.phases.other),
      tasks('ol', steps, context, steps[0].number),
    ]));
}

/** Steps in the order in which they are taken, divided where the phase changes. */
function phases(steps) {
  const found = [];
  for (const step of steps) {
    if (found.at(-1)?.[0] === step.phase) found.at(-1)[1].push(step);
    else found.push([step.phase, [step]]);
  }
  return found;
}

/** A list of tasks, with who may do each; said once where it is the same for all. */
function tasks(list, entries, { sources }, start) {
  const whos = new Set(entries.map(({ who }) => who));
  const who = (said) => element('span', { class: 'quiet' }, said);
  return [
    whos.size === 1 && element('p', {}, who(entries[0].who)),
    element(list, { start }, entries.map((task) => element('li', {},
      task.text, sources.refer(task.basis), whos.size > 1 && [' ', who(task.who)]))),
  ];
}

function points(title, entries, { sources }) {
  return entries.length > 0 && [
    element('h4', {}, title),
    element('ul', {}, entries.map((point) => element('li', {}, point.text, sources.refer(point.basis)))),
  ];
}

/** The section on what to buy: what the catalogue quotes, and what else to have at hand. */
export function partsSection({ parts = [], hookup }, context) {
  const others = hookup?.parts ?? [];
  if (!parts.length && !others.length) return undefined;
  const said = context.words.parts;
  return section('shopping', said.title,
    parts.length > 0 && quoted(parts, context),
    others.length > 0 && folded(said.others(others.length), atHand(others, context)));
}

function quoted(parts, { words, figures }) {
  const said = words.parts;
  return element('table', {},
    element('thead', {}, element('tr', {}, [said.part, said.quantity, said.price].map((text) => element('th', { scope: 'col' }, text)))),
    element('tbody', {}, parts.map((part) => element('tr', {},
      element('th', { scope: 'row' }, named(part.name), element('span', { class: 'quiet' }, partNotes(part, said, figures))),
      element('td', {}, figures.number(part.quantity)),
      element('td', {}, part.price === undefined ? said.onRequest : figures.money(part.price, part.currency))))));
}

function partNotes({ sku, lead_time_days: days }, said, figures) {
  return days === undefined ? sku : `${sku}, ${said.leadTime(days, figures.number(days))}`;
}

function atHand(parts, { words, figures, sources }) {
  return element('ul', {}, parts.map((part) => element('li', {},
    part.quantity > 1 && `${figures.number(part.quantity)} × `, part.text,
    part.length && ` ${words.parts.length(figures.quantity(part.length))}`, sources.refer(part.basis))));
}
