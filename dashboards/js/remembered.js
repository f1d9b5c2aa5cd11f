// A choice of on and off that this browser remembers; off at first.

/** {value, toggle()} of this key. */
export function remembered(key) {
  return {
    get value() {
      return localStorage.getItem(key) === 'on';
    },
    toggle() {
      localStorage.setItem(key, this.value ? 'off' : 'on');
    },
  };
}
