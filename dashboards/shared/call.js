// One call of the service. Nothing is thrown: no answer is an answer too, of status 0.

const NO_ANSWER = 'No answer from the service; is it running?';

/**
 * {ok, status, body}. {@code options}: {content} sent as JSON, or {text, type} as it is; {seconds} to wait at most, 5 if not
 * set; {headers}.
 */
export async function call(method, path, { content, text, type = 'application/json', seconds = 5, headers = {} } = {}) {
  const body = text ?? (content === undefined ? undefined : JSON.stringify(content));
  try {
    const answer = await fetch(path, {
      method, body, cache: 'no-store', signal: AbortSignal.timeout(seconds * 1000),
      headers: { Accept: 'application/json', ...(body !== undefined && { 'Content-Type': type }), ...headers },
    });
    return { ok: answer.ok, status: answer.status, body: await bodyOf(answer) };
  } catch {
    return { ok: false, status: 0, body: { detail: NO_ANSWER } };
  }
}

async function bodyOf(answer) {
  if (answer.status === 204) return null;
  return answer.json().catch(() => ({ detail: `The service answered ${answer.status} without words.` }));
}

/** What is at an address; throws a Failure where the service has it not. */
export async function ask(path, options) {
  const answer = await call('GET', path, options);
  if (!answer.ok) throw new Failure(answer);
  return answer.body;
}

/** Every entry of a list, page by page. */
export async function askAll(path, member) {
  const entries = [];
  for (let next = path; next;) {
    const body = await ask(next);
    entries.push(...body[member]);
    next = body.next;
  }
  return entries;
}

/** Why something could not be read. */
export class Failure extends Error {
  constructor(answer) {
    super(why(answer));
    this.status = answer.status;
  }

  /** Whether asking the same once more would be in vain. */
  get isFinal() {
    return this.status === 400 || this.status === 404 || this.status === 422;
  }
}

/** What the service said against it, as a sentence; each problem after it. */
export function why({ status, body }) {
  const detail = body?.detail ?? `The service answered ${status}.`;
  const problems = (body?.problems ?? []).map((p) => p.reason).filter((reason) => !detail.includes(reason));
  return [detail, ...problems].join(' ');
}
