// The alarms that ended, read when somebody opens their list.
import { picture, span, moment, title, told } from './alarm-row.js';
import { element, setParts } from './nodes.js';
import { json } from './request.js';

const MOST = 100;

/** Fills a details element each time it is opened. */
export class EndedAlarms {
  #list = element('ol', 'ended');

  constructor(details) {
    const csv = element('a', '', 'All as a table (CSV)');
    csv.href = 'api/alarms.csv';
    details.append(this.#list, element('p', '', csv));
    details.addEventListener('toggle', () => { if (details.open) this.#read(); });
  }

  async #read() {
    try {
      const { alarms } = await json('api/alarms?state=ended');
      setParts(this.#list, alarms.length ? alarms.slice(0, MOST).map(entry) : [element('li', '', 'None in the last twelve hours.')]);
    } catch (e) {
      setParts(this.#list, [element('li', '', `Not read: ${e.message}.`)]);
    }
  }
}

function entry(alarm) {
  const { acknowledged, acknowledged_by: by } = alarm;
  const seen = acknowledged ? ['; seen ', moment(acknowledged), by ? ` by ${by}` : ''] : ['; not seen'];
  return element('li', '', picture(alarm), element('b', '', title(alarm)), ' ', ...span(alarm), ...seen, `. ${told(alarm)}`);
}
