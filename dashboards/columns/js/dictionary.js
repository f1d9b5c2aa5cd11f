// What the names of members and columns mean, read from the service's own description.

const AXES = ['x', 'y', 'z'];
const FIGURE = ['', '_se', '_low', '_high'];
const REFUSED = 'where a call is refused';

/**
 * All of it by name: [{name, names, unit, words, places}]. {@code names} are the columns that a name stands for, none of a member
 * that is no column; {@code places} the addresses, in their order.
 */
export function dictionary(api) {
  const entries = new Map();
  const add = (name, { described, columns = [], place }) => {
    const words = wordsOf(api, described);
    const key = `${name}\n${words}`;
    if (!entries.has(key)) entries.set(key, { name, names: new Set(), unit: unitOf(api, name, described), words, places: new Set() });
    columns.forEach((column) => entries.get(key).names.add(column));
    entries.get(key).places.add(place);
  };
  for (const { place, call } of calls(api)) {
    eachMember(api, [call.requestBody, ...answers(call)], (name, described) => add(name, { described, place }));
    for (const table of call['x-columns'] ?? []) columnsOf(api, api.components['x-columns'][table], (name, described, columns) => add(name, { described, columns, place }));
  }
  eachMember(api, [api.components.responses.Problem], (name, described) => add(name, { described, place: REFUSED }));
  return [...entries.values()].map((e) => ({ ...e, names: [...e.names], places: [...e.places] }))
    .sort((a, b) => a.name.localeCompare(b.name) || a.words.localeCompare(b.words));
}

/** Those that have all the words somewhere: in a name, a unit or what is said. */
export function find(entries, asked) {
  const words = asked.toLowerCase().split(/\s+/).filter(Boolean);
  return entries.filter((e) => {
    const text = [e.name, ...e.names, e.unit, e.words].join(' ').toLowerCase();
    return words.every((word) => text.includes(word));
  });
}

function* calls(api) {
  for (const [place, item] of Object.entries(api.paths)) {
    for (const call of Object.values(item)) if (call.responses) yield { place, call };
  }
}

function answers({ responses }) {
  return Object.entries(responses).filter(([status]) => status.startsWith('2')).map(([, answer]) => answer);
}

/** Where a reference leads. */
function target(api, node) {
  return node?.$ref ? target(api, node.$ref.slice(2).split('/').reduce((at, part) => at[part], api)) : node;
}

function eachMember(api, nodes, to, seen = new Set()) {
  for (const node of nodes.map((one) => target(api, one))) {
    if (!node || typeof node !== 'object' || seen.has(node)) continue;
    seen.add(node);
    if (node.properties) Object.entries(node.properties).forEach(([name, described]) => to(name, described));
    eachMember(api, Object.entries(node).filter(([key]) => !key.startsWith('example')).map(([, part]) => part), to, seen);
  }
}

/** Columns without words of their own are members of the row. */
function columnsOf(api, { row, columns }, to) {
  for (const [name, own] of Object.entries(columns)) {
    const described = own ? { description: own.estimate ?? own } : api.components.schemas[row].properties[name];
    const figure = own?.estimate || described.$ref === '#/components/schemas/Estimate';
    const named = name.includes('{axis}') ? AXES.map((axis) => name.replace('{axis}', axis)) : [name];
    to(name.replace('{axis}', 'x'), described, figure ? named.flatMap((one) => FIGURE.map((part) => one + part)) : named);
  }
}

/** What is said where it stands, else where it leads to. */
function wordsOf(api, described) {
  return (described.description ?? target(api, described).description ?? '').trim();
}

/** By the longest ending that is known. */
function unitOf(api, name, described) {
  const endings = Object.keys(api.info['x-units']).filter((ending) => `_${name}`.endsWith(`_${ending}`)).sort((a, b) => b.length - a.length);
  return described['x-unit'] ?? api.info['x-units'][endings[0]] ?? '';
}
