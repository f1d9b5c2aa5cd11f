// The alarms: those that hold and who has seen them, those that ended, and the cautions that go with heat and cells.
import { isHeat } from '../../js/alarm-row.js';
import { setText } from '../../js/nodes.js';
import { takeOff } from '../../js/taken-off.js';
import { ask, askAll, call, why } from '../../shared/call.js';
import { asked, onMove } from '../../shared/address.js';
import { Filter } from '../../shared/filter.js';
import { Fresh } from '../../shared/fresh.js';
import { count } from '../../shared/parts.js';
import { showEnded, showOpen } from './rows.js';

const EVERY_MS = 3_000;
/** Who says that an alarm was seen; kept for this tab. */
const NAME = 'seen-by';
const at = (id) => document.getElementById(id);

const filter = new Filter(at('filter'), { words: ['lot', 'rack'] });
let open = [];
let shown = null;
let offered = false;

const fresh = new Fresh(async (isNewest) => {
  if (!offered) {
    const roster = await askAll('/api/trackers', 'trackers');
    filter.offer({ lot: roster.map((entry) => entry.lot), rack: roster.map((entry) => entry.rack) });
  }
  offered = true;
  const { alarms } = await ask(`/api/alarms?${filter.query()}`);
  const everywhere = filter.isNarrow ? (await ask('/api/alarms?state=open')).alarms : alarms;
  const silent = alarms.some((alarm) => alarm.kind === 'silent' && !alarm.until);
  const verdicts = silent ? await askAll('/api/readiness', 'trackers') : [];
  if (!isNewest()) return;
  const soaks = new Map(verdicts.filter((v) => v.soak).map((v) => [v.tracker, v.soak]));
  draw(alarms, soaks, everywhere);
}, () => EVERY_MS);

/** Only what has become other is drawn, so that a button that somebody is about to press stays. */
function draw(alarms, soaks, everywhere) {
  const now = JSON.stringify([alarms, [...soaks], everywhere.length, location.search]);
  if (now === shown) return;
  shown = now;
  open = alarms.filter((alarm) => !alarm.until);
  const ended = alarms.filter((alarm) => alarm.until);
  setText(at('headline'), headline());
  setText(at('elsewhere'), elsewhere(everywhere));
  at('csv').href = `/api/alarms.csv?${filter.query()}`;
  document.title = `${open.length ? `${count(open.length, 'alarm')} · ` : ''}Alarms · Soakbench`;
  showOpen(at('open'), open, { seen: (alarm) => seen([alarm]), takenOff, soaks });
  at('all').hidden = unseen().length < 2;
  setText(at('seen-all'), `Seen, all ${unseen().length}`);
  at('answers').hidden = !unseen().length;
  showEnded(at('ended'), ended);
  at('ended').hidden = !ended.length;
  at('none-ended').hidden = ended.length > 0;
}

function headline() {
  if (!open.length) return `No alarm holds${where()}`;
  const heat = open.filter(isHeat).length;
  const ofHeat = !heat ? '' : heat < open.length ? `, ${heat} of heat` : open.length > 1 ? ', all of heat' : ', of heat';
  return `${count(open.length, 'alarm holds', 'alarms hold')}${where()}${ofHeat}; ${whoHasSeen(unseen().length)}`;
}

function where() {
  const parts = [asked().get('lot') && `lot ${asked().get('lot')}`, asked().get('rack') && `rack ${asked().get('rack').replace(/^rack\s+/i, '')}`].filter(Boolean);
  return parts.length ? ` in ${parts.join(', ')}` : '';
}

/** Nothing that holds is kept from the reader by what he looks for. */
function elsewhere(everywhere) {
  const others = everywhere.filter((alarm) => !alarm.until && !open.some((mine) => mine.id === alarm.id));
  const heat = others.filter(isHeat).length;
  return others.length ? `${count(others.length, 'more holds', 'more hold')} elsewhere${heat ? `, ${heat} of heat` : ''}.` : '';
}

function whoHasSeen(left) {
  if (!left) return 'all seen';
  if (left < open.length) return `${left} not seen`;
  return `nobody has seen ${left === 1 ? 'it' : 'them'}`;
}

function unseen() {
  return open.filter((alarm) => !alarm.acknowledged);
}

async function seen(alarms) {
  const by = at('by').value.trim();
  sessionStorage.setItem(NAME, by);
  for (const { id } of alarms) {
    const answer = await call('POST', `/api/alarms/${encodeURIComponent(id)}/acknowledgement`, by ? { content: { by } } : {});
    if (!answer.ok) return setText(at('wrong'), `Not noted as seen: ${why(answer)}`);
  }
  setText(at('wrong'), '');
  await fresh.now();
  if (document.activeElement === document.body) at('headline').focus();
}

async function takenOff({ tracker }) {
  const { body } = await call('GET', `/api/trackers/${encodeURIComponent(tracker)}/readiness`);
  setText(at('wrong'), (body?.soak && await takeOff(body.soak)) || '');
  await fresh.now();
  if (document.activeElement === document.body) at('headline').focus();
}

at('by').value = sessionStorage.getItem(NAME) ?? '';
at('seen-all').addEventListener('click', () => seen(unseen()));

/** What the address asks for. */
function moved() {
  filter.show();
  fresh.now();
}

onMove(moved);
moved();
