/** What one fill gives the household, and what every day needs. */

import { element, section } from './dom.js';

/** The section on the reserve of one fill and on daily needs; none where the answer has neither. */
export function householdSection({ reserve, needs }, context) {
  if (!reserve && !needs) return undefined;
  return section('household', context.words.household.title,
    reserve && reserveParts(reserve, context),
    needs && needParts(needs, context));
}

function reserveParts(reserve, { words, figures, sources }) {
  const said = words.household;
  const falls = reserve.from_pressure.value > reserve.to_pressure.value;
  return [
    element('p', { class: 'lead' }, falls
      ? said.usable(figures.quantity(reserve.water), figures.quantity(reserve.from_pressure), figures.quantity(reserve.to_pressure))
      : said.usableOpen(figures.quantity(reserve.water))),
    covered(said.enough, reserve.covers.filter(({ count }) => count >= 1), (count) => figures.number(Math.floor(count))),
    covered(said.notEnough, reserve.covers.filter(({ count }) => count < 1), (count) => figures.number(count, 1)),
    findings(reserve.findings),
  ];

  function covered(title, uses, written) {
    return uses.length > 0 && [
      element('p', {}, title),
      element('ul', { class: 'covers' }, uses.map((use) => element('li', {},
        element('b', {}, written(use.count)), ' ',
        element('span', {}, use.text, sources.refer([use.basis]), flow(use, said, figures))))),
    ];
  }
}

function flow(use, said, figures) {
  if (!use.flow || !use.last_flow) return undefined;
  return element('span', { class: 'quiet' }, said.flow(figures.quantity(use.flow), figures.quantity(use.last_flow), figures.quantity(use.to_pressure)));
}

function needParts(needs, { words, sources }) {
  return [
    element('h4', {}, words.household.daily),
    element('p', {}, needs.summary),
    element('ul', {}, needs.lines.map((line) => element('li', {}, line.text, sources.refer(line.basis),
      line.varies && element('span', { class: 'quiet' }, line.varies)))),
    findings(needs.findings),
  ];
}

function findings(found) {
  return found.length > 0 && element('ul', {}, found.map(({ text }) => element('li', {}, text)));
}
