/**
 * <upstroke-quote>: the quote form as an element of any page.
 *
 * Attributes: `language` (en, es), `units` (us, si), `catalogue`, `reference` (echoed in request and answer), `service`
 * (where the service is, if not where this script came from), `key` (whatever stands in a page is public).
 *
 * Events, all of which bubble and leave the element: `upstroke-request` (detail: `request`; whoever prevents it keeps it
 * from being sent), `upstroke-answer` (`request`, `answer`), `upstroke-problem` (`request`, `problem`).
 */

import { element } from './answer/dom.js';
import { ask, Problem } from './ask.js';
import { makeForm } from './form.js';
import { remembered } from './memory.js';
import { answeredBy, requestOf } from './request.js';
import { formStyles } from './styles.js';
import { theme } from './theme.js';

const HOME = new URL('.', import.meta.url);
const SHEETS = [theme, formStyles].map(sheetOf);
const SYSTEMS = ['us', 'si'];
const FALLBACK = 'en';

function sheetOf(text) {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  return sheet;
}

/** What shows an answer; undefined where it can't be had. */
async function loaded() {
  const answering = await import('./answer/answer.js').catch(() => undefined);
  return answering && { ...answering, answerSheet: sheetOf(answering.answerStyles) };
}

class UpstrokeQuote extends HTMLElement {
  static observedAttributes = ['language', 'units', 'catalogue', 'reference', 'service', 'key'];

  #root = this.attachShadow({ mode: 'open' });
  #texts; // words of the form and of the answer
  #memory;
  #form;
  #parts; // elements that change: summary, status, button, reply
  #last; // the request that was answered last
  #run = 0; // counts starts, so that what an earlier one still waits for is dropped
  #asking; // ends what is being asked
  #answering; // the modules that show an answer, loaded while people fill in the form

  connectedCallback() {
    this.#root.adoptedStyleSheets = SHEETS;
    this.#start();
  }

  disconnectedCallback() {
    this.#run += 1;
    this.#asking?.abort();
  }

  attributeChangedCallback(_, before, after) {
    if (this.isConnected && before !== after && this.#run) this.#start();
  }

  get #service() {
    return new URL(this.getAttribute('service') ?? '..', this.hasAttribute('service') ? document.baseURI : HOME);
  }

  /** Loads words and limits and shows the form; where that fails, says so with a way to try again. */
  async #start() {
    this.#run += 1;
    const run = this.#run;
    this.#asking?.abort();
    this.#asking = undefined;
    this.#last = undefined;
    let limits;
    try {
      const [texts, described] = await Promise.all([this.#load(), this.#limits()]);
      if (run !== this.#run) return;
      this.#texts = texts;
      limits = described.fields;
    } catch (error) {
      if (run !== this.#run) return;
      this.#texts ??= await import(`./languages/${FALLBACK}.js`).catch(() => undefined);
      this.#root.replaceChildren(this.#texts ? this.#trouble(error, () => this.#start()) : element('slot'));
      return;
    }
    this.#memory = remembered(this.getAttribute('catalogue') ?? '');
    const { state } = this.#memory;
    if (!SYSTEMS.includes(state.system)) state.system = this.getAttribute('units') === 'si' ? 'si' : 'us';
    this.#show(limits);
  }

  async #limits() {
    return ask(new URL('quote/fields.json', this.#service), {});
  }

  /** Words in the language of the attribute, of the page around, or in English. */
  async #load() {
    const wanted = this.getAttribute('language') || this.closest('[lang]')?.lang || FALLBACK;
    const short = wanted.toLowerCase().split('-')[0];
    const known = /^[a-z]{2,3}$/.test(short) ? short : FALLBACK;
    return import(`./languages/${known}.js`).catch((error) => {
      if (known === FALLBACK) throw error;
      return import(`./languages/${FALLBACK}.js`);
    });
  }

  #show(limits) {
    const { words, answerWords } = this.#texts;
    const { state } = this.#memory;
    const writes = new Intl.NumberFormat(answerWords.locale, { maximumSignificantDigits: 6, useGrouping: false });
    this.#form = makeForm({ words, limits, state, number: writes.format, changed: () => this.#changed() });
    const button = element('button', { class: 'main', type: 'submit' }, words.submit);
    const clear = element('button', { type: 'button' }, words.clear);
    clear.addEventListener('click', () => this.#clear(limits));
    const summary = element('div', { class: 'summary', tabindex: '-1', hidden: true });
    const form = element('form', { novalidate: true, autocomplete: 'off' },
      element('h2', { tabindex: '-1' }, words.title), element('p', {}, words.intro), this.#systems(), this.#form.nodes,
      summary, element('div', { class: 'actions' }, button, clear));
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      this.#submit();
    });
    const status = element('p', { class: 'status', role: 'status' });
    const reply = element('div', { class: 'reply' });
    this.#parts = { summary, status, button, reply, form };
    this.#root.replaceChildren(element('div', { lang: words.code }, form, status, reply));
    this.#answering = loaded();
  }

  #systems() {
    const { words } = this.#texts;
    const { state } = this.#memory;
    const radios = SYSTEMS.map((name) => element('label', { for: `system-${name}` },
      element('input', { type: 'radio', name: 'system', id: `system-${name}`, value: name, checked: state.system === name }),
      element('span', {}, words.system[name])));
    const group = element('fieldset', { class: 'systems' },
      element('legend', {}, words.system.label), element('div', { class: 'choices' }, radios));
    group.addEventListener('change', ({ target }) => {
      state.system = target.value;
      this.#form.system(state.system);
      this.#changed();
    });
    return group;
  }

