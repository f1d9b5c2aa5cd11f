// Asking the service from a page that lies a folder deeper than the board.
import { all, json, read, Refusal } from '../../js/request.js';

/** Where the service is, whatever the page's own address. */
export const ROOT = new URL('../../', import.meta.url);

/** An absolute address of a path of the service. */
export function at(path) {
  return new URL(path, ROOT).href;
}

/** What is at a path, as JSON; null where the service says that it has none. */
export async function ask(path) {
  try {
    return await json(at(path));
  } catch (e) {
    if (e instanceof Refusal && / answered (404|409)/.test(e.message)) return null;
    throw e;
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
