// Wires the page of one tracker: which soak is shown, what is asked when, and where it goes.
import { onRepaint } from '../../charts/paint.js';
import { setParts, setText, time } from '../../js/nodes.js';
import { clockWithSeconds, day, sameDay } from '../../js/words.js';
import { Data } from './data.js';
import { showEmpty } from './empty.js';
import { Follow } from './follow.js';
import { Head } from './head.js';
import { showNotices } from './notices.js';
import { Parts } from './parts.js';
import { named } from './service.js';

const id = named('tracker/');
const asked = new URLSearchParams(location.search).get('soak');
const byId = (name) => document.getElementById(name);
const ZONE = Intl.DateTimeFormat('en-GB', { timeZoneName: 'short' }).formatToParts(Date.now()).find((p) => p.type === 'timeZoneName').value;

const link = { live: true, error: null, heardMs: 0 };
const data = new Data(id, asked, show);
const head = new Head(byId('head'), id, () => data.marksAgain());
const parts = new Parts(byId('parts'), data);
let spoken = null;

const follow = new Follow(id, {
  verdict(readiness) {
    data.verdict(readiness);
    say(readiness?.state ?? 'not soaking');
  },
  marked: () => data.marksAgain(),
  link(live, error = null) {
    const changed = link.live !== live;
    Object.assign(link, { live, error, heardMs: follow.heardMs });
    if (!live) data.unwell();
    if (changed) say(live ? 'Connected to the service again.' : 'Connection to the service lost. What is shown is old.');
    show();
  },
});

/** Draws what is known; called for each answer and each verdict. */
function show() {
  showNotices(byId('notices'), link, data.health, data.failed, data.unknown);
  top();
  if (data.isEmpty) {
    head.show({ roster: data.roster, readiness: null });
    byId('parts').hidden = true;
    showEmpty(byId('empty'), id, Boolean(data.roster));
    return;
  }
  byId('empty').hidden = true;
  if (!data.soak) return;
  byId('parts').hidden = false;
  head.show({ roster: data.roster, readiness: data.readiness, soak: data.soak, old: !link.live, hz: data.noise?.sample_rate_hz, lastS: data.lastS, earlier: data.isEarlier });
  parts.show();
}

function top() {
  const nowMs = data.nowMs;
  setParts(byId('clock'), [time(nowMs, `${sameDay(nowMs, Date.now()) ? '' : `${day(nowMs)} `}${clockWithSeconds(nowMs)}`), ` ${ZONE}`]);
}

/** Only changes are told. */
function say(text) {
  if (spoken !== null && spoken !== text) setText(byId('spoken'), text);
  spoken = text;
}

onRepaint(show);
setInterval(() => { if (!link.live) show(); }, 1_000);
follow.start();
data.start();
