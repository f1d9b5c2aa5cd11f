// The limits: what counts as ready, what others would have said of past soaks, and what was changed when.
import { setParts, setText } from '../../js/nodes.js';
import { asked, note, onMove } from '../../shared/address.js';
import { ask, call, why } from '../../shared/call.js';
import { Fresh } from '../../shared/fresh.js';
import { button, count } from '../../shared/parts.js';
import { moment } from '../../shared/times.js';
import { Form } from './form.js';
import { origin, showHistory } from './history.js';
import { showPreview, summary } from './preview.js';
import { scale } from './scale.js';

const EVERY_MS = 10_000;
/** A preview takes 15 s at most. */
const PREVIEW_S = 20;
const at = (id) => document.getElementById(id);

let form = null;
let described = {};
let rows = [];

const fresh = new Fresh(async (isNewest) => {
  described = form ? described : (await ask('/openapi.json')).components.schemas.GivenLimits.properties;
  const inForce = await ask('/api/limits');
  if (!isNewest()) return;
  const first = !form;
  form ??= new Form(at('fields'), described, changed);
  form.hold(inForce.limits);
  if (first) form.propose(asked());
  showHistory(at('history'), inForce.history, described);
  setText(at('headline'), sentence(inForce.limits));
  setParts(at('lead'), ['Since ', moment(inForce.since), `, from ${origin(inForce.origin)}. A soak keeps the limits that it began with.`]);
  draw();
}, () => EVERY_MS);

function sentence(l) {
  return `Ready lies within ${l.band_low_c} to ${l.band_high_c} °C, drifts less than ${l.shift_limit_dps} °/s in ${l.calibration_s} s and has held for ${l.dwell_s} s`;
}

/** The proposals stand in the address; a preview of others is not theirs any more. */
function changed() {
  const query = new URLSearchParams(Object.entries(form.proposed()).map(([key, value]) => [key, value ?? '']));
  note(location.pathname + (query.size ? `?${query}` : ''));
  form.clear();
  at('preview').hidden = true;
  setText(at('said'), '');
  setText(at('wrong'), '');
  draw();
}

function draw() {
  const differing = Object.keys(form.proposed()).length;
  at('try').disabled = at('back').disabled = !differing;
  setText(at('count'), differing ? `${count(differing, 'limit')} proposed` : 'Change a limit to see what it would have said.');
  scale(at('scale'), form.held(), form.all());
}

async function preview(path = '/api/limits/preview') {
  busy(true);
  const proposed = form.proposed();
  const [looked, now] = await Promise.all([
    call('POST', path, { content: proposed, seconds: PREVIEW_S }),
    call('PUT', '/api/limits?dry_run=true&now=true', { content: proposed }),
  ]);
  busy(false);
  if (!looked.ok || !now.ok) return refuse(looked.ok ? now : looked);
  rows = path === '/api/limits/preview' ? looked.body.soaks : [...rows, ...looked.body.soaks];
  at('preview').hidden = false;
  // A later page sums up its own soaks only; the sentence stays that of the newest ones.
  if (path === '/api/limits/preview') setText(at('summary'), summary(looked.body.summary));
  const { next, summary: { left_out: left } } = looked.body;
  showPreview(at('soaks'), rows, next ? button(`Judge earlier ones too (${left} left)`, () => preview(next), { key: 'more' }) : null);
  offer(now.body.judged_again.length);
  if (path === '/api/limits/preview') at('preview-title').focus();
}

function offer(underWay) {
  at('save-now').hidden = !underWay;
  setText(at('save-now'), `Save, and judge ${underWay === 1 ? 'the soak' : `the ${underWay} soaks`} under way again by them`);
}

async function save(now) {
  busy(true);
  const answer = await call('PUT', `/api/limits${now ? '?now=true' : ''}`, { content: form.proposed(), seconds: PREVIEW_S });
  busy(false);
  if (!answer.ok) return refuse(answer);
  const { since, judged_again: again, note: remark } = answer.body;
  note(location.pathname);
  form.hold(answer.body.limits);
  at('preview').hidden = true;
  setParts(at('said'), ['Saved. They hold since ', moment(since), now ? `; ${count(again.length, 'soak')} judged again.` : ', for soaks that begin after.', remark ? ` ${remark}` : '']);
  await fresh.now();
  at('said').focus();
}

function refuse(answer) {
  const others = form.refuse(answer.body?.problems ?? []);
  setText(at('wrong'), others.length || !answer.body?.problems?.length ? why({ ...answer, body: { ...answer.body, problems: others } }) : answer.body.detail);
}

function busy(on) {
  for (const id of ['try', 'save', 'save-now']) at(id).disabled = on;
}

at('form').addEventListener('submit', (event) => {
  event.preventDefault();
  preview();
});
at('save').addEventListener('click', () => save(false));
at('save-now').addEventListener('click', () => save(true));
at('back').addEventListener('click', () => {
  form.propose(new URLSearchParams());
  changed();
});
onMove(() => {
  form?.propose(asked());
  if (form) draw();
});
new ResizeObserver(() => { if (form) draw(); }).observe(at('scale'));
fresh.now();
