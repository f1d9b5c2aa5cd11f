// Lots: all of them, or one, as the address says.
import { setText } from '../../js/nodes.js';
import { asked, follow, onMove, withParameters } from '../../shared/address.js';
import { ask } from '../../shared/call.js';
import { Fresh } from '../../shared/fresh.js';
import { count } from '../../shared/parts.js';
import { LotList, listWords } from './list.js';
import { Lot } from './lot.js';
import { comparePage, lotPath } from './service.js';

const EVERY_MS = 10_000;
const PATIENCE_S = 30;
const PAGE = 50;
const MOST = 8;
const at = (id) => document.getElementById(id);
const chosen = new Set();

let drawn = '';
let one = null;

const list = new LotList(at('list'), { chosen, choose });

const fresh = new Fresh(async (isNewest) => {
  const lot = asked().get('lot');
  at('listing').hidden = Boolean(lot);
  at('lot').hidden = !lot;
  await (lot ? showOne(lot, isNewest) : showAll(isNewest));
}, () => EVERY_MS);

async function showAll(isNewest) {
  const after = asked().get('after');
  const body = await ask(`/api/lots?limit=${PAGE}${after ? `&after=${encodeURIComponent(after)}` : ''}`, { seconds: PATIENCE_S });
  if (!isNewest()) return;
  const now = JSON.stringify(body);
  if (now === drawn) return;
  drawn = now;
  const { headline, lead } = listWords(body.lots, Boolean(body.next || after));
  setText(at('headline'), headline);
  setText(at('lead'), lead);
  document.title = 'Lots · Soakbench';
  at('empty').hidden = body.lots.length > 0;
  at('list').hidden = !body.lots.length;
  at('next').hidden = !body.next;
  if (body.next) at('next').href = withParameters({ after: new URL(body.next, location.href).searchParams.get('after') });
  list.show(body.lots);
}

async function showOne(name, isNewest) {
  const [lot, limits] = await Promise.all([ask(lotPath(name), { seconds: PATIENCE_S }), ask('/api/screening-limits')]);
  for (let next = lot.next; next;) {
    const body = await ask(next, { seconds: PATIENCE_S });
    lot.units.push(...body.units);
    next = body.next;
  }
  if (!isNewest()) return;
  const now = JSON.stringify([lot, limits]);
  if (now === drawn) return;
  drawn = now;
  one ??= new Lot(saved);
  document.title = `${name} · Lots · Soakbench`;
  at('beside').href = comparePage([name]);
  one.show(lot, limits.screening_limits);
}

/** Limits were saved: every verdict on the page is another now. */
async function saved(words) {
  drawn = '';
  await fresh.now();
  setText(at('said'), words);
  at('said').focus();
}

function choose(lot, whether) {
  if (whether) chosen.add(lot);
  else chosen.delete(lot);
  at('choice').hidden = !chosen.size;
  at('compare').hidden = chosen.size > MOST;
  at('compare').href = comparePage([...chosen]);
  setText(at('compare'), chosen.size === 1 ? 'Look at it' : `Compare ${chosen.size}`);
  setText(at('choice-count'), chosen.size > MOST ? `${count(chosen.size, 'lot')} chosen; at most ${MOST} can be told apart.` : chosen.size === 1 ? 'One chosen; choose another to compare it with.' : '');
}

at('clear').addEventListener('click', () => {
  [...chosen].forEach((lot) => choose(lot, false));
  drawn = '';
  fresh.now();
});
at('next').addEventListener('click', (event) => follow(event, at('next')));
onMove(() => {
  drawn = '';
  fresh.now();
});
fresh.now();
