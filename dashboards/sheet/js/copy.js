// An address or a formula that is copied with one press.
import { element } from '../../js/nodes.js';
import { button } from '../../shared/parts.js';

/** Text that can be read, selected and copied; {@code what} says of what it is, {@code said(words)} hears that it was copied. */
export function copied(text, what, said) {
  const field = element('input', '');
  field.readOnly = true;
  field.value = text;
  field.setAttribute('aria-label', `Address of ${what}`);
  field.addEventListener('focus', () => field.select());
  return element('span', 'address', field, button('Copy', async () => said(await copy(field) ? `Copied: ${text}` : 'Press Ctrl-C to copy what is selected.'), {
    className: 'act small', label: `Copy ${what}`, key: `copy ${what}`,
  }));
}

/** Over plain HTTP a browser gives no clipboard, but still copies what is selected. */
async function copy(field) {
  try {
    await navigator.clipboard.writeText(field.value);
    return true;
  } catch {
    const before = document.activeElement;
    field.select();
    const done = document.execCommand('copy');
    if (done) before?.focus();
    return done;
  }
}
