// One rack of many: a board whose address has ?rack= shows that one, and the way round keeps it.
import { asked } from './address.js';

/** The rack that the address asks for; empty for all. */
export function rack() {
  return asked().get('rack') ?? '';
}

/** An address, of that rack alone where one is asked for. */
export function ofRack(address) {
  return rack() ? `${address}?rack=${encodeURIComponent(rack())}` : address;
}
