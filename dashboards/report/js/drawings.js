// Charts of the report as SVG: sharp on paper, at the width of the sheet, and once more for a narrow screen.
import { Chart } from '../../charts/chart.js';
import { element } from '../../js/nodes.js';

const SHEET_PX = 690;

/** Draws off the screen; {@code spec(width)} is a chart's, {@code shown} what it shows, {@code share} its part of the sheet's width; a narrow screen gives it all. */
export async function drawing(stage, spec, shown, label, share = 1) {
  const wide = await svg(stage, SHEET_PX * share, spec, shown);
  wide.classList.add('wide');
  const narrowPx = Math.min(SHEET_PX, document.documentElement.clientWidth - 24);
  const narrow = narrowPx < SHEET_PX ? await svg(stage, narrowPx, spec, shown) : wide.cloneNode(true);
  narrow.classList.replace('wide', 'narrow');
  narrow.classList.add('narrow');
  const node = element('div', 'picture', wide, narrow);
  node.setAttribute('role', 'img');
  node.setAttribute('aria-label', label);
  return node;
}

async function svg(stage, width, spec, shown) {
  const place = element('div', '');
  place.style.width = `${Math.floor(width)}px`;
  stage.append(place);
  const chart = new Chart(place, spec);
  await chart.show(shown);
  const picture = chart.svg();
  chart.close();
  place.remove();
  return picture;
}
