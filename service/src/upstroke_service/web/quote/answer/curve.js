/** How a fill goes: pressure over water, with strokes and minutes along it, read with pointer or keys, or as a table. */

import { drawn, element, folded, section, table } from './dom.js';
import { between, ticks } from './scales.js';

const HEIGHT = 200; // of the plot, in pixels; widths are percentages
const WIDTH = 1000; // of the line's own coordinates
const ROW = 20;
const FEW = 20; // of liters, gallons or minutes, from which whole ones are near enough
const ROOM = 0.18; // of the width, between two numbers
const ALONG = ['water', 'strokes', 'time'];
const COLUMNS = ['pressure', 'water', 'strokes', 'time', 'hand_force', 'cadence'];
const MOST_TICKS = { along: 4, up: 5 };

/** The section on the recommended cylinder's fill; none where the answer has no curve or nothing is stored. */
export function curveSection({ curve, candidates, recommended }, context) {
  const stored = curve?.water.values.at(-1);
  if (!(stored > 0)) return undefined;
  const { words } = context;
  const rises = curve.pressure.values.at(-1) > curve.pressure.values[0];
  const upward = rises ? 'pressure' : 'time';
  const { fill, lift_budget: budget } = candidates.find((one) => one.cylinder.id === recommended);
  const missed = rises && !fill.reaches_target ? budget.target : undefined;
  const plot = plotted(curve, upward, missed, context);
  const columns = COLUMNS.filter((name) => rises || name !== 'pressure');
  return section('curve', words.curve.title,
    element('p', {}, rises ? words.curve.intro : words.curve.introOpen),
    element('div', { class: 'beside wider' },
      element('div', { class: 'plot' },
        element('p', { class: 'axis', 'aria-hidden': 'true' }, `${words.curve.columns[upward]}, ${context.figures.unit(curve[upward].unit)}`),
        plot.drawing),
      reading(curve, columns, plot, context)),
    folded(words.curve.asTable, valueTable(curve, columns, context)));
}

function plotted(curve, upward, missed, { words, figures }) {
  const { water, [upward]: up } = curve;
  const stored = water.values.at(-1);
  const levels = ticks(up.values[0], Math.max(up.values.at(-1), missed?.value ?? 0), MOST_TICKS.up, true);
  const [low, high] = [levels[0], levels.at(-1)];
  const across = (value) => (100 * value) / stored;
  const height = (value) => HEIGHT * (1 - (value - low) / (high - low));

  const line = water.values.map((value, index) => `${(across(value) * WIDTH) / 100},${height(up.values[index])}`).join(' ');
  const cross = drawn('line', { class: 'cross', y1: 0, y2: HEIGHT });
  const dot = drawn('circle', { class: 'dot', r: 6 });
  const along = upward === 'time' ? ALONG.filter((name) => name !== 'time') : ALONG;
  const drawing = drawn('svg',
    { role: 'img', width: '100%', height: HEIGHT + ROW * along.length + 8, 'aria-label': words.curve.title },
    drawn('desc', {}, words.curve.drawn(
      ...[up.values[0], up.values.at(-1)].map((value) => figures.quantity({ value, unit: up.unit })),
      figures.quantity({ value: stored, unit: water.unit }), figures.number(curve.strokes.values.at(-1)))),
    levels.map((value) => level(value, height(value), figures)),
    missed && [
      drawn('line', { class: 'missed', x1: 0, x2: '100%', y1: height(missed.value), y2: height(missed.value) }),
      drawn('text', { class: 'label', x: 4, y: height(missed.value) + 17 }, words.curve.missed(figures.quantity(missed))),
    ],
    drawn('svg', { width: '100%', height: HEIGHT, viewBox: `0 0 ${WIDTH} ${HEIGHT}`, preserveAspectRatio: 'none' },
      drawn('polyline', { class: 'line', points: line })),
    along.map((name, row) => scaleRow(curve, name, row, { words, figures, across, stored })),
    cross, dot);

  function mark(index) {
    const x = `${across(water.values[index])}%`;
    for (const name of ['x1', 'x2']) cross.setAttribute(name, x);
    dot.setAttribute('cx', x);
    dot.setAttribute('cy', height(up.values[index]));
  }
  return { drawing, mark };
}

function level(value, y, figures) {
  return [
    drawn('line', { class: 'grid', x1: 0, x2: '100%', y1: y, y2: y }),
    drawn('text', { class: 'tick', x: -8, y, 'text-anchor': 'end', 'dominant-baseline': 'central' }, figures.number(value, 1)),
  ];
}

/** Round amounts of water, and the last one where it leaves room for its number. */
function stops(stored) {
  const round = ticks(0, stored, MOST_TICKS.along);
  return stored - round.at(-1) > ROOM * stored ? [...round, stored] : round;
}

/** Numbers under the plot: at round amounts of water, the strokes and the minutes that they take. */
function scaleRow(curve, name, row, { words, figures, across, stored }) {
  const y = HEIGHT + ROW * (row + 1);
  const { unit, values } = curve[name];
  const digits = name !== 'strokes' && values.at(-1) < FEW ? 1 : 0;
  const spelled = name === 'strokes' ? words.curve.strokes : figures.unit(unit);
  return [
    drawn('text', { class: 'tick', x: -18, y, 'text-anchor': 'end' }, spelled),
    stops(stored).map((at) => [
      row === 0 && drawn('line', { class: 'notch', x1: `${across(at)}%`, x2: `${across(at)}%`, y1: HEIGHT, y2: HEIGHT + 5 }),
      drawn('text', { class: 'tick', x: `${across(at)}%`, y, 'text-anchor': 'middle' },
        figures.number(between(at, curve.water.values, values), digits)),
    ]),
  ];
}

/** A slider that walks the points, and what it reads there. */
function reading(curve, columns, { drawing, mark }, context) {
  const { words } = context;
  const last = curve.water.values.length - 1;
  const slider = element('input', { type: 'range', min: 0, max: last, step: 1, value: last });
  const output = element('output', {});
  const [first, ...others] = columns;

  function show() {
    const index = Number(slider.value);
    mark(index);
    slider.setAttribute('aria-valuetext', cell(curve, first, index, context));
    output.replaceChildren(...columns.map((name) => element('span', {},
      element('span', { class: 'quiet' }, words.curve.columns[name]), ' ', element('b', {}, cell(curve, name, index, context)))));
  }

  function follow(event) {
    const { left, width } = drawing.getBoundingClientRect();
    const at = (curve.water.values[last] * (event.clientX - left)) / width;
    const distances = curve.water.values.map((value) => Math.abs(value - at));
    slider.value = distances.indexOf(Math.min(...distances));
    show();
  }

  slider.addEventListener('input', show);
  drawing.addEventListener('pointermove', follow);
  drawing.addEventListener('pointerdown', follow);
  show();
  return element('div', { class: 'reading' }, element('label', {}, words.curve.slide, slider), output);
}

function cell(curve, name, index, { words, figures }) {
  const { unit, values: { [index]: value } } = curve[name];
  if (name === 'strokes') return figures.number(value);
  if (name === 'time') return figures.duration({ value, unit });
  return figures.quantity({ value, unit });
}

function valueTable(curve, columns, context) {
  const heads = columns.map((name) => context.words.curve.columns[name]);
  const rows = curve.water.values.map((_, index) => columns.map((name) => cell(curve, name, index, context)));
  return table(context.words.curve.title, heads, rows);
}
