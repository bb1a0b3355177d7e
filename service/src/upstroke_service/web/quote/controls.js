/** Where people answer: one control for each fact, with its fault beside it. */

import { element } from './answer/dom.js';
import { read } from './units.js';

const PAUSE = 700; // milliseconds without a key after which a half-typed answer is worth judging

const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name]);

/** The control of `field`; `label` names it. `context` holds words, limits, state, and whom to tell of changes. */
export function control(field, label, context) {
  const kinds = { quantity, count, choice, pick, places };
  return kinds[field.kind](field, label, context);
}

/** What all controls share: a place for the fault, and what marks it on `marked`, the elements that it is about. */
function faultPlace(field, marked) {
  const id = `fault-${field.id}`;
  const node = element('p', { id, class: 'fault', 'aria-live': 'polite' });
  return {
    id,
    node,
    mark(text) {
      if (node.textContent === text) return;
      node.textContent = text;
      for (const one of marked()) {
        if (text) one.setAttribute('aria-invalid', 'true');
        else one.removeAttribute('aria-invalid');
      }
    },
  };
}

/** A text that is judged as one types, and at once when one leaves it or a fault is on show. */
function typed(field, label, context, { mode, read: readText, tidy = () => {} }) {
  const { state, changed } = context;
  const fault = faultPlace(field, () => [input]);
  const input = element('input', {
    id: field.id, type: 'text', inputmode: mode, autocomplete: 'off', 'aria-describedby': fault.id,
  });
  let waiting;
  const judge = () => {
    clearTimeout(waiting);
    fault.mark(readText(input.value).fault ?? '');
  };
  input.value = state.text[field.id] ?? '';
  input.addEventListener('input', () => {
    state.text[field.id] = input.value;
    changed();
    clearTimeout(waiting);
    if (fault.node.textContent) judge();
    else waiting = setTimeout(judge, PAUSE);
  });
  input.addEventListener('change', () => {
    tidy(input);
    state.text[field.id] = input.value;
    changed();
    judge();
  });
  return {
    id: field.id,
    label: element('label', { for: field.id }, label),
    row: [input],
    fault: fault.node,
    judge,
    mark: (text) => {
      clearTimeout(waiting);
      fault.mark(text);
    },
    focus: () => input.focus(),
    disable: (off) => { input.disabled = off; },
    read: () => readText(input.value),
    empty: () => !input.value.trim(),
  };
}

function within(value, [least, most], unit, { words, number }) {
  if (value >= least && value <= most) return undefined;
  const named = (bound) => (unit ? `${number(bound)} ${words.units[unit]}` : number(bound));
  return fill(words.faults.range, { least: named(least), most: named(most) });
}

function quantity(field, label, context) {
  const { words, state, changed } = context;
  const bounds = context.limits[field.pointer].units;
  const offered = [...new Set([field.units[state.system], field.units.us, field.units.si, ...(field.units.also ?? [])])];
  const option = (unit) => element('option', { value: unit }, words.units[unit]);
  const unit = element('select', { 'aria-label': fill(words.unitOf, { label }) }, offered.map(option));
  const way = field.signed && element('select', { 'aria-label': fill(words.direction.label, { label }) },
    ['above', 'below'].map((one) => element('option', { value: one }, words.direction[one])));

  function choose(name) {
    if (![...unit.options].some((one) => one.value === name)) unit.append(option(name));
    unit.value = name;
    state.units[field.id] = name;
  }

  function readText(text) {
    if (!text.trim()) return {};
    const { value, unit: written, fault, word } = read(text);
    if (fault === 'unit' || (written && !bounds[written])) {
      const units = offered.map((one) => words.units[one]).join(', ');
      return { fault: fill(words.faults.unit, { word: word ?? words.units[written], units }) };
    }
    if (fault) return { fault: words.faults[fault] };
    const name = written ?? unit.value;
    const signed = way && way.value === 'below' && value > 0 ? -value : value;
    return { value: { value: signed, unit: name }, fault: within(signed, bounds[name], name, context) };
  }

  function tidy(input) {
    const { value, unit: written, fault } = read(input.value);
    if (fault) return;
    if (written && bounds[written]) {
      choose(written);
      input.value = input.value.replace(/[^\d.,/]+$/u, '');
    }
    if (way && value < 0) {
      way.value = 'below';
      state.chosen[`${field.id}-way`] = 'below';
      input.value = input.value.replace(/^\s*[-−]/, '');
    }
  }

  const made = typed(field, label, context, { mode: 'decimal', read: readText, tidy });
  if (state.units[field.id]) choose(state.units[field.id]);
  unit.addEventListener('change', () => {
    choose(unit.value);
    changed();
    made.judge();
  });
  if (way) {
    way.value = state.chosen[`${field.id}-way`] ?? 'above';
    way.addEventListener('change', () => {
      state.chosen[`${field.id}-way`] = way.value;
      changed();
      made.judge();
    });
  }
  const disable = (off) => [made.row[0], unit, way].filter(Boolean).forEach((one) => { one.disabled = off; });
  return {
    ...made,
    row: [...made.row, unit, way].filter(Boolean),
    disable,
    system(name) {
      if (!made.empty()) {
        state.units[field.id] = unit.value; // what was typed stays what it was
        return;
      }
      delete state.units[field.id];
      unit.value = field.units[name];
    },
  };
}

