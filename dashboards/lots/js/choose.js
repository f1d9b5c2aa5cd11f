// What is compared: lots taken in and out, the figure, the temperature, the ratio that somebody wants to see.
import { dot } from '../../charts/layers.js';
import { svgPen } from '../../charts/pens.js';
import { drawn, element } from '../../js/nodes.js';
import { go } from '../../shared/address.js';
import { show } from '../../shared/parts.js';
import { LOOKS, markerStyle } from './looks.js';
import { atTemperature, options, USUAL } from './metrics.js';
import { askedOf, comparePage } from './service.js';

const at = (id) => document.getElementById(id);

/** What the address asks for. */
export function chosen() {
  return askedOf(new URLSearchParams(location.search));
}

/** Wires the form; every change is a new address. */
export function wire() {
  const changed = () => {
    const { lots } = chosen();
    turn(lots, { metric: at('metric').value === USUAL ? '' : at('metric').value, at_c: at('at_c').value, ratio: at('ratio').value });
  };
  for (const id of ['metric', 'at_c', 'ratio']) at(id).addEventListener('change', changed);
  at('choose').addEventListener('submit', (event) => {
    event.preventDefault();
    changed();
  });
  at('add').addEventListener('change', () => turn([...chosen().lots, at('add').value]));
}

function turn(lots, others) {
  const { metric, at_c: atC, ratio } = chosen();
  go(comparePage(lots, others ?? { metric, at_c: atC, ratio }));
}

/** Shows what is chosen; {@code names} are all lots, {@code metrics} all figures. */
export function showChoice(names, metrics) {
  const { lots, metric, at_c: atC, ratio } = chosen();
  show(at('chosen'), ...lots.map((lot, i) => chip(lot, i, lots)));
  const others = names.filter((name) => !lots.includes(name));
  at('add').replaceChildren(new Option(others.length ? 'choose …' : 'no other lot', '', true, true), ...others.map((name) => new Option(name, name)));
  at('add').disabled = !others.length || lots.length >= LOOKS.length;
  at('metric').replaceChildren(...options(metrics, metric || USUAL));
  at('at_c').value = atC;
  at('at_c').disabled = !atTemperature(metric || USUAL);
  at('ratio').value = ratio;
}

function chip(lot, i, lots) {
  const out = element('button', '', '×');
  out.type = 'button';
  out.dataset.key = `out ${lot}`;
  out.hidden = lots.length < 2;
  out.setAttribute('aria-label', `Take ${lot} out`);
  out.addEventListener('click', () => {
    turn(lots.filter((name) => name !== lot));
    // The button goes; the keyboard stays where another lot can be taken in.
    at('add').focus();
  });
  return element('span', 'chip', marker(i), element('b', '', lot), out);
}

/** The marker of the lot of this number, as it stands in all drawings. */
export function marker(i) {
  const svg = drawn('svg', { width: 14, height: 14, viewBox: '0 0 14 14', 'aria-hidden': 'true' });
  dot(svgPen(svg), 7, 7, LOOKS[i].marker, markerStyle(LOOKS[i]), 4.5);
  return svg;
}
