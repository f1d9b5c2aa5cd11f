// A soak in words.
const ENDED = {
  taken_off: 'taken off', silence: 'fell silent', late_reboot: 'rebooted after a pause', cooler_reboot: 'rebooted cooler', clock_set: 'its clock was set back',
};

/** Why it ended, or that it has not. */
export function endedWords({ ended }) {
  return ended ? ENDED[ended] ?? ended : 'under way';
}

/** Its tracker's page with this soak. */
export function pageOf({ soak, tracker }) {
  return `/tracker/${encodeURIComponent(tracker)}?soak=${encodeURIComponent(soak)}`;
}

/** Where its report is. */
export function reportOf(soak) {
  return `/soak/${encodeURIComponent(soak)}/report`;
}
