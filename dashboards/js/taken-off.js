// Taking a tracker off ends its soak: that is how the job ends, and its tile and its alarm go with it.
import { element, setAttributes, setText } from './nodes.js';
import { change } from './request.js';

/** Ends a soak because its tracker was taken off; null, also where somebody was quicker, or a sentence that says why not. */
export async function takeOff(soak) {
  const { refusal, type } = await change('POST', `api/soaks/${encodeURIComponent(soak)}/end`);
  return refusal && !type?.endsWith(':soak-ended') ? `Not noted as taken off: ${refusal}` : null;
}

/** The part of a silent tracker's tile that says so. {@code takenOff(id)} resolves to null or to what went wrong. */
export class TakenOff {
  #view = null;
  #button = element('button', '', 'Taken off');
  #refused = element('p', 'taken-off-refused');
  /** The element to show. */
  node = element('div', 'taken-off', this.#button, this.#refused);

  constructor(takenOff) {
    this.#button.type = 'button';
    this.#refused.setAttribute('role', 'alert');
    this.#button.addEventListener('click', async () => setText(this.#refused, await takenOff(this.#view.id) ?? ''));
  }

  update(view) {
    this.#view = view;
    // One that is heard but can't be judged has no soak that could be ended.
    this.node.hidden = view.state !== 'silent' || !view.readiness.soak;
    if (this.node.hidden) setText(this.#refused, '');
    setAttributes(this.#button, { 'aria-label': `Taken off: ${view.name}` });
  }
}
