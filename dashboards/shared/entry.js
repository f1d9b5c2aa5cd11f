// Changing a tracker's entry of the roster, without writing over what somebody else has changed meanwhile.
import { call, why } from './call.js';

// Conflict, precondition failed, precondition needed: somebody was quicker, so the entry is read once more.
const CHANGED_MEANWHILE = [409, 412, 428];
const TRIES = 3;

/**
 * Sets fields of one entry. {@code shown} is the entry as the reader saw it, null for one that was not listed.
 * Resolves to {saved: entry}, {conflict: {field, theirs}, entry} where a field is not any more what was shown, or {refused: words}.
 */
export async function save(id, shown, changes) {
  const path = `/api/trackers/${encodeURIComponent(id)}`;
  let answer;
  for (let i = 0; i < TRIES; i++) {
    const read = await call('GET', path);
    if (!read.ok && read.status !== 404) return { refused: why(read) };
    const entry = read.ok ? read.body : null;
    const field = Object.keys(changes).find((name) => other(entry?.[name], shown?.[name]));
    if (field) return { conflict: { field, theirs: entry?.[field] ?? '' }, entry };
    answer = await call('PUT', path, { content: { ...entry, ...changes }, headers: read.etag ? { 'If-Match': read.etag } : {} });
    if (answer.ok) return { saved: answer.body };
    if (!CHANGED_MEANWHILE.includes(answer.status)) return { refused: why(answer) };
    if (answer.body?.type?.endsWith(':read-only')) return { refused: why(answer) };
  }
  return { refused: why(answer) };
}

function other(theirs, shown) {
  return (theirs ?? '') !== (shown ?? '');
}
