// What columns and members mean: a dictionary that can be searched.
import { element, setText } from '../../js/nodes.js';
import { asked, note, onMove, withParameters } from '../../shared/address.js';
import { ask } from '../../shared/call.js';
import { Fresh } from '../../shared/fresh.js';
import { count, show, table } from '../../shared/parts.js';
import { dictionary, find } from './dictionary.js';

/** It changes only with the program. */
const EVERY_MS = 3_600_000;
const SHOWN_PLACES = 3;
const at = (id) => document.getElementById(id);

let entries = null;

const fresh = new Fresh(async (isNewest) => {
  const all = dictionary(await ask('/openapi.json'));
  if (!isNewest()) return;
  entries = all;
  setText(at('headline'), 'What columns and members mean');
  at('name').value = asked().get('name') ?? '';
  draw();
}, () => EVERY_MS);

function draw() {
  if (!entries) return;
  const found = find(entries, at('name').value);
  setText(at('count'), found.length === entries.length ? count(names(entries), 'name') : `${names(found)} of ${count(names(entries), 'name')}`);
  at('none').hidden = found.length > 0;
  show(at('list'), ...(found.length ? [table('Names and what they mean', COLUMNS, found)] : []));
}

function names(list) {
  return new Set(list.map((e) => e.name)).size;
}

const COLUMNS = [
  { head: 'name', cell: (e) => [element('span', 'unit', e.name), ...others(e)] },
  { head: 'unit', cell: (e) => e.unit },
  { head: 'what it is', wide: true, cell: (e) => quoted(e.words) },
  { head: 'where', cell: (e) => places(e.places) },
];

/** The other columns that go with it. */
function others({ name, names: all }) {
  const more = all.filter((one) => one !== name);
  return more.length ? [element('span', 'more', more.join(' '))] : [];
}

/** "by `use_c`" with what is named set apart. */
function quoted(words) {
  return words.split('`').map((part, i) => (i % 2 ? element('code', '', part) : part));
}

function places(all) {
  if (all.length <= SHOWN_PLACES + 1) return all.join(', ');
  const first = all.slice(0, SHOWN_PLACES).join(', ');
  const rest = all.slice(SHOWN_PLACES);
  return [`${first} `, element('details', '', element('summary', '', `and ${rest.length} more`), rest.join(', '))];
}

at('name').addEventListener('input', () => {
  note(withParameters({ name: at('name').value.trim() }));
  draw();
});
at('filter').addEventListener('submit', (event) => event.preventDefault());
onMove(() => {
  at('name').value = asked().get('name') ?? '';
  draw();
});
fresh.now();
