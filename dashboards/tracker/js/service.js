// Asking the service from a page that lies a folder deeper than the board.
import { all, read, Refusal } from '../../js/request.js';

/** Where the service is, whatever the page's own address. */
export const ROOT = new URL('../../', import.meta.url);

// A thing that is not there, or not yet or no more in the state that was asked for.
const NONE = new Set([404, 409]);

/** An absolute address of a path of the service. */
export function at(path) {
  return new URL(path, ROOT).href;
}

// What is worked out from hours of a soak takes its time on a busy computer; asked once more it would only take longer.
const PATIENCE_S = 30;

/** What is at a path, as JSON; null where the service says that it has none. */
export async function ask(path) {
  const { ok, status, body } = await read(at(path), 'GET', undefined, PATIENCE_S);
  if (ok) return body;
  if (NONE.has(status)) return null;
  throw new Refusal(`${path.split('?')[0]} answered ${status}${body?.detail ? `, ${body.detail}` : ''}`, status === 401);
}

/** What the page's own address names between two parts of it; as it stands there where it is no such name. */
export function named(before, after = '') {
  const path = location.pathname.slice(new URL(before, ROOT).pathname.length);
  const name = path.endsWith(after) ? path.slice(0, path.length - after.length) : path;
  try {
    return decodeURIComponent(name);
  } catch {
    return name;
  }
}

/** The tracker's entry in a list of all, or null: to ask for one that is not there is an error in the browser's eyes. */
export async function entry(path, id) {
  return (await all(at(path))).find((one) => (one.tracker ?? one.id) === id) ?? null;
}

/** How well the service is: the body of /health, or null where nothing answers. */
export async function health() {
  try {
    return (await read(at('health'))).body;
  } catch {
    return null;
  }
}

/** The path of a soak's part. */
export function soakPath(soak, part = '') {
  return `api/soaks/${encodeURIComponent(soak)}${part}`;
}

/** The path of a tracker's part. */
export function trackerPath(id, part = '') {
  return `api/trackers/${encodeURIComponent(id)}${part}`;
}

/** The page of a tracker, with one of its soaks. */
export function trackerPage(id, soak) {
  const query = soak ? `?soak=${encodeURIComponent(soak)}` : '';
  return at(`tracker/${encodeURIComponent(id)}${query}`);
}
