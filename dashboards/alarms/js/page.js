// The alarms: those that hold and who has seen them, those that ended, and the cautions that go with heat and cells.
import { isHeat } from '../../js/alarm-row.js';
import { setText } from '../../js/nodes.js';
import { takeOff } from '../../js/taken-off.js';
import { ask, askAll, call, why } from '../../shared/call.js';
import { Fresh } from '../../shared/fresh.js';
import { count } from '../../shared/parts.js';
import { showEnded, showOpen } from './rows.js';

const EVERY_MS = 3_000;
/** Who says that an alarm was seen; kept for this tab. */
const NAME = 'seen-by';
const at = (id) => document.getElementById(id);

let open = [];
let shown = null;

const fresh = new Fresh(async (isNewest) => {
  const { alarms } = await ask('/api/alarms');
  const silent = alarms.some((alarm) => alarm.kind === 'silent' && !alarm.until);
  const verdicts = silent ? await askAll('/api/readiness', 'trackers') : [];
  if (!isNewest()) return;
  const soaks = new Map(verdicts.filter((v) => v.soak).map((v) => [v.tracker, v.soak]));
  draw(alarms, soaks);
}, () => EVERY_MS);

/** Only what has become other is drawn, so that a button that somebody is about to press stays. */
function draw(alarms, soaks) {
  const now = JSON.stringify([alarms, [...soaks]]);
  if (now === shown) return;
  shown = now;
  open = alarms.filter((alarm) => !alarm.until);
  const ended = alarms.filter((alarm) => alarm.until);
  setText(at('headline'), headline());
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
  if (!open.length) return 'No alarm holds';
  const heat = open.filter(isHeat).length;
  const ofHeat = !heat ? '' : heat < open.length ? `, ${heat} of heat` : open.length > 1 ? ', all of heat' : ', of heat';
  return `${count(open.length, 'alarm holds', 'alarms hold')}${ofHeat}; ${whoHasSeen(unseen().length)}`;
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
fresh.now();
