// A page of soaks, newest first: to be opened, chosen for comparing, ended, left out of the figures and taken in again.
import { element, flag } from '../../js/nodes.js';
import { button, link, show, table, trackerLink } from '../../shared/parts.js';
import { endedWords, pageOf, reportOf } from '../../shared/soak.js';
import { length, moment } from '../../shared/times.js';

/** As many characters as the service takes of a reason. */
const LONGEST = 200;

/** {@code on} is {chosen: set of soaks, choose(soak, whether), end(soak), leaveOut(soak, reason), takeIn(soak)}; the last three resolve to whether it was done. */
export class SoakList {
  #place;
  #on;
  #asking = null;

  constructor(place, on) {
    this.#place = place;
    this.#on = on;
  }

  /** Whether somebody is asked something of a soak: then the list must not be drawn anew. */
  get busy() {
    return this.#asking !== null;
  }

  /** What was asked is done: it may be drawn anew, and stays as it is until then. */
  settled() {
    this.#asking = null;
  }

  show(soaks) {
    this.settled();
    show(this.#place, table('Soaks, newest first', [
      { head: 'compare', cell: (s) => this.#box(s) },
      { head: 'tracker', cell: (s) => trackerLink(s.tracker, s.name) },
      { head: 'lot', cell: (s) => s.lot },
      { head: 'began', cell: (s) => link(pageOf(s), moment(s.start)) },
      { head: 'lasted', number: true, cell: (s) => length(s.start, s.end) },
      { head: 'ended', cell: (s) => (s.ended ? endedWords(s) : element('b', '', endedWords(s))) },
      { head: 'samples', number: true, cell: (s) => s.samples.toLocaleString('en-GB').replaceAll(',', '\u202f') },
      { head: 'figures', cell: (s) => (s.left_out ? [element('b', '', 'left out'), `: ${s.left_out}`] : '') },
      { head: '', cell: (s) => this.#acts(s) },
    ], soaks, (tr, s) => {
      flag(tr, 'data-running', !s.ended);
      flag(tr, 'data-left-out', s.left_out);
    }));
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
    const of = `the soak of ${soak.name || soak.tracker}`;
    const report = link(reportOf(soak.soak), 'Report');
    report.setAttribute('aria-label', `Report of ${of}`);
    const place = element('span', 'soak-acts', report);
    const act = (words, key, label, does) => place.append(button(words, does, { label, key: `${key} ${soak.soak}`, className: 'act small' }));
    if (!soak.ended) act('End', 'end', `End ${of}`, (event) => this.#askEnd(place, soak, event.currentTarget));
    if (soak.left_out) act('Take in', 'take in', `Take ${of} into the figures again`, () => this.#on.takeIn(soak));
    else act('Leave out', 'leave out', `Leave ${of} out of the figures`, (event) => this.#askWhy(place, soak, event.currentTarget));
    return place;
  }

  /** Ending can't be undone, so it is asked once more. */
  #askEnd(place, soak, from) {
    const yes = button('Taken off: end it', () => back.unless(this.#on.end(soak)), { className: 'act small first' });
    const back = this.#instead(place, soak, from, [yes]);
    yes.focus();
  }

  /** Who reads the figures later must be told why a soak is not in them. */
  #askWhy(place, soak, from) {
    const field = element('input', '');
    Object.assign(field, { type: 'text', maxLength: LONGEST, required: true, id: 'reason', autocomplete: 'off' });
    const label = element('label', '', 'Why it does not count');
    label.htmlFor = field.id;
    const yes = element('button', 'act small first', 'Leave out');
    const form = element('form', 'why-form', label, field, yes);
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      const reason = field.value.trim();
      if (reason) back.unless(this.#on.leaveOut(soak, reason));
      else field.focus();
    });
    const back = this.#instead(place, soak, from, [form]);
    field.focus();
  }

  /** Asks in place of a soak's buttons; {unless(done)} brings them back, and the focus with them, where it was not done. */
  #instead(place, soak, from, parts) {
    this.#asking = soak.soak;
    const before = [...place.childNodes];
    const back = () => {
      this.#asking = null;
      place.replaceChildren(...before);
      from.focus();
    };
    place.replaceChildren(...parts, button('No', back, { className: 'act small' }));
    place.addEventListener('keydown', (event) => { if (event.key === 'Escape' && this.busy) back(); });
    return { unless: (done) => done.then((was) => { if (!was) back(); }) };
  }
}
