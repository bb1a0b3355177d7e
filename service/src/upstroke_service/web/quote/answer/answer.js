/**
 * The answer to a sizing as elements: what `POST /v1/sizings` says, laid out to be read, printed and listened to.
 *
 * Whatever comes from the service or its caller becomes text and never markup. Nothing is loaded, nothing waits.
 */

import {
  assumptionsSection, candidatesSection, depthsSection, questionsSection, scopeSection, sourcesOf,
} from './basis.js';
import { budgetSection } from './budget.js';
import { cautionsSection } from './cautions.js';
import { curveSection } from './curve.js';
import { element } from './dom.js';
import { figures } from './figures.js';
import { hookupSection, partsSection } from './hookup.js';
import { householdSection } from './household.js';
import { effortSection, verdictSection } from './verdict.js';

export { answerStyles } from './styles.js';

/**
 * @param {object} answer The JSON of a sizing.
 * @param {{language: string, words: object}} options The language of the answer, and `words` of `words-<language>.js`.
 * @returns {HTMLElement} An article, to stand where `answerStyles` (text of a stylesheet) apply. Its `h2` can take focus.
 */
export function renderAnswer(answer, { language, words }) {
  const context = { words, figures: figures(words), sources: sourcesOf(words) };
  const article = element('article', { class: 'answer', lang: language });
  const find = (name) => article.querySelector(`section.${name}`);
  article.append(...[
    verdictSection(answer, find, context),
    effortSection(answer, context),
    depthsSection(answer, context),
    budgetSection(answer, context),
    curveSection(answer, context),
    householdSection(answer, context),
    hookupSection(answer, context),
    partsSection(answer, context),
    cautionsSection(answer, context),
    assumptionsSection(answer, context),
    questionsSection(answer, context),
    candidatesSection(answer, context),
    context.sources.listed(),
    scopeSection(answer, context),
  ].filter(Boolean));
  return article;
}
