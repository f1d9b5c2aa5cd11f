// Soaks: the list, found by tracker, lot, rack and time; or some of them compared, as the address says.
import { setText } from '../../js/nodes.js';
import { takeOff } from '../../js/taken-off.js';
import { list as names } from '../../js/words.js';
import { asked, follow, note, onMove, withParameters } from '../../shared/address.js';
import { ask, askAll, call, why } from '../../shared/call.js';
import { Filter } from '../../shared/filter.js';
import { Fresh } from '../../shared/fresh.js';
import { count } from '../../shared/parts.js';
import { told } from '../../shared/times.js';
import { Bringing } from './bringing.js';
import { drawCompared, MOST, readCompared } from './compare.js';
import { SoakList } from './list.js';

const EVERY_MS = 5_000;
const COMPARED_MS = 60_000;
const PAGE = 50;
const at = (id) => document.getElementById(id);
const chosen = new Set();

let compared = null;
let drawn = null;
let offered = false;

const filter = new Filter(at('filter'), { words: ['tracker', 'lot', 'rack'], times: ['from', 'to'], more: ['after'] });
const list = new SoakList(at('list'), { chosen, choose, end, leaveOut, takeIn });

new Bringing(document, { place: at('bring'), form: at('bring-form'), said: at('bring-said'), brought: at('brought'), imports: at('imports') }, () => {
  drawn = null;
  fresh.now();
});

const fresh = new Fresh(async (isNewest) => {
  const ids = asked().get('compare')?.split(',').filter(Boolean);
  at('listing').hidden = Boolean(ids);
  at('comparing').hidden = !ids;
  await (ids ? compare(ids.slice(0, MOST), isNewest) : listed(isNewest));
}, () => (asked().has('compare') ? COMPARED_MS : EVERY_MS));

async function listed(isNewest) {
  if (!offered) {
    const roster = await askAll('/api/trackers', 'trackers');
    filter.offer({ tracker: roster.map((entry) => entry.id), lot: roster.map((entry) => entry.lot), rack: roster.map((entry) => entry.rack) });
  }
  offered = true;
  const { soaks, next } = await ask(`/api/soaks?${filter.query({ limit: PAGE })}`);
  if (!isNewest() || list.busy) return;
  const underWay = soaks.filter((s) => !s.ended).length;
  setText(at('headline'), soaks.length ? `Soaks, newest first${underWay ? `; ${underWay} under way` : ''}` : filter.isNarrow ? 'No soak is like that' : 'No soak yet');
  document.title = 'Soaks · Soakbench';
  at('empty').hidden = soaks.length > 0 || filter.isNarrow;
  at('none').hidden = soaks.length > 0 || !filter.isNarrow;
  pager(next);
  const now = JSON.stringify([soaks, location.search]);
  if (now !== drawn) list.show(soaks);
  at('list').hidden = !soaks.length;
  drawn = now;
}

function pager(next) {
  const after = next ? new URL(next, location.href).searchParams.get('after') : null;
  at('earlier').hidden = !after;
  at('newest').hidden = !asked().get('after');
  if (after) at('earlier').href = withParameters({ after });
  at('newest').href = withParameters({ after: null });
}

async function compare(ids, isNewest) {
  const read = await readCompared(ids);
  if (!isNewest()) return;
  compared = read;
  setText(at('headline'), `${names(read.entries.map((entry) => entry.name), MOST)} beside each other`);
  document.title = `${count(ids.length, 'soak')} compared · Soakbench`;
  drawCompared({ svg: at('overlay'), table: at('figures') }, read);
}

function choose(soak, whether) {
  if (whether) chosen.add(soak);
  else chosen.delete(soak);
  note(withParameters({ chosen: [...chosen].join(',') }));
  bar();
}

function bar() {
  at('choice').hidden = !chosen.size;
  const enough = chosen.size > 1 && chosen.size <= MOST;
  at('compare').hidden = !enough;
  at('compare').href = `/soaks?compare=${[...chosen].map(encodeURIComponent).join(',')}`;
  setText(at('compare'), `Compare ${chosen.size}`);
  setText(at('choice-count'), enough ? '' : chosen.size > MOST ? `${chosen.size} chosen; at most ${MOST} can be told apart.` : 'One chosen; choose another to compare it with.');
}

async function end(soak) {
  return done(await takeOff(soak.soak), `The soak of ${soak.name || soak.tracker} is ended.`);
}

async function leaveOut(soak, reason) {
  const answer = await call('POST', leaveOutOf(soak), { content: { reason } });
  return done(answer.ok ? null : `Not left out: ${why(answer)}`, `${of(soak)} is left out of the figures: ${reason}.`);
}

async function takeIn(soak) {
  const answer = await call('DELETE', leaveOutOf(soak));
  return done(answer.ok ? null : `Not taken in: ${why(answer)}`, `${of(soak)} counts in the figures again.`);
}

function leaveOutOf(soak) {
  return `/api/soaks/${encodeURIComponent(soak.soak)}/leave-out`;
}

function of(soak) {
  return `The soak of ${soak.name || soak.tracker}, ${told(Date.parse(soak.start))},`;
}

/** Says what was done, or what the service said against it; whether it was done. */
async function done(refused, words) {
  setText(at('wrong'), refused ?? '');
  setText(at('said'), refused ? '' : words);
  if (refused) return false;
  list.settled();
  drawn = null;
  await fresh.now();
  at('said').focus();
  return true;
}

/** What the address says: what is asked for, and what is chosen. */
function moved() {
  filter.show();
  chosen.clear();
  (asked().get('chosen') ?? '').split(',').filter(Boolean).forEach((id) => chosen.add(id));
  bar();
  drawn = null;
  fresh.now();
}

for (const id of ['earlier', 'newest', 'compare']) at(id).addEventListener('click', (event) => follow(event, at(id)));
at('clear').addEventListener('click', () => {
  chosen.clear();
  note(withParameters({ chosen: null }));
  moved();
});
new ResizeObserver(() => { if (compared && !at('comparing').hidden) drawCompared({ svg: at('overlay'), table: at('figures') }, compared); }).observe(at('overlay'));
onMove(moved);
moved();
