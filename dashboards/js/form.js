// In which form the trackers are shown: full tiles, compact ones, a list, or the bench as it stands. By itself as many as the
// screen has room for; what somebody chose is remembered here.
const KEY = 'soakbench.view';
const FORMS = ['full', 'compact', 'list', 'bench'];
const PHONE_PX = 560;
const FULL_MOST = 12;
const COMPACT_MOST = 40;
// What a full tile and the page's head take, at least, in a column of so many pixels.
const FULL_PX = { width: 430, height: 210, head: 330 };

/** The form for so many trackers on a screen of this size; {@code chosen} goes before. */
export function formOf(count, { width, height }, chosen) {
  if (FORMS.includes(chosen)) return chosen;
  if (width <= PHONE_PX || count > COMPACT_MOST) return 'list';
  return count <= Math.min(FULL_MOST, room(width, height)) ? 'full' : 'compact';
}

/** How many full tiles stand on a screen without scrolling; three always do, one below the other where it must be. */
function room(width, height) {
  const columns = Math.max(1, Math.floor(width / FULL_PX.width));
  return Math.max(3, columns * Math.floor((height - FULL_PX.head) / FULL_PX.height));
}

/** What somebody chose: in the address, else on this computer, else null. */
export function chosenForm() {
  return new URLSearchParams(location.search).get('view') ?? localStorage.getItem(KEY);
}

/** Remembers a choice; an empty one leaves it to the page. */
export function chooseForm(form) {
  if (form) localStorage.setItem(KEY, form);
  else localStorage.removeItem(KEY);
}
