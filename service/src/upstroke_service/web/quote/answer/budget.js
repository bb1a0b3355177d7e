/** How high the water must go, line by line, against what each cylinder is rated for. */

import { drawn, element, folded, named, section } from './dom.js';

const SHOWN = 4;
const BAR = { top: 22, height: 26, below: 6 };
const LABELLED = 14; // percent of the width from which a part carries its number

/** Parts of the total head as they are drawn; together they hold every line of a lift budget. */
const PARTS = {
  water: ['static_water_level'],
  fall: ['well_drawdown'],
  up: ['outlet_height', 'rise'],
  pressure: ['pressure_head'],
  losses: ['drop_pipe_friction', 'conduit_friction', 'fitting_losses', 'check_valve'],
};

const LINES = {
  fall: [['circle', { cx: 4, cy: 4, r: 1.6 }]],
  up: [['path', { d: 'M0 2H8M0 6H8' }]],
  pressure: [['path', { d: 'M-2 2 2 -2M0 8 8 0M6 10 10 6' }]],
  losses: [['path', { d: 'M0 0 8 8M8 0 0 8' }]],
};

/** The section on the lift budgets of all candidates; none where there are no candidates. */
export function budgetSection({ candidates, recommended }, context) {
  if (!candidates.length) return undefined;
  const { words } = context;
  const scale = 100 / Math.max(...candidates.flatMap(({ lift_budget: budget }) => [reach(budget), budget.rated_lift.value]), 1);
  const rows = candidates.map((one) => candidateRow(one, one.cylinder.id === recommended, scale, context));
  const more = rows.splice(SHOWN);
  return section('budget', words.budget.title,
    patterns(),
    element('p', {}, words.budget.intro),
    element('div', { class: 'beside' },
      breakdown(candidates[0], context),
      element('div', {},
        element('ol', { class: 'bars' }, rows),
        more.length > 0 && folded(words.budget.more(more.length), element('ol', { class: 'bars' }, more)))));
}

function parts(budget) {
  return Object.entries(PARTS).map(([name, lines]) => ({
    name, value: lines.reduce((sum, line) => sum + budget[line].value, 0),
  }));
}

/** How far a bar goes: what rises may be more than the total, where the tank is below the outlet. */
function reach(budget) {
  return parts(budget).reduce((sum, { value }) => sum + Math.max(value, 0), 0);
}

/** The lines of one candidate as a table, which is the key to the bars too. */
function breakdown({ cylinder, lift_budget: budget }, { words, figures }) {
  const { unit } = budget.total_head;
  const row = (name, text, value, kind) => element('tr', { class: kind },
    element('th', { scope: 'row' }, element('span', { class: 'key' }, swatch(name), element('span', {}, text))), element('td', {}, figures.tenths({ value, unit })));
  const says = (name) => (name === 'pressure' ? words.budget.pressure(figures.quantity(budget.target)) : words.budget[name]);
  return element('table', { class: 'sum' },
    element('caption', {}, words.budget.caption, ' ', named(cylinder.name)),
    element('tbody', {},
      parts(budget)
        .filter(({ name }) => name !== 'pressure' || budget.target.value > 0)
        .map(({ name, value }) => row(name, says(name), value)),
      row('total', words.budget.total, budget.total_head.value, 'total'),
      row('rated', words.budget.rated, budget.rated_lift.value),
      budget.margin.value < 0
        ? row('excess', words.budget.missing, -budget.margin.value)
        : row('spare', words.budget.spare, budget.margin.value)));
}

