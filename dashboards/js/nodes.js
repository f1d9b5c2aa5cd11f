// Making and changing nodes. Data only ever become text nodes and attribute values, never markup.

const SVG = 'http://www.w3.org/2000/svg';

/** A new element with a class and children (nodes or text). */
export function element(name, className, ...children) {
  const node = document.createElement(name);
  if (className) node.className = className;
  node.append(...children);
  return node;
}

/** A new SVG element with attributes. */
export function drawn(name, attributes = {}) {
  const node = document.createElementNS(SVG, name);
  setAttributes(node, attributes);
  return node;
}

/** Sets attributes, leaving those alone that have the value already. */
export function setAttributes(node, attributes) {
  for (const [key, value] of Object.entries(attributes)) {
    const text = String(value);
    if (node.getAttribute(key) !== text) node.setAttribute(key, text);
  }
}

/** Sets a node's text only where it differs, so that selections and readers are left in peace. */
export function setText(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/** Sets a node's children from parts: plain text, or nodes. Unchanged parts keep the node untouched. */
export function setParts(node, parts) {
  const fresh = document.createElement('div');
  fresh.append(...parts);
  const same = fresh.childNodes.length === node.childNodes.length
    && [...fresh.childNodes].every((child, i) => child.isEqualNode(node.childNodes[i]));
  if (!same) node.replaceChildren(...fresh.childNodes);
}

/** A time element: machine-readable moment, text for people. */
export function time(ms, text) {
  const node = element('time', '', text);
  node.dateTime = new Date(ms).toISOString();
  return node;
}

/** Sets or removes a data attribute without value. */
export function flag(node, name, on) {
  if (node.hasAttribute(name) !== Boolean(on)) node.toggleAttribute(name, Boolean(on));
}
