// The way round: all pages on one line, the same everywhere, and the zone in which times are told. Fills #pages and #zone.
import { element } from '../js/nodes.js';
import { ofRack } from './rack.js';
import { zone } from './times.js';

const PAGES = [
  ['/', 'Board'], ['/soaks', 'Soaks'], ['/lots', 'Lots'], ['/roster', 'Roster'], ['/limits', 'Limits'], ['/alarms', 'Alarms'], ['/ports', 'Ports'],
  ['/sheet', 'Spreadsheet'], ['/start', 'Start'],
];

/** Pages that show one rack where they are asked for it. */
const BY_RACK = ['/', '/soaks', '/alarms'];

/** The part of the address that says which page this is: "/soaks" for "/soaks/" too. */
function here() {
  const path = location.pathname;
  // What columns mean belongs to the tables that have them.
  if (path.startsWith('/columns')) return '/sheet';
  return path.length > 1 && path.endsWith('/') ? path.slice(0, -1) : path;
}

function link([path, words]) {
  const node = element('a', '', words);
  node.href = BY_RACK.includes(path) ? ofRack(path) : path;
  // By its name a page says at the link what is wrong there.
  node.id = `${path.slice(1) || 'board'}-link`;
  if (path === here()) node.setAttribute('aria-current', 'page');
  else if (path !== '/' && here().startsWith(`${path}/`)) node.setAttribute('aria-current', 'true');
  return node;
}

document.getElementById('pages')?.append(...PAGES.map(link));
document.getElementById('zone')?.append(`Times in ${zone(Date.now())}`);
