// The roster: who is listed and where, changed in its place or from a file, and the racks as they stand.
import { element, setParts, setText } from '../../js/nodes.js';
import { list } from '../../js/words.js';
import { asked, note, onMove, withParameters } from '../../shared/address.js';
import { askAll } from '../../shared/call.js';
import { Fresh } from '../../shared/fresh.js';
import { count, link } from '../../shared/parts.js';
import { RosterFile } from './file.js';
import { List } from './list.js';
import { showRacks } from './racks.js';

const EVERY_MS = 5_000;
const at = (id) => document.getElementById(id);

let entries = [];
let states = new Map();
let drawn = null;

const fresh = new Fresh(async (isNewest) => {
  const [listed, verdicts] = await Promise.all([askAll('/api/trackers', 'trackers'), askAll('/api/readiness', 'trackers')]);
  if (!isNewest()) return;
  entries = listed;
  states = new Map(verdicts.map((v) => [v.tracker, v.state]));
  draw();
}, () => EVERY_MS);

const roster = new List(at('list'), (entry) => {
  entries = entries.map((each) => (each.id === entry.id ? entry : each));
  setText(at('said'), `Saved: ${entry.id}.`);
  fresh.now();
});
new RosterFile({ input: at('file'), place: at('changes'), said: at('file-said') }, () => fresh.now());

/** Only what has become other is drawn, and never under somebody's hands. */
function draw() {
  const now = JSON.stringify([entries, [...states], at('q').value]);
  if (now === drawn || roster.busy) return;
  drawn = now;
  head();
  showRacks(at('racks'), entries, states);
  at('racks-section').hidden = !entries.some((entry) => entry.rack && entry.slot);
  const found = entries.filter(matches);
  at('list').hidden = !found.length;
  setText(at('none'), entries.length ? (found.length ? '' : `None of ${count(entries.length, 'tracker')} has “${at('q').value}”.`) : '');
  at('none').hidden = !at('none').textContent;
  at('empty').hidden = entries.length > 0;
  at('find').hidden = !entries.length;
  roster.show(found);
}

function head() {
  const racks = new Set(entries.map((entry) => entry.rack).filter(Boolean)).size;
  const unlisted = [...states.keys()].filter((id) => !entries.some((entry) => entry.id === id));
  setText(at('headline'), entries.length ? `${count(entries.length, 'tracker')}${racks ? ` in ${count(racks, 'rack')}` : ''}` : 'Nobody is listed yet');
  at('unlisted').hidden = !unlisted.length;
  if (unlisted.length) setParts(at('unlisted'), ['Heard but not listed: ', element('b', '', list(unlisted, 8)), '. ', link('/start', 'Name them'), '.']);
}

function matches(entry) {
  const words = at('q').value.toLowerCase().split(' ').filter(Boolean);
  const text = Object.values(entry).join(' ').toLowerCase();
  return words.every((word) => text.includes(word));
}

function fromAddress() {
  at('q').value = asked().get('q') ?? '';
  draw();
}

at('q').addEventListener('input', () => {
  note(withParameters({ q: at('q').value.trim() }));
  draw();
});
onMove(fromAddress);
at('q').value = asked().get('q') ?? '';
fresh.now();