function count(field, label, context) {
  const { least, most } = context.limits[field.pointer];
  return typed(field, label, context, {
    mode: 'numeric',
    read(text) {
      if (!text.trim()) return {};
      const { value, unit, fault } = read(text);
      if (fault || unit) return { fault: context.words.faults[fault === 'ambiguous' ? fault : 'number'] };
      if (!Number.isInteger(value)) return { fault: context.words.faults.whole };
      return { value, fault: within(value, [least, most], '', context) };
    },
  });
}

function labelled(inputs, known, words) {
  return element('div', { class: 'choices' }, inputs.map((input) =>
    element('label', { for: input.id }, input, element('span', {}, known[input.value] ?? words.unsure))));
}

function choice(field, label, context) {
  const { words, limits, state, changed } = context;
  const facts = limits[field.pointer];
  const known = words.choices[field.id] ?? words.answers;
  const order = [...Object.keys(known).filter((word) => facts.words.includes(word) && word !== 'unknown'), 'unknown'];
  const fault = faultPlace(field, () => [group]);
  const radios = order.map((word) => element('input', {
    type: 'radio', name: field.id, id: `${field.id}-${word}`, value: word, checked: state.chosen[field.id] === word,
  }));
  const group = element('fieldset', { class: 'question', role: 'radiogroup', 'aria-describedby': fault.id });
  const choices = labelled(radios, known, words);
  const picked = () => radios.find((one) => one.checked)?.value;
  group.addEventListener('change', () => {
    state.chosen[field.id] = picked();
    fault.mark('');
    changed();
  });
  return {
    id: field.id,
    group,
    label,
    row: [choices],
    fault: fault.node,
    mark: fault.mark,
    focus: () => (radios.find((one) => one.checked) ?? radios[0]).focus(),
    empty: () => !picked(),
    // Where the contract has no word for it, not being sure is leaving the fact out.
    read: () => ({ value: picked() === 'unknown' && !facts.words.includes('unknown') ? undefined : picked() }),
  };
}

function places(field, label, context) {
  const { words, limits, state, changed } = context;
  const known = words.choices[field.id];
  const order = Object.keys(known).filter((word) => limits[field.pointer].words.includes(word));
  const fault = faultPlace(field, () => boxes);
  const boxes = [...order, 'unknown'].map((word) => element('input', {
    type: 'checkbox', id: `${field.id}-${word}`, value: word, 'aria-describedby': fault.id,
    checked: (state.chosen[field.id] ?? []).includes(word),
  }));
  const group = element('fieldset', { class: 'question' });
  const choices = labelled(boxes, known, words);
  const picked = () => boxes.filter((one) => one.checked).map((one) => one.value);
  group.addEventListener('change', ({ target }) => {
    const alone = target.value === 'unknown';
    if (target.checked) boxes.filter((one) => (one.value === 'unknown') !== alone).forEach((one) => { one.checked = false; });
    state.chosen[field.id] = picked();
    fault.mark('');
    changed();
  });
  return {
    id: field.id,
    group,
    label,
    row: [choices],
    fault: fault.node,
    mark: fault.mark,
    focus: () => boxes[0].focus(),
    empty: () => !picked().length,
    read: () => ({ value: picked().filter((one) => one !== 'unknown') }),
  };
}

function pick(field, label, context) {
  const { words, limits, state, changed } = context;
  const known = words.choices[field.id];
  const order = Object.keys(known).filter((word) => limits[field.pointer].words.includes(word));
  const fault = faultPlace(field, () => [select]);
  const select = element('select', { id: field.id, 'aria-describedby': fault.id },
    order.map((word) => element('option', { value: word }, known[word])));
  select.value = state.chosen[field.id] ?? field.first;
  select.addEventListener('change', () => {
    state.chosen[field.id] = select.value;
    fault.mark('');
    changed();
  });
  return {
    id: field.id,
    label: element('label', { for: field.id }, label),
    row: [select],
    fault: fault.node,
    mark: fault.mark,
    focus: () => select.focus(),
    disable: (off) => { select.disabled = off; },
    empty: () => true, // always holds a word, so it says nothing of whether the question was answered
    read: () => ({ value: select.value }),
  };
}
