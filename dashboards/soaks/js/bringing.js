// Recordings brought in from files: chosen or dropped, sent one after the other, each with what became of it; and earlier imports.
import { element, flag, setText } from '../../js/nodes.js';
import { call, why } from '../../shared/call.js';
import { button, count, show, table } from '../../shared/parts.js';
import { moment } from '../../shared/times.js';
import { send } from './sending.js';

const PERCENT = 100;
/** As many characters as the service takes of a reason. */
const LONGEST = 200;
const STAGES = { in: 'in', undoing: 'being taken out', undone: 'taken out' };

export class Bringing {
  #parts;
  #onChange;
  #rows = [];
  #queue = Promise.resolve();

  /** {@code parts} are {place (a details), form, said, brought, imports}; {@code onChange} is called when soaks may have changed. */
  constructor(page, parts, onChange) {
    this.#parts = parts;
    this.#onChange = onChange;
    const { files } = this.#fields();
    files.addEventListener('change', () => {
      this.#take([...files.files]);
      files.value = '';
    });
    parts.form.addEventListener('submit', (event) => event.preventDefault());
    parts.place.addEventListener('toggle', () => { if (parts.place.open) this.#list(); });
    this.#dropOn(page);
  }

  #fields() {
    const [files, lot, tracker] = ['bring-files', 'bring-lot', 'bring-tracker'].map((id) => this.#parts.form.elements[id]);
    return { files, lot, tracker };
  }

  #dropOn(page) {
    const holdsFiles = (event) => [...(event.dataTransfer?.types ?? [])].includes('Files');
    page.addEventListener('dragover', (event) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      this.#parts.place.open = true;
      flag(this.#parts.place, 'data-over', true);
    });
    for (const name of ['dragleave', 'drop']) page.addEventListener(name, () => flag(this.#parts.place, 'data-over', false));
    page.addEventListener('drop', (event) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      this.#take([...event.dataTransfer.files]);
    });
  }

  /** What is chosen while others are sent waits for them. */
  #take(files) {
    if (!files.length) return;
    this.#parts.place.open = true;
    const { lot, tracker } = this.#fields();
    const asked = { lot: lot.value.trim(), tracker: tracker.value.trim() };
    const rows = files.map((file) => ({ file, progress: 'waits', failed: false }));
    this.#rows = [...rows, ...this.#rows];
    this.#draw();
    this.#queue = this.#queue.then(() => this.#bring(rows, asked));
  }

  async #bring(rows, asked) {
    const begun = await call('POST', '/api/imports?sender=the+page+of+the+soaks');
    if (!begun.ok) {
      rows.forEach((row) => this.#ended(row, why(begun), true));
      return this.#say(`Nothing was brought in: ${why(begun)}`);
    }
    for (const row of rows) await this.#sendOne(begun.body.import, row, asked);
    const failed = rows.filter((row) => row.failed).length;
    this.#say(`${count(rows.length - failed, 'file')} of ${rows.length} ${rows.length - failed === 1 ? 'is' : 'are'} in${failed ? `; ${failed} failed` : ''}.`);
    await this.#list();
    this.#onChange();
  }

  async #sendOne(id, row, asked) {
    const query = new URLSearchParams({ file: row.file.name, ...(asked.lot && { lot: asked.lot }), ...(asked.tracker && { tracker: asked.tracker }) });
    const answer = await send(`/api/imports/${id}/recordings?${query}`, row.file, (share) => this.#moved(row, share));
    this.#ended(row, answer.ok ? outcome(answer.body) : why(answer), !answer.ok || answer.body.problem !== null);
  }

  #moved(row, share) {
    row.bar ??= element('progress', '');
    Object.assign(row.bar, { max: PERCENT, value: Math.floor(PERCENT * share) });
    row.bar.setAttribute('aria-label', `How much of ${row.file.name} is sent`);
    row.progress = [row.bar, share < 1 ? `${Math.floor(PERCENT * share)} % sent` : 'sent; it is read'];
    this.#draw();
  }

  #ended(row, words, failed) {
    row.progress = words;
    row.failed = failed;
    this.#draw();
  }

  #draw() {
    show(this.#parts.brought, table('Files that were brought in now', [
      { head: 'file', cell: (row) => row.file.name },
      { head: 'what became of it', wide: true, cell: (row) => (row.failed ? [element('b', '', 'failed: '), row.progress] : row.progress) },
    ], this.#rows));
  }

  #say(words) {
    setText(this.#parts.said, words);
  }

  async #list() {
    const answer = await call('GET', '/api/imports?limit=20');
    const all = answer.ok ? answer.body.imports.filter((one) => one.files_all > 0) : [];
    show(this.#parts.imports, ...(all.length ? [element('h2', '', 'Imports'), table('Imports, newest first', [
      { head: 'import', number: true, cell: (one) => String(one.import) },
      { head: 'began', cell: (one) => moment(one.began) },
      { head: 'by', cell: (one) => one.sender || one.sent_from },
      { head: 'files', number: true, cell: (one) => (one.files_failed ? `${one.files_all}, ${one.files_failed} failed` : String(one.files_all)) },
      { head: 'samples', number: true, cell: (one) => String(one.accepted) },
      { head: 'it is', cell: (one) => (one.reason ? [element('b', '', STAGES[one.stage]), `: ${one.reason}`] : STAGES[one.stage]) },
      { head: '', cell: (one) => this.#undoing(one) },
    ], all)] : []));
  }

  #undoing(one) {
    if (one.stage === 'undone') return '';
    const place = element('span', 'soak-acts');
    const words = one.stage === 'undoing' ? 'Go on taking it out' : 'Take out';
    place.append(button(words, () => this.#askWhy(place, one), { className: 'act small', key: `undo ${one.import}`, label: `${words}: import ${one.import}` }));
    return place;
  }

  /** Who reads the list later must be told why. */
  #askWhy(place, one) {
    const field = element('input', '');
    Object.assign(field, { type: 'text', maxLength: LONGEST, required: true, id: 'undo-reason', autocomplete: 'off', value: one.reason ?? '' });
    const label = element('label', '', 'Why all that it brought is taken out');
    label.htmlFor = field.id;
    const form = element('form', 'why-form', label, field, element('button', 'act small first', 'Take out'));
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      if (field.value.trim()) this.#undo(one, field.value.trim());
    });
    place.replaceChildren(form, button('No', () => this.#list(), { className: 'act small' }));
    place.addEventListener('keydown', (event) => { if (event.key === 'Escape') this.#list(); });
    field.focus();
  }

  /** The service takes out for some seconds at a time. */
  async #undo(one, reason) {
    this.#say(`Import ${one.import} is being taken out …`);
    let answer;
    do answer = await call('POST', `/api/imports/${one.import}/undo`, { content: { reason }, seconds: 60 });
    while (answer.ok && answer.body.stage === 'undoing');
    this.#say(answer.ok ? `Import ${one.import} is undone: ${count(answer.body.taken_out, 'sample')} taken out; what came by other ways stays.` : `Not undone: ${why(answer)}`);
    await this.#list();
    this.#onChange();
  }
}

/** "36000 samples new, 0 there already, of T-0412; 3 lines not used". */
function outcome(found) {
  const parts = [`${count(found.accepted, 'sample')} new, ${found.duplicate} there already`];
  if (found.conflicting) parts.push(`, ${found.conflicting} there with other values, which stay`);
  if (found.trackers.length) parts.push(`, of ${found.trackers.join(', ')}`);
  for (const more of [found.unused, found.other_lots]) if (more) parts.push(`; ${more}`);
  return found.problem ? `${found.problem} (${parts.join('')})` : parts.join('');
}
