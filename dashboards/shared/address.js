// What a page shows stands in its address, so that it can be sent to a colleague and the browser's back works.

/** What the address asks for. */
export function asked() {
  return new URLSearchParams(location.search);
}

/** The address of this page with these parameters changed; an empty one is left out. */
export function withParameters(changes, from = asked()) {
  for (const [name, value] of Object.entries(changes)) {
    if (value) from.set(name, value);
    else from.delete(name);
  }
  const query = from.toString();
  return location.pathname + (query ? `?${query}` : '');
}

/** Goes to another view of this page. */
export function go(address) {
  history.pushState(null, '', address);
  dispatchEvent(new Event('moved'));
}

/** Notes a view in the address without a step of its own. */
export function note(address) {
  history.replaceState(null, '', address);
}

/** Calls the listener whenever the address has changed, also by the browser's back. */
export function onMove(listener) {
  addEventListener('popstate', listener);
  addEventListener('moved', listener);
}

/** Follows a link inside of this page: a plain click draws the other view without loading the page anew. */
export function follow(event, link) {
  if (event.button || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
  event.preventDefault();
  go(link.getAttribute('href'));
}
