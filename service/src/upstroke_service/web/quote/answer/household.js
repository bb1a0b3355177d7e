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
    reserve.covers.length > 0 && element('p', {}, said.enough),
    element('ul', { class: 'covers' }, reserve.covers.map((use) => element('li', {},
      element('b', {}, figures.number(use.count < 1 ? use.count : Math.floor(use.count), 1)), ' ',
      element('span', {}, use.text, sources.refer([use.basis]), flow(use, said, figures))))),
    reserve.serving_tank && element('p', {}, said.servingTank(figures.quantity(reserve.serving_tank))),
    findings(reserve.findings),
  ];
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
