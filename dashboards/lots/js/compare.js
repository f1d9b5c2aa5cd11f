// Lots compared, as the address says.
import { onRepaint } from '../../charts/paint.js';
import { element, setParts, setText } from '../../js/nodes.js';
import { note, onMove } from '../../shared/address.js';
import { ask, askAll } from '../../shared/call.js';
import { Fresh } from '../../shared/fresh.js';
import { list } from '../../js/words.js';
import { chosen, showChoice, wire } from './choose.js';
import { findingParts, greyWords, headline, isConfounded } from './finding.js';
import { Parts } from './parts.js';
import { readComparison } from './read.js';
import { comparePage, reportPage } from './service.js';

/** Lots change when a soak ends; somebody who reads must not have the page change under them. */
const EVERY_MS = 30_000;
const PATIENCE_S = 30;
const at = (id) => document.getElementById(id);

let parts = null;
let drawn = '';
let shown = null;

const fresh = new Fresh(async (isNewest) => {
  const asked = chosen();
  // First the roster: a lot that was listed only now is known to all calls after it.
  const offered = await names();
  if (!isNewest()) return;
  if (!asked.lots.length && !offered.lots.length) return nothing();
  if (!asked.lots.length) {
    asked.lots = offered.lots.slice(0, 2);
    note(comparePage(asked.lots, othersOf(asked)));
  }
  showChoice(offered.lots, offered.metrics);
  const read = await readComparison(asked);
  if (!isNewest()) return;
  const now = JSON.stringify(read);
  if (now !== drawn) await draw(read, asked);
  drawn = now;
}, () => EVERY_MS);

/** What is asked beside the lots. */
function othersOf({ metric, at_c: atC, ratio }) {
  return { metric, at_c: atC, ratio };
}

/** All lots of the roster, and all figures. */
async function names() {
  const [roster, { lots }] = await Promise.all([askAll('/api/trackers', 'trackers'), ask('/api/lots?limit=1', { seconds: PATIENCE_S })]);
  return { lots: [...new Set(roster.map((entry) => entry.lot).filter(Boolean))].sort(), metrics: lots.length ? Object.keys(lots[0].metrics) : [] };
}

async function draw(read, asked) {
  const { comparison } = read;
  shown = read;
  setParts(at('headline'), headline(comparison));
  setParts(at('finding'), findingParts(comparison));
  setText(at('grey'), greyWords(comparison));
  at('grey').hidden = !isConfounded(comparison);
  at('head').className = isConfounded(comparison) ? 'confounded' : '';
  document.title = `${list(comparison.lots.map((lot) => lot.lot), 4)} · Lots · Soakbench`;
  at('report').href = reportPage(asked.lots, othersOf(asked));
  at('parts').hidden = false;
  parts ??= new Parts(at('parts'));
  await parts.show(read);
  setText(at('said'), `Shown: ${at('headline').textContent}`);
  document.documentElement.dataset.whole = '';
}

function nothing() {
  setText(at('headline'), 'No lot yet');
  setParts(at('finding'), [element('p', 'lead', 'A lot is what the roster says of trackers. ', roster(), '; the figures come from their soaks.')]);
}

function roster() {
  const link = element('a', '', 'Give trackers a lot');
  link.href = '/roster';
  return link;
}

/** Another question: the answer on the page is not its. */
function moved() {
  delete document.documentElement.dataset.whole;
  drawn = '';
  fresh.now();
}

wire();
onMove(moved);
onRepaint(() => shown && parts.show(shown));
new ResizeObserver(() => shown && parts.fit(shown)).observe(at('parts'));
fresh.now();
