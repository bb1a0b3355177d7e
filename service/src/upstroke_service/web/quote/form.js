/** The questions as a form: asked where they apply, checked together, and read as facts. */

import { element } from './answer/dom.js';
import { control } from './controls.js';
import { GROUPS } from './questions.js';

/**
 * @param {object} context `words`, `limits` by pointer, `state` (what was typed and chosen), `number` (writes numbers),
 *   `changed` (called whenever an answer changes).
 */
export function makeForm(context) {
  const told = context.changed;
  const inside = { ...context, changed: () => { ask(); told(); } };
  const groups = GROUPS.map((group) => ({ ...group, asked: group.questions.map((one) => question(one, inside)) }));
  const all = groups.flatMap((group) => group.asked);
  const chosen = (id) => context.state.chosen[id];

  function ask() {
    for (const one of all) one.node.hidden = !(one.when?.(chosen) ?? true);
  }
  ask();

  const live = () => all.filter((one) => !one.node.hidden);
  return {
    nodes: groups.map((group) => groupNode(group, context.words)),
    /** Marks every fault; answers with them, in the form's order. */
    check: () => live().flatMap((one) => one.check()),
    /** What was answered, fact by fact. */
    facts: () => live().flatMap((one) => one.facts()),
    /** Marks what the service found: `faults` are `{ id, text }`. Answers with those that it has no place for. */
    mark(faults) {
      for (const { id } of faults) {
        find(id)?.mark(faults.filter((one) => one.id === id).map(({ text }) => text).join(' '));
      }
      return faults.filter(({ id }) => !find(id));
    },
    labelOf: (id) => all.find((one) => one.controls.some((inner) => inner.id === id))?.label ?? '',
    focus(id) {
      const found = find(id);
      const folded = found.fault.closest('details');
      if (folded) folded.open = true;
      found.focus();
    },
    /** Units of what is still empty follow the system. */
    system: (name) => all.forEach((one) => one.controls.forEach((inner) => inner.system?.(name))),
  };

  function find(id) {
    return live().flatMap((one) => one.controls).find((inner) => inner.id === id);
  }
}

function groupNode({ id, folded, asked }, words) {
  const { title, text } = words.groups[id];
  const inner = [text && element('p', { class: 'quiet' }, text), asked.map((one) => one.node)];
  if (!folded) return element('fieldset', { class: 'group' }, element('legend', {}, title), ...inner);
  const summary = element('summary', {}, words.more.replace('{title}', title));
  return element('details', { class: 'group' }, summary,
    element('fieldset', {}, element('legend', { class: 'unseen' }, title), ...inner));
}

/** One question with its reasons, its controls and, where leaving it out is an answer, "not sure". */
function question(asked, context) {
  const { words, limits, state, changed } = context;
  const said = words.questions[asked.id];
  const single = asked.fields.length === 1;
  const controls = asked.fields.map((field) =>
    control(field, single ? said.label : words.fields[field.id], context));
  const optional = !asked.essential && !controls[0].group;
  const why = element('details', { class: 'why' },
    element('summary', {}, words.why, element('span', { class: 'unseen' }, `: ${said.label}`)),
    element('p', {}, said.why), element('p', {}, said.how));
  const mayDoubt = !controls[0].group && (asked.essential || limits[asked.fields[0].pointer].assumed);
  const unsure = mayDoubt ? element('input', { type: 'checkbox', id: `${asked.id}-unsure`, checked: Boolean(state.unsure[asked.id]) }) : undefined;
  const doubt = unsure && element('label', { class: 'unsure', for: unsure.id }, unsure,
    element('span', {}, words.unsure), element('span', { class: 'unseen' }, `: ${said.label}`));

  const doubted = () => Boolean(unsure?.checked);
  const disable = () => controls.forEach((one) => one.disable?.(doubted()));
  unsure?.addEventListener('change', () => {
    state.unsure[asked.id] = unsure.checked;
    controls.forEach((one) => one.mark(''));
    disable();
    changed();
  });
  disable();

  /** Faults of the question as a whole: no answer, or half of one. */
  function missing() {
    const open = controls.filter((one) => one.empty());
    const needed = asked.together ? controls.slice(0, -1) : controls;
    const gaps = needed.filter((one) => open.includes(one));
    if (!gaps.length || (!asked.essential && !asked.together)) return [];
    const text = asked.together && gaps.length < needed.length ? words.faults.together : words.faults.missing;
    return [{ id: gaps[0].id, text }];
  }

  return {
    when: asked.when,
    label: said.label,
    controls,
    node: questionNode({ asked, said, controls, why, doubt, optional, words }),
    check() {
      const faults = doubted() ? [] : controls.flatMap((one) => {
        const { fault } = one.read();
        return fault ? [{ id: one.id, text: fault }] : [];
      });
      const found = faults.length || doubted() ? faults : missing();
      controls.forEach((one) => one.mark(found.find(({ id }) => id === one.id)?.text ?? ''));
      return found;
    },
    facts() {
      if (doubted() || (asked.together && controls[0].empty())) return [];
      return controls.flatMap((one, index) => factsOf({ ...asked.fields[index], of: asked.of ?? asked.fields[index].of }, one));
    },
  };
}

function factsOf({ kind, pointer, of }, one) {
  const { value } = one.read();
  if (value === undefined) return [];
  if (kind === 'places') return value.map((entry) => ({ id: one.id, pointer, entry, value: entry }));
  const fact = { id: one.id, pointer, entry: of, value };
  // An animal's kind and its count make one entry.
  return kind === 'count' && of
    ? [{ ...fact, pointer: pointer.replace(/count$/, 'kind'), value: of }, fact]
    : [fact];
}

function questionNode({ asked, said, controls, why, doubt, optional, words }) {
  const mark = optional && !doubt && element('span', { class: 'quiet' }, ` (${words.optional})`);
  const [first] = controls;
  if (first.group) {
    first.group.append(element('legend', {}, said.label), why, ...first.row, first.fault);
    return first.group;
  }
  if (controls.length === 1) {
    first.label.append(mark || '');
    return element('div', { class: 'question' }, first.label, why, element('div', { class: 'row' }, first.row, doubt), first.fault);
  }
  const parts = controls.map((one) => element('div', { class: 'part' }, one.label, element('div', { class: 'row' }, one.row), one.fault));
  return element('fieldset', { class: `question ${asked.id}` }, element('legend', {}, said.label, mark), why,
    element('div', { class: 'parts' }, parts), doubt);
}
