// The line of a tile that tells the newest calibration, or asks whether there was one.
import { isPast, line, outcome, question } from './calibrated.js';
import { element, setAttributes, setParts, setText } from './nodes.js';
import { shape } from './shapes.js';

/** A part of a tile. {@code calibrating} is {tell(id, at), undo(id, at), open(view)}; the first two resolve to null or to what went wrong. */
export class CalibrationLine {
  #calibrating;
  #view = null;
  #text = element('p', 'calibration-text');
  #refused = element('p', 'calibration-refused');
  #yes = this.#button('Yes', () => this.#tell());
  #no = this.#button('No', () => this.#undo());
  #undone = this.#button('Undo', () => this.#undo(), 'quiet');
  #now = this.#button('Calibrated now', () => this.#calibrating.tell(this.#view.id), 'quiet');
  #checks = this.#button('Checks', () => this.#calibrating.open(this.#view), 'quiet');
  /** The element to show. */
  node = element('div', 'calibration', this.#text,
    element('div', 'calibration-buttons', this.#yes, this.#no, this.#undone, this.#now, this.#checks), this.#refused);

  constructor(calibrating) {
    this.#calibrating = calibrating;
    this.#refused.setAttribute('role', 'alert');
  }

  /** Shows the view's mark; buttons keep their nodes, so that a focused one stays focused. */
  update(view) {
    const focused = this.node.contains(document.activeElement) ? document.activeElement : null;
    this.#view = view;
    const { mark, nowMs, name, step, readiness } = view;
    const asks = mark?.status === 'question' && step !== 'calibrate';
    const counts = mark !== null && (mark.status === 'mark' || asks);
    const past = counts && isPast(view);
    const now = readiness.may_be_calibrated && (!counts || past || step === 'calibrate');
    this.node.hidden = !mark && !now && !this.#refused.textContent;
    this.node.dataset.outcome = counts ? outcome(mark) : '';
    this.#text.hidden = !counts;
    setParts(this.#text, counts ? [shape(outcome(mark)), ...(asks ? question(mark, nowMs) : line(view, past))] : []);
    show(this.#yes, asks, `Yes, ${name} was calibrated`);
    show(this.#no, asks, `No, ${name} was not calibrated`);
    show(this.#undone, counts && !asks && !past, `Undo: ${name} was not calibrated`);
    show(this.#now, now, `Calibrated now: ${name}`);
    // A question is answered before anything else is looked up, and its buttons need the room. What was undone is brought back there.
    show(this.#checks, (mark || now) && !asks, `Checks of ${name}`);
    // A button goes away once its work is done, here or by somebody else; the keyboard's focus must not go with it.
    if (focused?.hidden) this.node.closest('article').focus({ preventScroll: true });
  }

  #tell() {
    return this.#calibrating.tell(this.#view.id, this.#view.mark.at);
  }

  #undo() {
    return this.#calibrating.undo(this.#view.id, this.#view.mark.at);
  }

  #button(words, act, className = '') {
    const button = element('button', className, words);
    button.type = 'button';
    button.addEventListener('click', () => this.#press(act));
    return button;
  }

  async #press(act) {
    const refusal = await act();
    setText(this.#refused, refusal ?? '');
    this.update(this.#view);
  }
}

function show(button, on, name) {
  button.hidden = !on;
  setAttributes(button, { 'aria-label': name });
}
