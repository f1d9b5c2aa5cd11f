// A page for a tracker of which nothing is stored: what that means, and what to do.
import { element } from '../../js/nodes.js';
import { at } from './service.js';

/** Fills the section. {@code listed} says whether the roster has it. */
export function showEmpty(place, id, listed) {
  place.hidden = false;
  const board = element('a', '', 'the board');
  board.href = at('');
  const heard = element('code', '', `{"id":"${id}","time":"${new Date().toISOString()}","temp_c":24.3,"gyro_dps":[0.31,-0.12,0.05]}`);
  place.replaceChildren(
    element('h2', '', listed ? 'Never heard yet' : 'No tracker of this id was ever heard'),
    element('p', '', listed ? 'The roster has it, but no line of it has come. This page fills by itself with the first sample.' : `Nothing of “${id}” is stored and the roster does not list it. Look for it on `,
      ...(listed ? [] : [board, ': an id is written as the firmware writes it, large and small letters apart.'])),
    element('dl', '',
      element('dt', '', 'It lies on the rack'), element('dd', '', 'See that it is switched on, and which ports are read: ', element('code', '', 'service/target/soakbench ports')),
      element('dt', '', 'It sends over the network'), element('dd', '', 'A line that would be taken for it: ', heard)));
}
