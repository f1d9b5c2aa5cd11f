// Two pens with the same strokes: one on a canvas, quick, for the page; one that writes SVG, for a file. Lengths in CSS px.
import { drawn } from '../js/nodes.js';
import { FONT, paint } from './paint.js';

/** A stroke's style is {stroke, fill, width, dash, alpha}, a text's {fill, align, bold}; colours by name. */
export function canvasPen(ctx) {
  const styled = (style, trace) => {
    ctx.save();
    ctx.globalAlpha = style.alpha ?? 1;
    ctx.beginPath();
    trace();
    if (style.fill) {
      ctx.fillStyle = paint(style.fill);
      ctx.fill();
    }
    if (style.stroke) {
      ctx.strokeStyle = paint(style.stroke);
      ctx.lineWidth = style.width ?? 1;
      ctx.setLineDash(style.dash ?? []);
      ctx.lineJoin = 'round';
      ctx.stroke();
    }
    ctx.restore();
  };
  return {
    path(pieces, style, closed) {
      styled(style, () => pieces.forEach((piece) => {
        for (let i = 0; i < piece.length; i += 2) (i ? ctx.lineTo : ctx.moveTo).call(ctx, piece[i], piece[i + 1]);
        if (closed) ctx.closePath();
      }));
    },
    rect: (x, y, w, h, style) => styled(style, () => ctx.rect(x, y, w, h)),
    disc: (x, y, r, style) => styled(style, () => ctx.arc(x, y, r, 0, 2 * Math.PI)),
    text(x, y, words, { fill = '--ink', align = 'start', bold = false, alpha = 1 }) {
      ctx.save();
      ctx.globalAlpha = alpha;
      ctx.font = bold ? `650 ${FONT}` : FONT;
      ctx.textAlign = align;
      ctx.fillStyle = paint(fill);
      ctx.fillText(words, x, y);
      ctx.restore();
    },
    picture(svg, x, y, size, colour) {
      ctx.save();
      ctx.translate(x, y);
      ctx.scale(size / 24, size / 24);
      ctx.strokeStyle = paint(colour);
      ctx.fillStyle = paint(colour);
      for (const part of svg.children) onCanvas(ctx, part);
      ctx.restore();
    },
    within(x, y, w, h, draw) {
      ctx.save();
      ctx.beginPath();
      ctx.rect(x, y, w, h);
      ctx.clip();
      draw();
      ctx.restore();
    },
  };
}

function onCanvas(ctx, part) {
  const path = new Path2D(part.getAttribute('d'));
  ctx.lineWidth = Number(part.getAttribute('stroke-width') ?? 1);
  ctx.setLineDash((part.getAttribute('stroke-dasharray') ?? '').split(' ').filter(Boolean).map(Number));
  ctx.lineCap = part.getAttribute('stroke-linecap') ?? 'butt';
  if (part.getAttribute('fill') !== 'none') ctx.fill(path, part.getAttribute('fill-rule') ?? 'nonzero');
  if (part.getAttribute('stroke')) ctx.stroke(path);
}

/** The same strokes as children of an SVG element. */
export function svgPen(root) {
  let parent = root;
  const add = (name, attributes, { stroke, fill, width = 1, dash = [], alpha = 1 }) => {
    const node = drawn(name, { ...attributes, fill: fill ? paint(fill) : 'none' });
    if (stroke) node.setAttribute('stroke', paint(stroke));
    if (stroke && width !== 1) node.setAttribute('stroke-width', width);
    if (dash.length) node.setAttribute('stroke-dasharray', dash.join(' '));
    if (alpha !== 1) node.setAttribute('opacity', alpha);
    parent.append(node);
    return node;
  };
  return {
    path: (pieces, style, closed) => add('path', { d: pieces.map((p) => pathOf(p, closed)).join('') }, style),
    rect: (x, y, w, h, style) => add('rect', { x: short(x), y: short(y), width: short(w), height: short(h) }, style),
    disc: (x, y, r, style) => add('circle', { cx: short(x), cy: short(y), r }, style),
    text(x, y, words, { fill = '--ink', align = 'start', bold = false, alpha = 1 }) {
      const anchor = { center: 'middle', right: 'end', end: 'end' }[align] ?? 'start';
      add('text', { x: short(x), y: short(y), 'text-anchor': anchor, 'font-weight': bold ? 650 : 400 }, { fill, alpha }).textContent = words;
    },
    picture(svg, x, y, size, colour) {
      const copy = svg.cloneNode(true);
      for (const [key, value] of Object.entries({ x, y, width: size, height: size, color: paint(colour) })) copy.setAttribute(key, value);
      parent.append(copy);
    },
    within(x, y, w, h, draw) {
      const box = drawn('svg', { x: short(x), y: short(y), width: short(w), height: short(h), viewBox: [x, y, w, h].map(short).join(' ') });
      parent.append(box);
      const outer = parent;
      parent = box;
      draw();
      parent = outer;
    },
  };
}

function pathOf(piece, closed) {
  let d = '';
  for (let i = 0; i < piece.length; i += 2) d += `${i ? 'L' : 'M'}${short(piece[i])} ${short(piece[i + 1])}`;
  return closed ? `${d}Z` : d;
}

function short(px) {
  return Math.round(px * 10) / 10;
}
