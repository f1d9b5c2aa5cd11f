// One file on its way: the browser tells how far it is only of a request of this kind.

const AWAY = 'No answer from the service; is it running? What came is kept, and sending the file again does no harm.';

/** Sends a file; {@code onProgress} gets the share that is sent, 0 to 1. Resolves to {ok, status, body}, never throws. */
export function send(path, file, onProgress) {
  return new Promise((resolve) => {
    const request = new XMLHttpRequest();
    request.open('POST', path);
    request.setRequestHeader('Content-Type', 'application/octet-stream');
    request.setRequestHeader('Accept', 'application/json');
    request.responseType = 'json';
    request.upload.addEventListener('progress', (event) => onProgress(event.total ? event.loaded / event.total : 0));
    const end = () => {
      const { status, response } = request;
      resolve({ ok: status >= 200 && status < 300 && response !== null, status, body: response ?? { detail: status ? `The service answered ${status} without words.` : AWAY } });
    };
    for (const name of ['load', 'error', 'abort', 'timeout']) request.addEventListener(name, end);
    request.send(file);
  });
}