  #changed() {
    this.#memory.save();
    if (this.#last) this.#parts.status.textContent = this.#texts.words.status.changed;
  }

  #clear(limits) {
    this.#asking?.abort();
    this.#asking = undefined;
    this.#last = undefined;
    this.#memory.forget();
    this.#show(limits);
    this.#parts.status.textContent = this.#texts.words.cleared;
    this.#parts.form.querySelector('h2').focus();
  }

  async #submit() {
    if (this.#asking) return;
    const { words } = this.#texts;
    const faults = this.#form.check();
    this.#summarise(words.summary.title, faults.map(({ id, text }) => ({ id, text: `${this.#form.labelOf(id)} ${text}` })));
    if (faults.length) return;
    const { body, sources } = requestOf(this.#form.facts(), {
      catalogue: this.getAttribute('catalogue'), reference: this.getAttribute('reference'),
    });
    if (!this.#tell('request', { request: body }, true)) return;
    this.#parts.reply.classList.add('awaited');
    this.#parts.reply.replaceChildren();
    const asked = { body, system: this.#memory.state.system };
    const answer = await this.#asked(asked, words.status.working, 'application/json', (problem) => {
      this.#refused(problem, sources);
    });
    if (!answer) return;
    const shows = await this.#answering ?? await loaded();
    if (!shows) {
      this.#refused(new Problem('unreachable'), sources);
      return;
    }
    this.#last = asked;
    this.#answered(answer, shows);
    this.#tell('answer', { request: body, answer });
  }

  /** What the service answers; undefined after `failed` was told why there is nothing. */
  async #asked({ body, system }, working, accept, failed) {
    const { words } = this.#texts;
    const { status, button } = this.#parts;
    const asking = new AbortController();
    this.#asking = asking;
    button.setAttribute('aria-disabled', 'true');
    status.textContent = working;
    const address = new URL(`v1/sizings?units=${system}`, this.#service);
    try {
      return await ask(address, {
        body, accept, language: words.code, key: this.getAttribute('key'), cancel: asking.signal,
        slow: () => { status.textContent = words.status.slow; },
      });
    } catch (error) {
      if (this.#asking !== asking) return undefined;
      status.textContent = '';
      this.#tell('problem', { request: body, problem: told(error) });
      failed(error);
      return undefined;
    } finally {
      if (this.#asking === asking) {
        this.#asking = undefined;
        button.removeAttribute('aria-disabled');
      }
    }
  }

  #answered(answer, { renderAnswer, answerSheet }) {
    const { words, answerWords } = this.#texts;
    const { reply, status } = this.#parts;
    this.#root.adoptedStyleSheets = [...SHEETS, answerSheet];
    const article = renderAnswer(answer, { language: words.code, words: answerWords });
    reply.replaceChildren(article, this.#after());
    status.textContent = words.status.ready;
    reply.scrollIntoView();
    article.querySelector('h2').focus({ preventScroll: true });
  }

  /** What can be done with an answer. */
  #after() {
    const { words } = this.#texts;
    const report = element('button', { type: 'button' }, words.answer.report);
    const back = element('button', { type: 'button' }, words.answer.back);
    report.addEventListener('click', () => this.#save(report));
    back.addEventListener('click', () => this.#parts.form.querySelector('h2').focus());
    return element('div', { class: 'actions' }, report, back);
  }

  async #save(report) {
    if (this.#asking || !this.#last) return;
    const { words } = this.#texts;
    const { status } = this.#parts;
    const file = await this.#asked(this.#last, words.status.report, 'application/pdf', (problem) => {
      if (problem.status === 406) report.remove();
      else status.textContent = this.#said(problem);
    });
    if (!file) return;
    const address = URL.createObjectURL(file);
    element('a', { href: address, download: 'upstroke.pdf' }).click();
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
    status.textContent = words.status.saved;
  }

  /** Shows why there is no answer: beside the questions where the service faults them. */
  #refused(problem, sources) {
    const { words } = this.#texts;
    const { reply } = this.#parts;
    reply.classList.remove('awaited');
    if (problem.kind === 'faults') {
      const faults = problem.body.errors.map(({ pointer, detail }) => ({ id: answeredBy(pointer, sources), text: detail }));
      this.#form.mark(faults);
      const listed = faults.map(({ id, text }) => ({ id, text: id ? `${this.#form.labelOf(id)} ${text}` : text }));
      this.#summarise(words.summary.service, listed);
      return;
    }
    const trouble = this.#trouble(problem, () => this.#submit());
    reply.replaceChildren(trouble);
    trouble.querySelector('h3').focus();
  }

  #said(problem) {
    const said = this.#texts.words.problems[problem.kind] ?? this.#texts.words.problems.unreachable;
    return said.replace('{detail}', problem.detail);
  }

  /** What went wrong, and a button to try again, once the service's wait is over. */
  #trouble(problem, again) {
    const { words } = this.#texts;
    const retry = element('button', { type: 'button' });
    let left = problem.wait ?? 0;
    const count = () => {
      retry.textContent = left > 0 ? words.problems.wait.replace('{seconds}', left) : words.problems.retry;
      retry.toggleAttribute('aria-disabled', false);
      if (left <= 0) return;
      retry.setAttribute('aria-disabled', 'true');
      left -= 1;
      setTimeout(count, 1_000);
    };
    count();
    retry.addEventListener('click', () => {
      if (!retry.hasAttribute('aria-disabled')) again();
    });
    return element('div', { class: 'problem', lang: words.code },
      element('h3', { tabindex: '-1' }, words.problems.title), element('p', {}, this.#said(problem)),
      element('p', {}, words.problems.kept), retry);
  }

  /** Lists faults with a way to each; hides the list where there are none. */
  #summarise(title, faults) {
    const { summary } = this.#parts;
    summary.hidden = !faults.length;
    summary.replaceChildren();
    if (!faults.length) return;
    const ways = faults.map(({ id, text }) => {
      if (!id) return element('li', {}, text);
      const way = element('a', { href: `#${id}` }, text);
      way.addEventListener('click', (event) => {
        event.preventDefault(); // the address is the page's, not ours
        this.#form.focus(id);
      });
      return element('li', {}, way);
    });
    summary.append(element('h3', { id: 'summary-title' }, title), element('ul', {}, ways));
    summary.setAttribute('role', 'group');
    summary.setAttribute('aria-labelledby', 'summary-title');
    summary.focus();
  }

  /** Tells the page; answers whether nobody prevented what comes next. */
  #tell(name, detail, cancelable = false) {
    const event = new CustomEvent(`upstroke-${name}`, { bubbles: true, composed: true, cancelable, detail });
    return this.dispatchEvent(event);
  }
}

/** A problem as events tell it: that of the service, as it came, or one of the network in its shape. */
function told(error) {
  if (!(error instanceof Problem)) return { code: 'other', status: 0, detail: String(error) };
  return error.body ?? { code: error.kind, status: error.status, detail: error.detail };
}

customElements.define('upstroke-quote', UpstrokeQuote);
