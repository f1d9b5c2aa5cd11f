// Taking something from the page: to the clipboard, or as a file.

const TYPES = { csv: 'text/csv', svg: 'image/svg+xml', png: 'image/png' };
const LETTER_PX = 8;
const FONT = 'system-ui, "Liberation Sans", sans-serif';

/** Copies text; whether it worked. The newer way is not there on addresses without TLS. */
export async function copy(text) {
  if (navigator.clipboard) {
    try {
      await navigator.clipboard.writeText(text);
      return true;
    } catch {
      // Refused: the older way may still be let.
    }
  }
  const area = document.createElement('textarea');
  area.value = text;
  area.className = 'unseen';
  document.body.append(area);
  area.select();
  const done = document.execCommand('copy');
  area.remove();
  return done;
}

/** Offers a file for saving; {@code kind} is csv, svg or png. */
export function save(name, kind, content) {
  const url = URL.createObjectURL(content instanceof Blob ? content : new Blob([content], { type: TYPES[kind] }));
  const link = document.createElement('a');
  link.href = url;
  link.download = `${name}.${kind}`;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** Pictures {svg, words} one under another, each below its words, as the text of a file of its own. */
export function svgFile(pictures, title, paper, ink) {
  const width = Math.max(LETTER_PX * title.length, ...pictures.map((p) => size(p.svg, 'width')));
  const root = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  const parts = [text(title, 19, ink, 650)];
  let y = 34;
  for (const { svg, words } of pictures) {
    if (words) parts.push(text(words, y + 12, ink, 400));
    y += words ? 16 : 0;
    svg.setAttribute('y', y);
    y += size(svg, 'height') + 4;
    parts.push(svg);
  }
  set(root, { width, height: y + 4, viewBox: `0 0 ${width} ${y + 4}`, 'font-family': FONT, 'font-size': 13 });
  root.append(child('rect', { width, height: y + 4, fill: paper }), ...parts);
  return new XMLSerializer().serializeToString(root);
}

function text(words, y, fill, weight) {
  const node = child('text', { x: 8, y, fill, 'font-weight': weight });
  node.textContent = words;
  return node;
}

/** The same picture in twice as many pixels as it has units. */
export async function pngFile(svgText) {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svgText)}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = 2 * image.width;
  canvas.height = 2 * image.height;
  canvas.getContext('2d').drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => { canvas.toBlob(resolve, TYPES.png); });
}

function child(name, attributes) {
  const node = document.createElementNS('http://www.w3.org/2000/svg', name);
  set(node, attributes);
  return node;
}

function set(node, attributes) {
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
}

function size(svg, side) {
  return Number(svg.getAttribute(side));
}
