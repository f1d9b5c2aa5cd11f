// Parts that the pages share: links, buttons, tables that turn into blocks on a phone.
import { element, flag } from '../js/nodes.js';

/** A link. */
export function link(path, ...words) {
  const node = element('a', '', ...words);
  node.href = path;
  return node;
}

/** A tracker's name as a link to its page, with its id where that is another. */
export function trackerLink(id, name) {
  const parts = [link(`/tracker/${encodeURIComponent(id)}`, name || id)];
  if (name && name !== id) parts.push(' ', element('small', '', id));
  return element('span', 'unit', ...parts);
}

/** A button; its key lets it keep the keyboard's focus when it is drawn again. */
export function button(words, act, { label, key, className = 'act' } = {}) {
  const node = element('button', className, words);
  node.type = 'button';
  if (label) node.setAttribute('aria-label', label);
  if (key) node.dataset.key = key;
  node.addEventListener('click', act);
  return node;
}

/**
 * A table. Columns are {head, cell(row), number, wide}: numbers stand to the right; a wide one gets the room that is left. The
 * roles are told, as a phone's style sheet takes away the table's own.
 */
export function table(caption, columns, rows, mark = () => {}) {
  const node = element('table', '', element('caption', 'unseen', caption));
  node.setAttribute('role', 'table');
  const head = element('tr', '', ...columns.map((column) => cell('th', 'columnheader', column, [column.head])));
  const body = element('tbody', '', ...rows.map((row) => {
    const tr = element('tr', '', ...columns.map((column) => cell('td', 'cell', column, [].concat(column.cell(row) ?? ''))));
    mark(tr, row);
    return roled(tr, 'row');
  }));
  node.append(roled(element('thead', '', roled(head, 'row')), 'rowgroup'), roled(body, 'rowgroup'));
  return node;
}

function cell(name, role, column, parts) {
  const node = roled(element(name, '', ...parts), role);
  if (name === 'th') node.scope = 'col';
  else node.dataset.label = column.head;
  flag(node, 'data-number', column.number);
  flag(node, 'data-wide', column.wide);
  return node;
}

function roled(node, role) {
  node.setAttribute('role', role);
  return node;
}

/** Draws these in a place; what had the keyboard's focus has it again, where it is still there. */
export function show(place, ...parts) {
  const key = place.contains(document.activeElement) ? document.activeElement.dataset.key : null;
  place.replaceChildren(...parts);
  if (key) place.querySelector(`[data-key="${CSS.escape(key)}"]`)?.focus({ preventScroll: true });
}

/** "1 soak", "3 soaks". */
export function count(number, one, many = `${one}s`) {
  return `${number} ${number === 1 ? one : many}`;
}
