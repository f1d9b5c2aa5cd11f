// What was found, as the head of the page; where lots can't be told from days, that in its place.
import { element } from '../../js/nodes.js';
import { shape } from '../../js/shapes.js';
import { pretty, sentence } from '../../js/words.js';
import { blockTable } from './blocks.js';

/** Whether something else may make the whole difference. */
export function isConfounded({ confounded }) {
  return confounded.length > 0;
}

/** The head's parts below the headline; the headline itself is the service's words. */
export function findingParts(comparison) {
  return isConfounded(comparison) ? warning(comparison) : plain(comparison);
}

function plain({ advice, warnings }) {
  return [
    ...(advice.length ? [element('p', 'lead advice', told(advice))] : []),
    ...warnings.map((words) => element('p', 'caution', `${sentence(pretty(words))}.`)),
  ];
}

function warning(comparison) {
  const { advice, warnings } = comparison;
  const todo = element('ul', 'todo', ...advice.map((words) => element('li', '', `${sentence(pretty(words))}.`)));
  const cautions = warnings.map((words) => element('p', 'caution', `${sentence(pretty(words))}.`));
  return [element('div', 'cant-tell', element('div', '', todo, ...cautions), blockTable(comparison))];
}

/** What was seen though it isn't shown to be the lots'; empty where the headline says it. */
export function greyWords(comparison) {
  return isConfounded(comparison) ? `${sentence(pretty(comparison.finding))}.`.replaceAll('\'', '’') : '';
}

function told(sentences) {
  return sentences.map((words) => `${sentence(pretty(words))}.`).join(' ');
}

/** The headline: "Thistle-5’s coefficients are …", or that it can't be told. */
export function headline(comparison) {
  const words = unbroken(sentence(pretty(comparison.words)).replaceAll('\'', '’'), comparison.lots);
  return isConfounded(comparison) ? [shape('undecided'), words] : [words];
}

/** Large words must not break a lot's name at its hyphen. */
function unbroken(words, lots) {
  return lots.reduce((text, { lot }) => text.replaceAll(lot, lot.replaceAll('-', '\u2011')), words).replaceAll(' %', '\u00a0%');
}
