// How a cell asks for an address, in the words of each program.
const FORMULAS = {
  number: (address) => `=NUMBERVALUE(WEBSERVICE("${address}"),".")`,
  word: (address) => `=WEBSERVICE("${address}")`,
  'number-de': (address) => `=ZAHLENWERT(WEBDIENST("${address}");".")`,
  import: (address) => `=IMPORTDATA("${address}")`,
  address: (address) => address,
};

/** The text to copy; a word is asked for as a word whatever was chosen of numbers. */
export function formula(how, address, isNumber) {
  if (how === 'number-de' && !isNumber) return `=WEBDIENST("${address}")`;
  return FORMULAS[how === 'number' && !isNumber ? 'word' : how](address);
}
