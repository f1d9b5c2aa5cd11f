// Wires the page: what the source brings goes to headline, rail, tiles, notices and the spoken line.
import { AlarmBar } from './alarms.js';
import { Announcer } from './announce.js';
import { Checks } from './checks.js';
import { EndedAlarms } from './ended-alarms.js';
import { scaleOf } from './gauge.js';
import { Grid } from './grid.js';
import { Marks } from './marks.js';
import { setParts, setText, time } from './nodes.js';
import { showNotices } from './notices.js';
import { Rail } from './rail.js';
import { headline, sorted, title, todo } from './sentence.js';
import { Source } from './source.js';
import { takeOff } from './taken-off.js';
import { dataNow, views as viewsOf } from './view.js';
import { clockWithSeconds, day, list, sameDay } from './words.js';

const OTHER_CLOCK_MS = 60_000;
const at = (id) => document.getElementById(id);

const announcer = new Announcer(at('spoken'));
const marks = new Marks((list) => {
  checks.changed(list);
  later();
});
const checks = new Checks(at('checks'), marks);
const grid = new Grid(at('trackers'), {
  tell: (id, when) => marks.tell(id, when), undo: (id, when) => marks.undo(id, when), open: (view) => checks.open(view), takenOff,
});
const rail = new Rail(at('rail'));
const alarms = new AlarmBar(at('alarms'), {
  seen: (ids) => source.acknowledge(ids), takenOff, soaks: (id) => Boolean(verdicts.get(id)?.soak),
  news: (titles) => announcer.alarms(titles),
});
const verdicts = new Map();
let shownAlarms = [];
let roster = new Map();
let live = true;
let loaded = false;
let refusal = null;
let trouble = null;
let due = false;

const source = new Source({
  whole(trackers) {
    verdicts.clear();
    loaded = true;
    keep(trackers);
  },
  roster(entries) {
    roster = new Map(entries.map((entry) => [entry.id, entry]));
    later();
  },
  some: keep,
  ended(ids) {
    ids.forEach((id) => verdicts.delete(id));
    later();
  },
  alarms(list) {
    shownAlarms = list;
    later();
  },
  marks: (list) => marks.whole(list),
  marked: (list) => marks.some(list),
  link(isLive, reason = null) {
    refusal = reason;
    if (live === isLive) return;
    live = isLive;
    announcer.say(live ? 'Connected to the service again.' : 'Connection to the service lost. What is shown is old.');
    later();
  },
  health(text) {
    if (trouble !== text) later();
    trouble = text;
  },
});

/** Says that a tracker was taken off; its tile goes with the soak. Null, or a sentence that says what went wrong. */
async function takenOff(id) {
  const soak = verdicts.get(id)?.soak;
  if (!soak) return null;
  const refusal = await takeOff(soak);
  if (refusal) return refusal;
  // Meanwhile it may have been put back and begun another.
  if (verdicts.get(id)?.soak === soak) verdicts.delete(id);
  draw();
  // The button went with its tile; the keyboard's focus must not.
  if (document.activeElement === document.body) at('trackers').focus({ preventScroll: true });
  return null;
}

function keep(trackers) {
  for (const readiness of trackers) verdicts.set(readiness.tracker, readiness);
  later();
}

/** Events come in bursts; the page is drawn once for all of them. */
function later() {
  if (due) return;
  due = true;
  queueMicrotask(() => {
    due = false;
    draw();
  });
}

function draw() {
  const readinesses = [...verdicts.values()];
  const nowMs = dataNow(readinesses);
  const views = viewsOf(readinesses, roster, marks, nowMs);
  const groups = sorted(views);
  notices();
  alarms.show(shownAlarms);
  if (!loaded) return;
  at('empty').hidden = views.length > 0;
  at('trackers').hidden = views.length === 0;
  setText(at('headline'), views.length ? headline(groups) : 'No tracker is heard yet');
  setParts(at('todo'), views.length ? todo(groups, !live) : []);
  document.title = title(groups, views.length, !live);
  grid.show(views, { scale: scaleOf(readinesses), lost: !live });
  rail.show(groups, nowMs);
  announcer.hear(views);
  top(views, nowMs);
  unheard();
}

function top(views, nowMs) {
  const heard = views.filter((v) => v.state !== 'silent').length;
  setText(at('heard'), views.length ? `${heard} of ${views.length} heard` : '');
  if (nowMs === null) return setText(at('clock'), '');
  const other = Math.abs(Date.now() - nowMs) > OTHER_CLOCK_MS;
  const words = `${sameDay(nowMs, Date.now()) ? '' : `${day(nowMs)} `}${clockWithSeconds(nowMs)}`;
  return setParts(at('clock'), [other ? 'data clock ' : '', time(nowMs, words)]);
}

/** Trackers that the roster knows and nobody hears. */
function unheard() {
  const names = [...roster.values()].filter((entry) => !verdicts.has(entry.id)).map((entry) => entry.name || entry.id);
  at('unheard').hidden = !names.length;
  setText(at('unheard'), `In the roster but not heard: ${list(names, 12)}.`);
}

function notices() {
  showNotices(at('notices'), { live, refusal, heardMs: source.heardMs }, trouble, Date.now());
}

const example = { id: 'T-1', time: new Date().toISOString(), temp_c: 24.3, gyro_dps: [0.31, -0.12, 0.05] };
setText(at('try-post'), `curl -H 'Content-Type: application/x-ndjson' --data '${JSON.stringify(example)}' ${new URL('api/samples', document.baseURI)}`);
new EndedAlarms(at('ended-alarms'));
new ResizeObserver(later).observe(at('rail').parentElement);
setInterval(() => { if (!live) notices(); }, 1_000);
source.start();
