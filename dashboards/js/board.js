// Wires the page: what the source brings goes to answer, line of time, tiles, notices and the spoken line.
import { AlarmBar } from './alarms.js';
import { Announcer } from './announce.js';
import { Bell } from './bell.js';
import { Callers } from './callers.js';
import { Checks } from './checks.js';
import { Controls } from './controls.js';
import { EndedAlarms } from './ended-alarms.js';
import { formOf } from './form.js';
import { scaleOf } from './gauge.js';
import { Grid } from './grid.js';
import { Hand } from './hand.js';
import { isHeat } from './alarm-row.js';
import { Marks } from './marks.js';
import { setParts, setText, time } from './nodes.js';
import { showNotices } from './notices.js';
import { PortLine } from './port-line.js';
import { Rail } from './rail.js';
import { byOrder, rest, sorted, title, todo } from './sentence.js';
import { Slab } from './slab.js';
import { Source } from './source.js';
import { takeOff } from './taken-off.js';
import { Verdicts } from './verdicts.js';
import { calls, dataNow, views as viewsOf } from './view.js';
import { clockWithSeconds, day, list, sameDay } from './words.js';

const OTHER_CLOCK_MS = 60_000;
// Trackers are judged once a second, each at its own moment: the page is drawn for many of them at once.
const DRAW_EVERY_MS = 500;
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
const bell = new Bell(at('bell'));
const hand = new Hand(at('hand'));
const slab = new Slab(at('slab'), at('headline'));
const callers = new Callers(at('calls'));
const rail = new Rail(at('rail'));
const controls = new Controls(at('view'), at('filters'), later);
const alarms = new AlarmBar(at('heat-place'), at('alarms'), {
  seen: (ids) => source.acknowledge(ids), takenOff, soaks: (id) => Boolean(verdicts.get(id)?.soak),
  news: (titles) => announcer.alarms(titles),
});
const verdicts = new Verdicts();
let shownAlarms = [];
let inHand = [];
let roster = new Map();
let live = true;
let loaded = false;
let refusal = null;
let trouble = null;
let due = null;
let drawnMs = 0;
let scale = null;

const source = new Source({
  whole(trackers) {
    const first = !loaded;
    loaded = true;
    verdicts.whole(trackers);
    later();
    // What is awaited comes at once.
    if (first) draw();
  },
  roster(entries) {
    roster = new Map(entries.map((entry) => [entry.id, entry]));
    later();
  },
  some: keep,
  ended(ids) {
    verdicts.ended(ids);
    later();
  },
  alarms(list) {
    shownAlarms = list;
    later();
  },
  inHand(list) {
    inHand = list;
    // Who holds one looks at it now.
    draw();
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
  if (verdicts.get(id)?.soak === soak) verdicts.ended([id]);
  draw();
  // The button went with its tile; the keyboard's focus must not.
  if (document.activeElement === document.body) at('trackers').focus({ preventScroll: true });
  return null;
}

function keep(trackers) {
  verdicts.some(trackers);
  later();
}

/** Events come in bursts; the page is drawn once for all of them, the first of them at once. */
function later() {
  due ??= setTimeout(draw, Math.max(0, drawnMs + DRAW_EVERY_MS - performance.now()));
}

function draw() {
  clearTimeout(due);
  due = null;
  drawnMs = performance.now();
  const readinesses = verdicts.all;
  const nowMs = dataNow(readinesses);
  const views = viewsOf(verdicts, roster, marks, nowMs);
  notices();
  alarms.show(shownAlarms);
  if (!loaded) return;
  at('empty').hidden = views.length > 0;
  scale = same(scale, scaleOf(readinesses));
  hand.show(live ? inHand : [], roster);
  head(views, nowMs);
  trackers(views);
  announcer.hear(views);
  top(views, nowMs);
}

function same(before, now) {
  return JSON.stringify(before) === JSON.stringify(now) ? before : now;
}

/** Whether heat stands above the answer, larger than it, until somebody has seen it. */
function heatIsTold() {
  return shownAlarms.some((alarm) => isHeat(alarm) && !alarm.acknowledged && !alarm.until);
}

function head(views, nowMs) {
  const groups = sorted(views);
  if (views.length) slab.show(groups, { heatIsTold: heatIsTold(), lost: !live, scale });
  else slab.say('No tracker is heard yet');
  setText(at('rest'), live ? rest(groups, nowMs) : '');
  setText(at('todo'), views.length ? todo(groups, !live) : '');
  document.title = title(groups, views.length, !live, bell.hear(groups.ready));
  rail.show(groups, nowMs);
}

function trackers(views) {
  const chosen = document.documentElement.hasAttribute('data-wall') ? null : controls.form;
  const form = formOf(views.length, { width: innerWidth, height: innerHeight }, chosen);
  const unheard = [...roster.values()].filter((entry) => !verdicts.get(entry.id));
  at('trackers').hidden = views.length === 0;
  at('view').hidden = views.length === 0;
  const untold = views.filter((v) => calls(v, !live) && !(heatIsTold() && v.state === 'hot'));
  const others = untold.sort(byOrder).slice(1);
  callers.show(others, form !== 'full' && innerWidth > 560);
  grid.show(controls.filtered(views, form), { held: new Set(inHand.map((h) => h.tracker)), form, scale, lost: !live, unheard });
  at('unheard').hidden = !unheard.length;
  setText(at('unheard'), `In the roster but not heard: ${list(unheard.map((entry) => entry.name || entry.id), 12)}.`);
}

function top(views, nowMs) {
  const heard = views.filter((v) => v.state !== 'silent').length;
  setText(at('heard'), views.length ? `${heard} of ${views.length} heard` : '');
  if (nowMs === null) return setText(at('clock'), '');
  const other = Math.abs(Date.now() - nowMs) > OTHER_CLOCK_MS;
  const words = `${sameDay(nowMs, Date.now()) ? '' : `${day(nowMs)} `}${clockWithSeconds(nowMs)}`;
  return setParts(at('clock'), [other ? 'data clock ' : '', time(nowMs, words)]);
}

function notices() {
  showNotices(at('notices'), { live, refusal, heardMs: source.heardMs }, trouble, Date.now());
}

if (new URLSearchParams(location.search).has('wall')) document.documentElement.toggleAttribute('data-wall', true);
const example = { id: 'T-1', time: new Date().toISOString(), temp_c: 24.3, gyro_dps: [0.31, -0.12, 0.05] };
setText(at('try-post'), `curl -H 'Content-Type: application/x-ndjson' --data '${JSON.stringify(example)}' ${new URL('api/samples', document.baseURI)}`);
new EndedAlarms(at('ended-alarms'));
addEventListener('resize', draw);
new ResizeObserver(later).observe(at('rail').parentElement);
setInterval(() => { if (!live) notices(); }, 1_000);
source.start();
new PortLine(at('port-line'), document.querySelector('#pages a[href="/ports"]')).start();
