// A page of soaks, newest first: to be opened, chosen for comparing, ended.
import { element, flag } from '../../js/nodes.js';
import { button, link, show, table, trackerLink } from '../../shared/parts.js';
import { endedWords, reportOf } from '../../shared/soak.js';
import { length, moment } from '../../shared/times.js';

/** {@code on} is {chosen: set of soaks, choose(soak, whether), end(soak)}. */
export class SoakList {
  #place;
  #on;
  #asking = null;

  constructor(place, on) {
    this.#place = place;
    this.#on = on;
  }

  /** Whether somebody is asked whether a soak is to be ended: then the list must not be drawn anew. */
  get busy() {
    return this.#asking !== null;
  }

  show(soaks) {
    this.#asking = null;
    show(this.#place, table('Soaks, newest first', [
      { head: 'compare', cell: (s) => this.#box(s) },
      { head: 'tracker', cell: (s) => trackerLink(s.tracker, s.name) },
      { head: 'lot', cell: (s) => s.lot },
      { head: 'began', cell: (s) => moment(s.start) },
      { head: 'lasted', number: true, cell: (s) => length(s.start, s.end) },
      { head: 'ended', cell: (s) => (s.ended ? endedWords(s) : element('b', '', endedWords(s))) },
      { head: 'samples', number: true, cell: (s) => s.samples.toLocaleString('en-GB').replaceAll(',', '\u202f') },
      { head: '', cell: (s) => this.#acts(s) },
    ], soaks, (tr, s) => flag(tr, 'data-running', !s.ended)));
  }

  #box(soak) {
    const box = element('input', '');
    Object.assign(box, { type: 'checkbox', checked: this.#on.chosen.has(soak.soak) });
    box.dataset.key = `choose ${soak.soak}`;
    box.setAttribute('aria-label', `Compare the soak of ${soak.name || soak.tracker}`);
    box.addEventListener('change', () => this.#on.choose(soak.soak, box.checked));
    return box;
  }

  #acts(soak) {
    const report = link(reportOf(soak.soak), 'Report');
    report.setAttribute('aria-label', `Report of the soak of ${soak.name || soak.tracker}`);
    const place = element('span', 'soak-acts', report);
    if (!soak.ended) place.append(button('End', () => this.#ask(place, soak), { label: `End the soak of ${soak.name || soak.tracker}`, key: `end ${soak.soak}`, className: 'act small' }));
    return place;
  }

  /** Ending can't be undone, so it is asked once more. */
  #ask(place, soak) {
    this.#asking = soak.soak;
    const before = [...place.childNodes];
    const back = () => {
      this.#asking = null;
      place.replaceChildren(...before);
      before.at(-1).focus();
    };
    const yes = button('Taken off: end it', () => this.#on.end(soak).then((ended) => { if (!ended) back(); }), { className: 'act small first' });
    place.replaceChildren(yes, button('No', back, { className: 'act small' }));
    place.addEventListener('keydown', (event) => { if (event.key === 'Escape' && this.busy) back(); });
    yes.focus();
  }
}
