// What a spreadsheet can pull: tables, and one tracker's figures for cells, each with what it has now.
import { element, setText } from '../../js/nodes.js';
import { asked, note, onMove, withParameters } from '../../shared/address.js';
import { ask } from '../../shared/call.js';
import { Fresh } from '../../shared/fresh.js';
import { count, link, show, table } from '../../shared/parts.js';
import { copied } from './copy.js';
import { formula } from './formulas.js';

const EVERY_MS = 10_000;
const PARTS = ['_se', '_low', '_high'];
const at = (id) => document.getElementById(id);
const said = (words) => setText(at('said'), words);

let listed = null;
let drawn = null;

const fresh = new Fresh(async (isNewest) => {
  const tracker = asked().get('tracker');
  const answer = await ask(`/api/sheet${tracker ? `?tracker=${encodeURIComponent(tracker)}` : ''}`);
  if (!isNewest()) return;
  listed = answer;
  draw();
}, () => EVERY_MS);

/** Only what has become other is drawn, and never under somebody's hands. */
function draw() {
  const now = JSON.stringify([listed, at('q').value, at('how').value]);
  if (!listed || now === drawn || isBusy()) return;
  const tablesBefore = drawn && JSON.parse(drawn)[0].sheets;
  drawn = now;
  const cells = figures();
  setText(at('headline'), `${count(listed.sheets.length, 'table')} and ${count(cells.length, 'figure')} for a spreadsheet`);
  if (JSON.stringify(tablesBefore) !== JSON.stringify(listed.sheets)) drawTables();
  drawTrackers();
  drawCells(cells);
}

function isBusy() {
  return document.activeElement?.closest('.address') && document.activeElement.tagName === 'INPUT';
}

function drawTables() {
  show(at('tables'), table('Tables', [
    { head: 'table', cell: (t) => element('b', '', t.sheet) },
    { head: 'a row is', cell: (t) => t.row_is },
    { head: 'columns', number: true, cell: (t) => String(t.headings.length) },
    { head: 'first columns', cell: (t) => element('span', 'quiet', t.headings.slice(0, 5).map((h) => h.heading).join(', '), ' …') },
    { head: 'address', wide: true, cell: (t) => [copied(location.origin + t.path, `table ${t.sheet}`, said), link(t.path, 'take it as a file')] },
  ], listed.sheets));
}

function drawTrackers() {
  const select = at('tracker');
  const ids = [...select.options].map((option) => option.value);
  if (ids.join() !== listed.ids.join()) select.replaceChildren(...listed.ids.map((id) => new Option(id, id)));
  if (listed.tracker) select.value = listed.tracker;
  at('choose').hidden = !listed.ids.length;
}

/** Those that are no error or limit of another, which are named by their ending. */
function figures() {
  const names = new Set(listed.cells.map((c) => c.cell));
  return listed.cells.filter(({ cell }) => !PARTS.some((part) => cell.endsWith(part) && names.has(cell.slice(0, -part.length))));
}

function drawCells(cells) {
  const words = at('q').value.toLowerCase().split(' ').filter(Boolean);
  const found = cells.filter((c) => words.every((word) => `${c.cell} ${c.sheet} ${c.unit}`.toLowerCase().includes(word)));
  at('cells').hidden = !found.length;
  at('none').hidden = Boolean(found.length);
  setText(at('none'), listed.tracker ? `No figure has “${at('q').value}” in its name.` : 'No tracker is listed or heard yet, so there is no cell to show.');
  show(at('cells'), table(`Figures of ${listed.tracker}`, [
    { head: 'figure', cell: (c) => element('b', '', c.cell) },
    { head: 'now', cell: (c) => (c.shown ? element('span', '', `${c.shown} ${c.unit}`.trim()) : element('span', 'quiet', c.reason ? `not known: ${c.reason}` : 'not known')) },
    { head: 'of', cell: (c) => c.sheet },
    { head: 'to copy', wide: true, cell: (c) => copied(formula(at('how').value, addressOf(c), Boolean(c.unit)), c.cell, said) },
  ], found));
}

function addressOf({ cell }) {
  return `${location.origin}/sheet/cell/${encodeURIComponent(listed.tracker)}/${cell}`;
}

function fromAddress() {
  at('q').value = asked().get('q') ?? '';
  fresh.now();
}

at('q').addEventListener('input', () => {
  note(withParameters({ q: at('q').value.trim() }));
  draw();
});
at('how').addEventListener('change', draw);
at('tracker').addEventListener('change', () => {
  note(withParameters({ tracker: at('tracker').value }));
  fresh.now();
});
onMove(fromAddress);
fromAddress();
