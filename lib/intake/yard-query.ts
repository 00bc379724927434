import { type Mark, marks } from '@/lib/analysis/assessment';

export const yardSorts = ['edge', 'mark', 'unit', 'shed', 'idle', 'read'] as const;
/** `edge`: earliest early edge of the forecast; `mark`: worst mark first, then the edge. */
export type YardSort = (typeof yardSorts)[number];

export const bodies = ['pickup', 'SUV', 'van', 'other'] as const;
export const standings = ['in use', 'laid up', 'left the fleet'] as const;
export const bulletinFilters = ['open', 'planned', 'undecided', 'refused'] as const;

/** What the yard shows and in which order. Null does not narrow. */
export interface YardQuery {
  readonly mark: Mark | null;
  /** First characters of the unit, upper case. */
  readonly find: string;
  readonly shed: string | null;
  readonly make: string | null;
  readonly model: string | null;
  readonly body: (typeof bodies)[number] | null;
  /** Months such as `2019-03`, both inclusive. */
  readonly builtFrom: string | null;
  readonly builtTo: string | null;
  readonly bulletin: (typeof bulletinFilters)[number] | null;
  /** Name of a build range of the effectivity matrix, such as `Harrow 2-b`. */
  readonly range: string | null;
  readonly standing: (typeof standings)[number];
  readonly sort: YardSort;
  readonly isDescending: boolean;
}

/** The yard opens on what needs a decision, earliest edge first. */
export const firstYardQuery: YardQuery = {
  mark: 'Book in',
  find: '',
  shed: null,
  make: null,
  model: null,
  body: null,
  builtFrom: null,
  builtTo: null,
  bulletin: null,
  range: null,
  standing: 'in use',
  sort: 'edge',
  isDescending: false,
};

const allMarks = 'all';
const month = /^(19|20)\d{2}-(0[1-9]|1[0-2])$/;

function oneOf<Choice extends string>(choices: readonly Choice[], text: string | null) {
  return choices.find((choice) => choice === text) ?? null;
}

function shortText(text: string | null): string | null {
  const trimmed = text?.trim().slice(0, 60);
  return trimmed ? trimmed : null;
}

function monthOf(text: string | null): string | null {
  return text !== null && month.test(text) ? text : null;
}

/** Units are keyed in any case and with stray spaces: `findText(' ab-1 ')` is `AB-1`. */
export const findText = (text: string): string =>
  text
    .toUpperCase()
    .replaceAll(/[^A-Z0-9-]/g, '')
    .slice(0, 16);

/**
 * Reads the yard's address. What is not understood is left out rather than refused: an address is
 * also typed, bookmarked and cut short. Laid-up and departed units bear no mark.
 *
 * @example readYardQuery(new URLSearchParams('mark=all&find=04')) narrows to units that begin with 04
 */
export function readYardQuery(address: URLSearchParams): YardQuery {
  const standing = oneOf(standings, address.get('standing')) ?? 'in use';
  const asked = address.get('mark');
  const mark = asked === allMarks ? null : (oneOf(marks, asked) ?? firstYardQuery.mark);
  const sort = address.get('sort') ?? '';
  return {
    mark: standing === 'in use' ? mark : null,
    find: findText(address.get('find') ?? ''),
    shed: shortText(address.get('shed')),
    make: shortText(address.get('make')),
    model: shortText(address.get('model')),
    body: oneOf(bodies, address.get('body')),
    builtFrom: monthOf(address.get('from')),
    builtTo: monthOf(address.get('to')),
    bulletin: oneOf(bulletinFilters, address.get('bulletin')),
    range: shortText(address.get('range')),
    standing,
    sort: oneOf(yardSorts, sort.replace(/^-/, '')) ?? firstYardQuery.sort,
    isDescending: sort.startsWith('-'),
  };
}

/** The shortest address of a query: what the yard opens on is left out. */
export function writeYardQuery(query: YardQuery): URLSearchParams {
  const address = new URLSearchParams();
  const put = (name: string, value: string | null) => {
    if (value) address.set(name, value);
  };
  if (query.standing !== 'in use') put('standing', query.standing);
  else if (query.mark !== firstYardQuery.mark) put('mark', query.mark ?? allMarks);
  put('find', query.find);
  put('shed', query.shed);
  put('make', query.make);
  put('model', query.model);
  put('body', query.body);
  put('from', query.builtFrom);
  put('to', query.builtTo);
  put('bulletin', query.bulletin);
  put('range', query.range);
  const order = `${query.isDescending ? '-' : ''}${query.sort}`;
  if (order !== firstYardQuery.sort) put('sort', order);
  return address;
}
