import { DataTable } from '@/app/_ui/data-table';
import { Link } from '@/app/_ui/link';
import { Pager } from '@/app/_ui/pager';
import { Panel } from '@/app/_ui/panel';
import type { effectivity } from '@/db/reads/effectivity';
import { buildRangeWords } from '@/lib/bulletins/build-range-words';
import type { BuildRange } from '@/lib/bulletins/build-ranges';
import type { StatusCounts } from '@/lib/bulletins/status-counts';
import styles from './effectivity.module.css';

type Bulletin = Awaited<ReturnType<typeof effectivity>>['bulletins'][number];

interface BuildRangeMatrixProps {
  readonly bulletins: readonly Bulletin[];
  readonly shown: PageOfRanges;
  readonly units: number;
  /** Counts by the place of a range in its page. */
  readonly countsOf: (row: number, bulletinId: string) => StatusCounts;
  readonly totalOf: (bulletinId: string) => StatusCounts;
  readonly chosen: {
    readonly range: BuildRange | undefined;
    readonly bulletin: Bulletin | undefined;
  };
}

interface PageOfRanges {
  readonly page: number;
  readonly pages: number;
  readonly rows: readonly BuildRange[];
}

const rowsAPage = 60;

/** The build ranges of the page that is asked for, or of the nearest that there is. */
export function pageOfRanges(ranges: readonly BuildRange[], asked: number): PageOfRanges {
  const pages = Math.max(1, Math.ceil(ranges.length / rowsAPage));
  const page = Math.min(Math.max(1, Math.trunc(asked)), pages);
  return { page, pages, rows: ranges.slice((page - 1) * rowsAPage, page * rowsAPage) };
}

/** Of more bulletins paper has no columns: it lists those of each build range. */
const mostOnPaper = 6;

/** Up to so many bulletins stand in the matrix even where they cover nothing. */
const fewBulletins = 20;

const isEmpty = (counts: StatusCounts): boolean =>
  Object.entries(counts).every(([status, count]) => status === 'does not apply' || count === 0);

interface CellLine {
  readonly sign: string;
  readonly words: string;
  readonly isPressing?: boolean;
}

/** What a cell says, the most pressing first: each word stands beside its own sign. */
function cellLines(counts: StatusCounts, of: number): readonly CellLine[] {
  const { open, planned, undecided, refused, superseded } = counts;
  const settled = counts.done + counts['not needed'];
  const lines: readonly (CellLine | false)[] = [
    open > 0 && { sign: '■', words: `${open} open`, isPressing: true },
    planned > 0 && { sign: '□', words: `${planned} planned` },
    undecided > 0 && { sign: '?', words: `${undecided} undecided`, isPressing: true },
    refused > 0 && { sign: '✕', words: `${refused} refused`, isPressing: true },
    settled > 0 && { sign: '☑', words: settled === of ? 'all done' : `${settled} done` },
    superseded > 0 && { sign: '↳', words: `${superseded} superseded` },
  ];
  return lines.filter((line) => line !== false);
}

interface CellProps {
  readonly bulletin: string;
  /** The build range, or all of them. */
  readonly where: string;
  readonly counts: StatusCounts;
  readonly of: number;
  readonly href: string;
}

function Cell({ bulletin, where, counts, of, href }: CellProps) {
  const lines = cellLines(counts, of);
  const said = lines.map(({ words }) => words).join(', ') || 'not this range';
  return (
    <a
      className={styles.cell}
      data-bulletin={bulletin}
      data-empty={isEmpty(counts) || undefined}
      aria-label={`${bulletin}, ${where}: ${said}`}
      href={href}
    >
      {lines.length === 0 && <span className="mute">·</span>}
      {lines.map(({ sign, words, isPressing }) => {
        const Line = isPressing ? 'b' : 'span';
        return (
          <Line key={sign} className={styles.line}>
            {sign} {words}
          </Line>
        );
      })}
    </a>
  );
}

/**
 * Build ranges by bulletin, a page of ranges at a time, with the bulletins that concern any of them.
 * Its thousands of cells are plain links, each one less to make interactive.
 */
export function BuildRangeMatrix({
  bulletins,
  shown: { page, pages, rows },
  units,
  countsOf,
  totalOf,
  chosen,
}: BuildRangeMatrixProps) {
  const columns = bulletins.filter(
    ({ id }) =>
      bulletins.length <= fewBulletins ||
      id === chosen.bulletin?.id ||
      rows.some((_, row) => !isEmpty(countsOf(row, id))),
  );
  /** With the issue where another one of the same number is there. */
  const nameOf = ({ number, issue }: Bulletin) =>
    bulletins.filter((one) => one.number === number).length > 1
      ? `${number} issue ${issue}`
      : number;
  const names = new Map(columns.map((bulletin) => [bulletin.id, nameOf(bulletin)]));
  const hrefOf = (query: Readonly<Record<string, string>>) =>
    `/effectivity?${new URLSearchParams({ ...query, ...(page > 1 && { rows: String(page) }) })}#chosen`;
  const lookOf = (range: BuildRange | undefined, bulletinId: string) =>
    range === chosen.range && bulletinId === chosen.bulletin?.id ? styles.chosen : undefined;
  return (
    <section
      className={columns.length > mostOnPaper ? `${styles.matrix} ${styles.many}` : styles.matrix}
    >
      <Panel flush>
        <DataTable label="Build ranges by bulletin" look="grid">
          <thead>
            <tr>
              <th scope="col">Build range</th>
              <th scope="col" className="number">
                Units
              </th>
              {columns.map(({ id, number, issue, title }) => (
                <th key={id} scope="col">
                  <Link href={`/effectivity/bulletins/${id}`} className="unbroken">
                    {number} <span className="small">issue {issue}</span>
                  </Link>
                  <span className={styles.under}>{title}</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((range, row) => (
              <tr key={range.name}>
                <th scope="row">
                  <Link href={`/yard?${new URLSearchParams({ mark: 'all', range: range.name })}`}>
                    {range.name}
                  </Link>
                  <span className={styles.under}>{buildRangeWords(range)}</span>
                </th>
                <td className="number">{range.units.length}</td>
                {columns.map(({ id }) => (
                  <td key={id} className={lookOf(range, id)}>
                    <Cell
                      bulletin={names.get(id) ?? ''}
                      where={range.name}
                      counts={countsOf(row, id)}
                      of={range.units.length}
                      href={hrefOf({ range: range.name, bulletin: id })}
                    />
                  </td>
                ))}
              </tr>
            ))}
            <tr>
              <th scope="row">All</th>
              <td className="number">{units}</td>
              {columns.map(({ id }) => (
                <td key={id} className={lookOf(undefined, id)}>
                  <Cell
                    bulletin={names.get(id) ?? ''}
                    where="all build ranges"
                    counts={totalOf(id)}
                    of={units}
                    href={hrefOf({ bulletin: id })}
                  />
                </td>
              ))}
            </tr>
          </tbody>
        </DataTable>
      </Panel>
      {columns.length < bulletins.length && (
        <p className="small">
          {bulletins.length - columns.length} more bulletins concern none of these build ranges.
        </p>
      )}
      <Pager
        page={page}
        pages={pages}
        hrefFor={(to) => `/effectivity?rows=${to}`}
        label="Pages of build ranges"
      />
    </section>
  );
}
