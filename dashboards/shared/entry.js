// Changing a tracker's entry of the roster, without writing over what somebody else has changed meanwhile.
import { call, why } from './call.js';

/**
 * Sets fields of one entry. {@code shown} is the entry as the reader saw it, null for one that was not listed.
 * Resolves to {saved: entry}, {conflict: {field, theirs}, entry} where a field is not any more what was shown, or {refused: words}.
 */
export async function save(id, shown, changes) {
  const path = `/api/trackers/${encodeURIComponent(id)}`;
  const read = await (shown ? call('GET', path) : unlisted(id));
  if (!read.ok && read.status !== 404) return { refused: why(read) };
  const entry = read.ok ? read.body : null;
  const field = Object.keys(changes).find((name) => listed(entry, name) !== listed(shown, name));
  if (field) return { conflict: { field, theirs: entry?.[field] ?? '' }, entry };
  const answer = await call(entry ? 'PATCH' : 'PUT', path, { content: changes });
  return answer.ok ? { saved: answer.body } : { refused: why(answer) };
}

/** The same of one that may well not be listed: asking for it by its id would be told as an error by the browser. */
async function unlisted(id) {
  const answer = await call('GET', '/api/trackers');
  return answer.ok ? { ...answer, body: answer.body.trackers.find((entry) => entry.id === id) ?? null } : answer;
}

/** What is listed of a field; the id in place of a name is none. */
export function listed(entry, name) {
  const value = entry?.[name] ?? '';
  return name === 'name' && value === entry?.id ? '' : value;
}
