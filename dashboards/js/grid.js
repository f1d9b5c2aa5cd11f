// Keeps the tiles in step with the views: made once, moved where they belong in the form that is shown, removed when gone.
import { byNext, grouped, row } from './bench.js';
import { element, flag, setAttributes, setParts } from './nodes.js';
import { tile } from './tile.js';

const FEW = 3;
const LIST_COLUMN_PX = 370;
const PHONE_PX = 560;

export class Grid {
  #place;
  #calibrating;
  #tiles = new Map();
  #sections = new Map();
  #sizes = {};

  /** {@code calibrating} is {tell, undo, open, takenOff}: what the buttons of a tile do. */
  constructor(place, calibrating) {
    this.#place = place;
    this.#calibrating = calibrating;
  }

  /**
   * Shows the views, which come sorted by rack and slot, in a form: full, compact, bench or list. {@code unheard} are entries of
   * the roster that have a place on a bench and are not heard, {@code held} ids of trackers in somebody's hand.
   */
  show(views, { form, scale, lost, unheard, held }) {
    const racks = new Set(views.map((v) => v.rack));
    const sections = arranged(views, form, unheard);
    setAttributes(this.#place, { 'data-form': form });
    flag(this.#place, 'data-few', form === 'full' && views.length <= FEW);
    this.#size('--count', views.length);
    this.#size('--rows', Math.ceil(views.length / columns(innerWidth)));
    this.#dropGone(views);
    const shown = sections.map((section) => this.#fill(section));
    inOrder(this.#place, shown);
    for (const key of this.#sections.keys()) if (!sections.some((s) => s.key === key)) this.#sections.delete(key);
    const withRack = racks.size > 1 && (form === 'full' || form === 'list');
    for (const view of views) this.#tiles.get(view.id).show(view, { form, scale, lost, withRack, held: held.has(view.id) });
  }

  /** Setting what is set already costs the browser a look at every tile. */
  #size(name, value) {
    if (this.#sizes[name] === value) return;
    this.#sizes[name] = value;
    this.#place.style.setProperty(name, value);
  }

  #fill({ key, heading, note, places, columns: wide }) {
    const section = this.#section(key);
    setParts(section.heading, heading ? [heading, element('small', '', note)] : []);
    section.heading.hidden = !heading;
    if (section.columns !== wide) section.tiles.style.setProperty('--columns', wide ?? '');
    section.columns = wide;
    inOrder(section.tiles, places.map((place) => (typeof place === 'string' ? this.#tile(place).item : empty(section, place.slot))));
    return section.node;
  }

  #tile(id) {
    if (!this.#tiles.has(id)) this.#tiles.set(id, lazy(tile(id, this.#calibrating)));
    return this.#tiles.get(id);
  }

  #section(key) {
    if (!this.#sections.has(key)) {
      const heading = element('h2', '');
      const tiles = element('ul', 'tiles');
      tiles.setAttribute('role', 'list');
      this.#sections.set(key, { heading, tiles, node: element('div', 'rack', heading, tiles), empty: new Map() });
    }
    return this.#sections.get(key);
  }

  #dropGone(views) {
    const ids = new Set(views.map((v) => v.id));
    for (const [id, { item }] of this.#tiles) if (!ids.has(id)) { item.remove(); this.#tiles.delete(id); }
  }
}

/** A tile that is drawn anew only where something of it is new: most seconds bring news of few. What is old ages by itself. */
function lazy({ item, update }) {
  let last = [];
  const show = (view, context) => {
    const now = [view.readiness, view.mark, view.name, view.rack, view.slot, view.power, context.form, context.scale, context.lost, context.withRack, context.held];
    if (!view.old && now.every((value, i) => value === last[i])) return;
    last = now;
    update(view, context);
  };
  return { item, show };
}

function columns(px) {
  return px <= PHONE_PX ? 1 : Math.max(1, Math.floor(px / LIST_COLUMN_PX));
}

/** The sections of a form: {key, heading, note, places, columns}; a place is a tracker's id, or {slot} where nothing is heard. */
function arranged(views, form, unheard) {
  if (form === 'list') return [{ key: 'list', places: byNext(views).map((v) => v.id) }];
  const racks = [...grouped(views, (v) => v.rack)];
  if (form === 'bench') return racks.flatMap(([rack, members]) => rows(rack, members, unheard));
  return racks.map(([rack, members]) => ({
    key: `rack ${rack}`, heading: form === 'compact' && (rack || racks.length > 1) ? rackName(rack) : null,
    note: heard(members), places: members.map((v) => v.id),
  }));
}

/** A rack row by row, with the slots from which nothing is heard. */
function rows(rack, members, unheard) {
  const places = [...members, ...unheard.filter((entry) => rack && entry.rack === rack && entry.slot)].sort((a, b) => SLOTS.compare(a.slot, b.slot));
  const lines = [...grouped(places, (place) => row(place.slot))];
  const wide = Math.max(...lines.map(([, line]) => line.length));
  return lines.map(([letter, line], i) => ({
    key: `row ${rack} ${letter}`, heading: i ? null : rackName(rack), note: `${members.length} of ${places.length} slots heard`,
    columns: wide, places: line.map((place) => (place.readiness ? place.id : { slot: place.slot })),
  }));
}

const SLOTS = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

function rackName(rack) {
  return rack ? rack.charAt(0).toUpperCase() + rack.slice(1) : 'No rack given';
}

function heard(members) {
  return ` ${members.filter((v) => v.state !== 'silent').length} of ${members.length} heard, as they lie`;
}

function empty(section, slot) {
  if (!section.empty.has(slot)) section.empty.set(slot, element('li', 'nobody', element('span', 'slot', slot), ' nothing heard'));
  return section.empty.get(slot);
}

/** Brings the children into this order and takes away others; those that stand right already are not touched. */
function inOrder(parent, nodes) {
  nodes.forEach((node, i) => { if (parent.children[i] !== node) parent.insertBefore(node, parent.children[i] ?? null); });
  [...parent.children].slice(nodes.length).forEach((node) => node.remove());
}
