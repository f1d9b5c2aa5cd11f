// The numbers of a drawing as a table: to be read aloud, copied, or saved as a file.
import { element } from '../js/nodes.js';

const TO_QUOTE = ['"', ',', '\r', '\n'];

/** {@code columns} are [{name, unit}], {@code rows} arrays of numbers, text or null. */
export function htmlTable({ columns, rows }, caption) {
  const head = element('tr', '', ...columns.map((c) => {
    const cell = element('th', '', headOf(c));
    cell.scope = 'col';
    return cell;
  }));
  const body = rows.map((row) => element('tr', '', ...row.map((v) => element('td', '', plain(v)))));
  return element('table', 'numbers', element('caption', '', caption), element('thead', '', head), element('tbody', '', ...body));
}

/** Comma-separated (RFC 4180): a row of names with units, then the numbers. */
export function csv({ columns, rows }) {
  return [columns.map(headOf), ...rows].map((row) => row.map(quoted).join(',')).join('\r\n').concat('\r\n');
}

/** Lines with tabs, as a spreadsheet takes them from the clipboard. */
export function tabbed({ columns, rows }) {
  return [columns.map(headOf), ...rows.map((row) => row.map(plain))].map((row) => row.join('\t')).join('\n');
}

function headOf({ name, unit }) {
  return unit ? `${name} (${unit})` : name;
}

function plain(value) {
  return value === null || value === undefined ? '' : String(value);
}

function quoted(value) {
  const text = plain(value);
  return TO_QUOTE.some((sign) => text.includes(sign)) ? `"${text.replaceAll('"', '""')}"` : text;
}
