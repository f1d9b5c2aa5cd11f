// First steps: from "nothing heard" to a rack whose trackers have names and places.
import { setText } from '../../js/nodes.js';
import { askAll, ask } from '../../shared/call.js';
import { Fresh } from '../../shared/fresh.js';
import { count } from '../../shared/parts.js';
import { Names } from './names.js';
import { portsInWords, showPorts, talks } from './ports.js';

const EVERY_MS = 2_000;
const at = (id) => document.getElementById(id);
const names = new Names(at('who'));
let ports = null;

const fresh = new Fresh(async (isNewest) => {
  const [seen, verdicts, listed] = await Promise.all([ask('/api/ports'), askAll('/api/readiness', 'trackers'), askAll('/api/trackers', 'trackers')]);
  if (!isNewest()) return;
  const entries = new Map(listed.map((entry) => [entry.id, entry]));
  head(verdicts, entries, seen.ports);
  rack(seen.ports);
  racks(listed);
  names.show(verdicts, entries);
  at('naming').hidden = !verdicts.length;
  at('nobody').hidden = verdicts.length > 0;
}, () => EVERY_MS);

function head(verdicts, entries, all) {
  const without = verdicts.filter((v) => !placed(entries.get(v.tracker))).length;
  const silent = all.filter((port) => !talks(port)).length;
  setText(at('headline'), headline(verdicts, without));
  setText(at('lead'), !verdicts.length ? 'Three steps lead to a rack on the board. This page follows by itself.' : without ? 'Give them what people call them, and where they lie.' : 'The board shows them under their names.');
  at('try').open = at('try').open || (silent > 0 && !verdicts.length);
}

function headline(verdicts, without) {
  const heard = verdicts.length;
  if (!heard) return 'Nothing is heard yet';
  const silent = verdicts.filter((v) => v.state === 'silent').length;
  const words = silent ? `${count(heard, 'tracker was', 'trackers were')} heard (${silent} silent now)` : `${count(heard, 'tracker is', 'trackers are')} heard`;
  if (!without) return `${words}, ${heard === 1 ? 'with' : 'each with'} a name and a place`;
  return `${words}; ${without === heard ? 'none has' : count(without, 'has no', 'have no')}${without === heard ? ' a' : ''} name and place`;
}

function placed(entry) {
  return Boolean(entry && entry.name !== entry.id && entry.rack && entry.slot);
}

function rack(now) {
  at('no-rack').hidden = now.length > 0;
  at('ports-seen').hidden = !now.length;
  setText(at('ports-line'), portsInWords(now));
  // Opened once where one is silent; then it is left as the reader has it.
  if (ports === null && now.some((port) => !talks(port))) at('ports-seen').open = true;
  const text = JSON.stringify(now);
  if (text !== ports) showPorts(at('ports'), now, Date.now());
  ports = text;
}

function racks(listed) {
  const known = [...new Set(listed.map((entry) => entry.rack).filter(Boolean))].sort();
  const options = at('racks');
  if (options.children.length !== known.length) options.replaceChildren(...known.map((rack) => new Option('', rack)));
}

at('names').addEventListener('submit', async (event) => {
  event.preventDefault();
  at('save').disabled = true;
  const { saved, failed } = await names.save();
  at('save').disabled = false;
  setText(at('said'), saved || failed ? `${count(saved, 'tracker')} saved${failed ? `, ${failed} not` : ''}.` : 'Nothing was filled in that is not saved already.');
  fresh.now();
});

const example = { id: 'T-1', time: new Date().toISOString(), temp_c: 24.3, gyro_dps: [0.31, -0.12, 0.05] };
setText(at('try-post'), `curl -H 'Content-Type: application/x-ndjson' --data '${JSON.stringify(example)}' ${new URL('/api/samples', location.href)}`);
fresh.now();
