// A roster from a spreadsheet: what it would change, or what is wrong with it line by line, before anything is saved.
import { element, setText } from '../../js/nodes.js';
import { call, why } from '../../shared/call.js';
import { button, count, show, table } from '../../shared/parts.js';

const PATIENCE_S = 30;

/** Takes the chosen file of an input; {@code saved()} hears when it was written. */
export class RosterFile {
  #input;
  #place;
  #said;
  #saved;

  constructor({ input, place, said }, saved) {
    this.#input = input;
    this.#place = place;
    this.#said = said;
    this.#saved = saved;
    input.addEventListener('change', () => this.#look());
  }

  async #look() {
    const file = this.#input.files[0];
    setText(this.#said, '');
    if (!file) return show(this.#place);
    const answer = await this.#send(file, true);
    return answer.ok ? this.#offer(file, answer.body) : this.#refuse(answer);
  }

  #send(file, dryRun) {
    return call('PUT', `/api/trackers${dryRun ? '?dry_run=true' : ''}`, { text: file, type: 'text/csv', seconds: PATIENCE_S });
  }

  #offer(file, { added, changed, unchanged, differences }) {
    const sentence = element('p', 'said', `${file.name}: ${count(added.length, 'new tracker')}, ${changed.length} changed, ${unchanged.length} as they are.`);
    if (!added.length && !changed.length) return show(this.#place, sentence);
    const isNew = new Set(added);
    return show(this.#place, sentence, table('What the file changes', [
      { head: 'tracker', cell: (d) => element('span', 'unit', d.tracker) },
      { head: 'what', cell: (d) => d.field },
      { head: 'is', cell: (d) => (isNew.has(d.tracker) ? element('span', 'quiet', 'not listed') : d.was || '–') },
      { head: 'becomes', wide: true, cell: (d) => element('b', '', d.is || '–') },
    ], differences), element('p', 'acts',
      button(`Save ${count(added.length + changed.length, 'tracker')}`, () => this.#save(file), { className: 'act first' }),
      button('Leave it', () => this.#clear())));
  }

  #refuse(answer) {
    const problems = answer.body?.problems ?? [];
    const sentence = element('p', 'wrong', problems.length ? answer.body.detail : why(answer));
    show(this.#place, sentence, ...(problems.length ? [table('What is wrong with the file', [
      { head: 'line', number: true, cell: (p) => String(p.line ?? '') },
      { head: 'column', cell: (p) => p.field ?? '' },
      { head: 'what to mend', wide: true, cell: (p) => p.reason },
    ], problems)] : []), element('p', 'acts', button('Leave it', () => this.#clear())));
  }

  async #save(file) {
    const answer = await this.#send(file, false);
    if (!answer.ok) return this.#refuse(answer);
    this.#clear();
    const { added, changed } = answer.body;
    setText(this.#said, `Saved: ${count(added.length, 'new tracker')}, ${changed.length} changed.`);
    return this.#saved();
  }

  /** The same file may be chosen again after it was mended. */
  #clear() {
    this.#input.value = '';
    show(this.#place);
    this.#input.focus();
  }
}
