// Keeps the list of tiles in step with the views: made once, moved where their rack is, removed when gone.
import { element, flag, setText } from './nodes.js';
import { tile } from './tile.js';

// Up to this many, all racks share one grid, so that everything fits a screen.
const ONE_GRID_MOST = 12;
const FEW = 3;

export class Grid {
  #place;
  #tiles = new Map();
  #racks = new Map();

  #calibrating;

  /** {@code calibrating} is {tell, undo, open}: what the buttons of a tile do. */
  constructor(place, calibrating) {
    this.#place = place;
    this.#calibrating = calibrating;
  }

  /** Shows the views, which come sorted by rack and slot, each with its {@code mark} where it has one. */
  show(views, { scale, lost }) {
    const racks = new Set(views.map((v) => v.rack));
    const grouped = racks.size > 1 && views.length > ONE_GRID_MOST;
    flag(this.#place, 'data-grouped', grouped);
    flag(this.#place, 'data-few', views.length <= FEW);
    this.#place.style.setProperty('--count', views.length);
    this.#dropGone(views, racks);
    for (const rack of racks) this.#fill(rack, views.filter((v) => v.rack === rack));
    for (const view of views) this.#tiles.get(view.id).update(view, { scale, lost, withRack: racks.size > 1 && !grouped });
  }

  #fill(rack, views) {
    const { section, tiles } = this.#rack(rack);
    if (!section.isConnected) this.#place.append(section);
    views.forEach((view, i) => {
      const { item } = this.#tile(view.id);
      if (tiles.children[i] !== item) tiles.insertBefore(item, tiles.children[i] ?? null);
    });
  }

  #tile(id) {
    if (!this.#tiles.has(id)) this.#tiles.set(id, tile(id, this.#calibrating));
    return this.#tiles.get(id);
  }

  #rack(rack) {
    if (!this.#racks.has(rack)) {
      const heading = element('h2', '');
      const tiles = element('ul', 'tiles');
      tiles.setAttribute('role', 'list');
      setText(heading, rack ? `Rack ${rack.replace(/^rack\s+/i, '')}` : 'No rack given');
      this.#racks.set(rack, { section: element('div', 'rack', heading, tiles), tiles });
    }
    return this.#racks.get(rack);
  }

  #dropGone(views, racks) {
    const ids = new Set(views.map((v) => v.id));
    for (const [id, { item }] of this.#tiles) if (!ids.has(id)) { item.remove(); this.#tiles.delete(id); }
    for (const [rack, { section }] of this.#racks) if (!racks.has(rack)) { section.remove(); this.#racks.delete(rack); }
    const order = [...racks].map((rack) => this.#racks.get(rack)?.section).filter(Boolean);
    const shown = [...this.#place.children];
    if (order.some((section, i) => shown[i] !== section)) this.#place.append(...order);
  }
}
