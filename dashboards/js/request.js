// Asking the service over HTTP, and telling it something.

/** The service answered, but not with what was asked for; {@code unpaired} where it does not know this browser. */
export class Refusal extends Error {
  constructor(message, unpaired) {
    super(message);
    this.unpaired = unpaired;
  }
}

/** Every entry of a list, page by page. */
export async function all(path) {
  const entries = [];
  for (let url = new URL(path, document.baseURI); url;) {
    const { trackers, next } = await json(url);
    entries.push(...trackers);
    url = next ? new URL(next, url) : null;
  }
  return entries;
}

/** What is at an address; a Refusal where the service has it not. */
export async function json(url) {
  const { ok, status, body } = await read(url);
  if (!ok) throw new Refusal(`${new URL(url, document.baseURI).pathname} answered ${status}${body.detail ? `, ${body.detail}` : ''}`, status === 401);
  return body;
}

/** Changes something; {body}, or {refusal, type}: a sentence that says why the service did not take it, and its problem's type. */
export async function change(method, path, content) {
  try {
    const { ok, status, body } = await read(path, method, content);
    return ok ? { body } : { refusal: `the service answered ${status}, ${body.detail ?? 'no reason'}`, type: body.type };
  } catch (e) {
    return { refusal: `no answer from the service (${e.message}).` };
  }
}

/** Any answer as {ok, status, body}; the body is null where the service sends none. {@code seconds} are waited at most. */
export async function read(url, method = 'GET', content, seconds = 5) {
  const headers = { Accept: 'application/json', ...(content && { 'Content-Type': 'application/json' }) };
  const answer = await fetch(url, {
    method, headers, body: content && JSON.stringify(content), cache: 'no-store', signal: AbortSignal.timeout(seconds * 1000),
  });
  return { ok: answer.ok, status: answer.status, body: answer.status === 204 ? null : await answer.json() };
}
