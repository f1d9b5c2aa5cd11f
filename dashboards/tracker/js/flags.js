// Marks of a soak: calibrations, changes of the surroundings, reboots, the first ready, now.
import { outcome } from '../../js/calibrated.js';
import { shape } from '../../js/shapes.js';
import { clock } from '../../js/words.js';
import { segments } from './ribbon.js';

const LETTER_PX = 7;
const NEAR_PX = 60;
const WORDS = { keep: 'calibrated: keep', do_again: 'calibrated: do again', unknown: 'calibrated: not known', checking: 'calibrated', question: 'calibrated?', undone: 'no calibration' };

/** Every mark, by time: [{s, words, shape, colour}]. */
export function marksOf(soak, columns) {
  const out = (soak.warmUp?.breaks ?? []).map((time) => ({ s: Date.parse(time) / 1000, words: 'surroundings changed', shape: null }));
  for (let i = 1; i < columns.boot.length; i++) {
    if (columns.boot[i] !== null && columns.boot[i - 1] !== null && columns.boot[i] > columns.boot[i - 1]) out.push({ s: columns.t[i], words: 'rebooted', shape: null });
  }
  for (const mark of soak.marks ?? []) out.push({ s: Date.parse(mark.at) / 1000, words: WORDS[outcome(mark)], shape: outcome(mark) });
  const ready = segments(soak).find((part) => part.state === 'ready');
  if (ready) out.push({ s: ready.from, words: `ready ${clock(ready.from * 1000)}`, shape: 'ready' });
  if (!soak.soak.ended) out.push({ s: soak.nowS, words: `now ${clock(soak.nowS * 1000)}`, shape: null, bold: true });
  return out.sort((a, b) => a.s - b.s);
}

/** Flags in two rows; a word that finds room in neither is left out: the table has it. */
export function flags(soak, columns) {
  const marks = marksOf(soak, columns);
  return (pen, frame) => {
    const free = [frame.left, frame.left];
    let last = null;
    for (const mark of marks) {
      const x = frame.x(mark.s);
      if (x < frame.left || x > frame.right) continue;
      pen.path([[x, frame.top, x, frame.top + 7]], { stroke: '--ink', width: 1.6 });
      const width = mark.words.length * LETTER_PX + (mark.shape ? 18 : 0) + 8;
      const left = x + width > frame.right;
      if (mark.words === last?.words && x - last.x < NEAR_PX) continue;
      last = { words: mark.words, x };
      const row = free.findIndex((end) => (left ? x - width : x) >= end);
      if (row < 0) continue;
      free[row] = left ? x : x + width;
      flag(pen, mark, left ? x - width : x + 5, frame.top + 19 + 16 * row);
    }
  };
}

function flag(pen, mark, x, y) {
  if (mark.shape) pen.picture(shape(mark.shape), x, y - 11, 13, mark.shape === 'ready' ? '--ready' : '--ink');
  pen.text(x + (mark.shape ? 17 : 0), y, mark.words, { fill: '--ink', bold: Boolean(mark.bold) });
}
