/** What an answer rests on: assumptions, questions, the other candidates, sources, and what it is. */

import { element, folded, named, section, table } from './dom.js';

const NONE = '–';
const UNSOURCED = 'common-practice';

/** What was assumed, grouped by why. */
export function assumptionsSection({ assumptions }, { words }) {
  if (!assumptions.length) return undefined;
  const bases = [...new Set(assumptions.map(({ basis }) => basis))];
  return section('assumptions', words.assumptions.title,
    element('p', {}, words.assumptions.intro(assumptions.length)),
    folded(words.assumptions.all(assumptions.length), bases.map((basis) => [
      element('h4', {}, words.assumptions.because(basis)),
      element('ul', {}, assumptions.filter((one) => one.basis === basis).map(({ text }) => element('li', {}, text))),
    ])));
}

/** What to ask the customer next, the most useful first. */
export function questionsSection({ questions }, { words }) {
  if (!questions.length) return undefined;
  return section('questions', words.questions.title,
    element('ol', {}, questions.map((one) => element('li', { 'data-pointer': one.pointer },
      element('p', {}, element('b', {}, one.text), ' ', element('span', { class: 'effect' }, words.questions.effects[one.effect] ?? '')),
      element('p', {}, one.why),
      one.consequence && element('p', {}, one.consequence)))));
}

/** All candidates side by side. */
export function candidatesSection({ candidates }, { words, figures }) {
  if (!candidates.length) return undefined;
  const said = words.candidates;
  const rows = candidates.map(({ cylinder, outcome, lift_budget: budget, ceiling, fill, effort }) => {
    const pumps = fill.strokes > 0;
    return [
      [named(cylinder.name), element('span', { class: 'quiet' }, words.outcomes[outcome] ?? '')],
      figures.quantity(cylinder.bore), figures.quantity(budget.total_head), figures.quantity(budget.rated_lift),
      ceiling.pressure.value < 0 ? said.none : figures.tenths(ceiling.pressure),
      pumps ? figures.quantity(fill.water) : NONE, pumps ? figures.number(fill.strokes) : NONE,
      pumps ? figures.duration(fill.time) : NONE, figures.quantity(effort.hand_force),
    ];
  });
  return section('candidates', said.title,
    folded(said.all(rows.length), element('p', {}, said.intro), table(said.title, said.columns, rows)));
}

/** What would fit at which depth, where nobody knows the depth. */
export function depthsSection({ depth_table: depths }, { words, figures }) {
  if (!depths) return undefined;
  const { static_water_level: level, fitting, best, hand_force: force, time } = depths;
  const said = words.depths;
  const rows = level.values.map((value, index) => {
    const fits = best[index] !== '';
    return [
      figures.quantity({ value, unit: level.unit }), figures.number(fitting.values[index]),
      fits ? named(best[index]) : said.nothing,
      fits ? figures.quantity({ value: force.values[index], unit: force.unit }) : NONE,
      fits ? figures.duration({ value: time.values[index], unit: time.unit }) : NONE,
    ];
  });
  return section('depths', said.title, element('p', {}, said.intro), table(said.title, said.columns, rows));
}

/** Numbers the sources as the answer refers to them. */
export function sourcesOf(words) {
  const found = new Map();
  const list = element('ol', {});
  const place = folded(words.sources.title, list);

  function entry({ key, citation }) {
    if (!found.has(key)) {
      const item = element('li', { tabindex: '-1' }, citation);
      list.append(item);
      found.set(key, { item, number: found.size + 1 });
    }
    return found.get(key);
  }

  /** Small numbers that lead to the sources of something; none for common practice. */
  function refer(basis) {
    return basis.filter(({ key }) => key !== UNSOURCED).map((source) => {
      const { item, number } = entry(source);
      const button = element('button', { type: 'button', class: 'reference', 'aria-label': words.sources.source(number) }, `[${number}]`);
      button.addEventListener('click', () => {
        place.open = true;
        item.focus();
      });
      return [' ', button];
    }).flat();
  }

  /** The section that lists them; asked for last. */
  function listed() {
    return section('sources', words.sources.heading, element('p', {}, words.sources.intro), found.size > 0 && place);
  }

  return { refer, listed };
}

/** What this answer is, and what to quote when asking about it. */
export function scopeSection(answer, { words }) {
  const rows = [
    [words.scope.reference, answer.client_reference],
    [words.scope.catalogue, answer.catalogue.name],
    [words.scope.model, answer.model_version],
    [words.scope.calculation, answer.calculation_id],
  ].filter(([, value]) => value !== undefined);
  return section('scope', words.scope.title,
    element('p', {}, answer.scope),
    element('p', {}, rows.map(([name, value]) => element('span', {}, name, ' ', named(value)))));
}
