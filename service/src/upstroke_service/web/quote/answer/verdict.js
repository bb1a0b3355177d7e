/** The verdict in a sentence, what it takes at the handle, and what must be known before anyone begins. */

import { element, section } from './dom.js';

const WORST = ['danger', 'warning'];

/** The verdict, with ways on to cautions and questions: `to` finds their sections. */
export function verdictSection(answer, to, { words }) {
  const worst = WORST
    .map((signal) => [signal, answer.cautions.filter((one) => one.signal === signal).length])
    .filter(([, count]) => count);
  const ways = [
    worst.length && [words.verdict.readFirst(worst.map(([signal, count]) => words.cautions.count(signal, count))), 'cautions'],
    answer.questions.length && [words.verdict.askNext(answer.questions.length), 'questions'],
  ].filter(Boolean);
  return element('section', { class: `verdict ${answer.verdict}` },
    element('h2', { tabindex: '-1' }, words.verdict[answer.verdict] ?? words.verdict.other),
    element('p', { class: 'lead' }, answer.summary),
    answer.catalogue.invented && element('p', { class: 'invented' }, answer.catalogue.notice),
    ways.length > 0 && element('ul', { class: 'ways' }, ways.map(([text, name]) => element('li', {}, wayTo(text, () => to(name))))));
}

function wayTo(text, find) {
  const button = element('button', { type: 'button', class: 'way' }, text);
  button.addEventListener('click', () => find().querySelector('h3').focus());
  return button;
}

/** What the recommended fill takes; none where nothing is recommended. */
export function effortSection({ candidates, recommended, sessions, inertia }, { words, figures }) {
  const chosen = candidates.find((one) => one.cylinder.id === recommended);
  if (!chosen) return undefined;
  const { fill, effort } = chosen;
  const said = words.effort;
  const rises = fill.end.value > fill.start.value;
  const facts = [
    [said.strokes, figures.number(fill.strokes), said.pace(figures.quantity(effort.cadence_at_start), figures.quantity(effort.cadence_at_end))],
    [said.time, figures.duration(fill.time), said.rests],
    [said.force, figures.quantity(effort.hand_force), said.forceFrom(figures.quantity(effort.hand_force_at_start))],
    [said.water, figures.quantity(fill.water), rises && said.pressure(figures.quantity(fill.start), figures.quantity(fill.end))],
    sessions && [said.who, said.people(sessions.people), said.sessions(sessions.count, sessions.people)],
  ].filter(Boolean);
  const remedies = inertia?.remedies ?? [];
  return section('effort', said.title,
    element('dl', {}, facts.map(([name, value, note]) => element('div', {},
      element('dt', {}, name), element('dd', {}, element('b', {}, value), note && element('span', { class: 'quiet' }, note))))),
    (sessions?.findings ?? []).map(({ text }) => element('p', {}, text)),
    remedies.length > 0 && [
      element('h4', {}, said.easier),
      element('ul', {}, remedies.map(({ text }) => element('li', {}, text))),
    ]);
}