function candidateRow({ cylinder, outcome, lift_budget: budget, reasons }, recommended, scale, { words, figures }) {
  const amounts = { total: figures.quantity(budget.total_head), rated: figures.quantity(budget.rated_lift) };
  const spare = figures.quantity({ ...budget.margin, value: Math.abs(budget.margin.value) });
  const says = budget.margin.value < 0 ? words.budget.tooMuch : words.budget.enough;
  const text = says(amounts.total, amounts.rated, spare);
  return element('li', {},
    element('p', { class: 'name' }, named(cylinder.name), ' ',
      element('strong', { class: 'outcome' }, outcomeWords(outcome, recommended, words))),
    bar(budget, scale, `${cylinder.name}. ${text}`, figures, words),
    element('p', { class: 'quiet' }, text),
    folded(words.budget.why, element('ul', {}, reasons.map((reason) => element('li', {}, reason.text)))));
}

function outcomeWords(outcome, recommended, { outcomes }) {
  return (recommended ? outcomes.recommended[outcome] : outcomes[outcome]) ?? outcome;
}

function bar(budget, scale, title, figures, words) {
  const shapes = [];
  const labels = [];
  let end = 0;
  const drops = ({ value }) => Number(value < 0); // drawn last, back over what rises
  for (const { name, value } of parts(budget).sort((one, other) => drops(one) - drops(other))) {
    end += value;
    const width = Math.abs(value) * scale;
    const from = Math.max(0, (value < 0 ? end : end - value) * scale);
    const kind = value < 0 ? 'less' : name;
    if (width > 0) shapes.push(part(kind, from, width));
    if (width > LABELLED) labels.push(label(kind, from + width / 2, figures.quantity({ value, unit: budget.total_head.unit })));
  }
  const rated = budget.rated_lift.value * scale;
  return drawn('svg', { class: 'bar', role: 'img', width: '100%', height: BAR.top + BAR.height + BAR.below },
    drawn('title', {}, title),
    drawn('desc', {}, words.budget.drawn),
    drawn('rect', { class: 'room', x: 0, y: BAR.top, width: `${rated}%`, height: BAR.height }),
    shapes,
    drawn('line', { class: 'rated', x1: `${rated}%`, x2: `${rated}%`, y1: BAR.top - 6, y2: BAR.top + BAR.height + BAR.below }),
    drawn('text', { class: 'label', x: `${rated}%`, y: BAR.top - 10, 'text-anchor': rated > 50 ? 'end' : 'start' },
      words.budget.ratedAt(figures.quantity(budget.rated_lift))),
    labels);
}

function part(kind, from, width) {
  return drawn('rect', { class: `part ${kind}`, x: `${from}%`, y: BAR.top, width: `${width}%`, height: BAR.height, fill: fill(kind) });
}

function label(kind, middle, text) {
  return drawn('text',
    { class: `label on ${kind}`, x: `${middle}%`, y: BAR.top + BAR.height / 2, 'text-anchor': 'middle', 'dominant-baseline': 'central' },
    text);
}

function fill(name) {
  return name in LINES ? `url(#upstroke-${name})` : undefined;
}

/** Patterns rather than colours tell the parts apart, in print too. */
function patterns() {
  const made = Object.entries(LINES).map(([name, shapes]) => drawn('pattern',
    { id: `upstroke-${name}`, class: `pattern ${name}`, width: 8, height: 8, patternUnits: 'userSpaceOnUse' },
    drawn('rect', { width: 8, height: 8 }),
    shapes.map(([kind, attributes]) => drawn(kind, attributes))));
  return drawn('svg', { class: 'patterns', width: 0, height: 0, 'aria-hidden': 'true' }, drawn('defs', {}, made));
}

function swatch(name) {
  if (!(name in PARTS)) return drawn('svg', { class: `swatch ${name}`, width: 18, height: 18, 'aria-hidden': 'true' },
    name === 'rated' && drawn('line', { class: 'rated', x1: 9, x2: 9, y1: 1, y2: 17 }),
    name === 'spare' && drawn('rect', { class: 'room', x: 1, y: 1, width: 16, height: 16 }));
  return drawn('svg', { class: 'swatch', width: 18, height: 18, 'aria-hidden': 'true' },
    drawn('rect', { class: `part ${name}`, x: 1, y: 1, width: 16, height: 16, fill: fill(name) }));
}
