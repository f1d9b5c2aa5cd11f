// The page of ports: asks every two seconds, and tells what is wrong first.
import { element, flag, setParts, setText } from './nodes.js';
import { heardOf, portName, spoolWords, troubled, troubleOf } from './port-words.js';
import { ask } from '../shared/call.js';
import { Fresh } from '../shared/fresh.js';
import { count } from '../shared/parts.js';
import { zone } from '../shared/times.js';
import { clockWithSeconds, pretty } from './words.js';

const EVERY_MS = 2_000;
const at = (id) => document.getElementById(id);
const cards = new Map();

function show({ ports, spool, troubles }) {
  const wrong = troubled(ports);
  setText(at('headline'), headline(ports, wrong));
  document.title = `${wrong.length ? `${wrong.length} to look at · ` : ''}Ports · Soakbench`;
  at('none').hidden = ports.length > 0;
  const named = new Set(ports.map(portName));
  setParts(at('troubles'), troubles.filter(({ where }) => !named.has(where)).map(({ where, what }) => element('li', '', `${where}: ${pretty(what)}.`)));
  at('troubles').hidden = !at('troubles').childElementCount;
  at('spool').hidden = !spool;
  if (spool) setText(at('spool'), spoolWords(spool));
  setText(at('asked'), `as of ${clockWithSeconds(Date.now())} ${zone(Date.now())}`);
  const nodes = [...wrong, ...ports.filter((port) => !wrong.includes(port))].map(card);
  nodes.forEach((node, i) => { if (at('ports').children[i] !== node) at('ports').insertBefore(node, at('ports').children[i] ?? null); });
  [...at('ports').children].slice(nodes.length).forEach((node) => node.remove());
}

function headline(ports, wrong) {
  if (!ports.length) return 'No rack is read here';
  return wrong.length ? `${wrong.length} of ${count(ports.length, 'port')} to look at` : `${count(ports.length, 'port')}, nothing is wrong with ${ports.length === 1 ? 'it' : 'them'}`;
}

function card(port) {
  const key = `${port.slot} ${port.port}`;
  if (!cards.has(key)) cards.set(key, element('li', 'port'));
  const node = cards.get(key);
  flag(node, 'data-trouble', port.trouble);
  const where = port.slot ? `${port.port}${port.baud ? `, ${port.baud} baud` : ''}` : port.kind;
  const parts = [element('h2', '', portName(port), element('small', '', where))];
  if (port.trouble) parts.push(element('p', 'trouble', troubleOf(port)));
  if (port.to_try.length) parts.push(element('ol', '', ...port.to_try.map((words) => element('li', '', words))));
  if (heardOf(port)) parts.push(element('p', 'heard', heardOf(port)));
  const example = port.rejections[0];
  if (port.trouble && example?.example) parts.push(element('code', '', example.example));
  else if (port.sample) parts.push(element('code', '', port.sample));
  setParts(node, parts);
  return node;
}

new Fresh(async () => show(await ask('/api/ports')), () => EVERY_MS).now();
