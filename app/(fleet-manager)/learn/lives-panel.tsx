import { DownloadButton } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { counted } from '@/app/_ui/format';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { partHistories } from '@/db/reads/part-histories';
import { may } from '@/lib/access';
import { type LifeGroup, partLives } from '@/lib/analysis/life';
import { fromKilometres } from '@/lib/measure';
import styles from './learn.module.css';
import type { LearnSearch } from './learn-search';
import { middleWords, replacementWords, weibullWords } from './life-figures';
import { SurvivalChart } from './survival-chart';

interface LivesPanelProps {
  readonly person: SignedInPerson;
  readonly search: LearnSearch;
}

const groupsShown = 6;

const nameOf = ({ by, name }: LifeGroup): string =>
  by === 'all' ? 'all' : `${by} ${name === 'unknown' ? 'not on record' : name}`;

export async function LivesPanel({ person, search: { part, by, ratio } }: LivesPanelProps) {
  const { db } = await database();
  const lives = partLives(part, await partHistories(db, person, part), ratio);
  const unit = person.distanceUnit;
  const groups = lives.groups
    .filter((group) => group.by === by)
    .toSorted((a, b) => b.lives - a.lives);
  const longest = Math.max(1, ...groups.map(({ survival }) => survival.at(-1)?.time ?? 0));
  const comparison = lives.comparisons.find((one) => one.by === by);
  if (groups.length === 0) {
    return (
      <Panel title={`Life of the ${part}`}>
        <EmptyState>No {part} has a distance on record yet.</EmptyState>
      </Panel>
    );
  }
  return (
    <Panel
      title={`Life of the ${part}, by ${by === 'all' ? 'the whole fleet' : by}`}
      aside={
        may(person, 'export') && (
          <DownloadButton href={`/learn/csv?part=${encodeURIComponent(part)}`}>
            Export CSV
          </DownloadButton>
        )
      }
    >
      <div className={styles.charts}>
        {groups.slice(0, groupsShown).map((group) => (
          <figure key={group.name}>
            <figcaption>
              <b>{nameOf(group)}</b>: {counted(group.lives, 'life', 'lives')},{' '}
              {counted(group.failures, 'failure', 'failures')}
            </figcaption>
            <SurvivalChart group={group} name={nameOf(group)} unit={unit} longest={longest} />
          </figure>
        ))}
      </div>
      <p className="small mute">
        The line is the share that lasts beyond a distance (Kaplan–Meier), the band its 95%
        interval. A part still fitted, or removed for another reason than wear or failure, counts as
        having lasted at least so far.
      </p>
      <DataTable label={`Lives of the ${part} by ${by}`}>
        <thead>
          <tr>
            <th scope="col">Group</th>
            <th scope="col" className="number">
              Lives
            </th>
            <th scope="col" className="number">
              Failures
            </th>
            <th scope="col">Half last</th>
            <th scope="col">Wear-out (Weibull)</th>
            <th scope="col">Cheapest planned replacement</th>
          </tr>
        </thead>
        <tbody>
          {groups.map((group) => (
            <tr key={group.name}>
              <th scope="row">{nameOf(group)}</th>
              <td className="number">{group.lives}</td>
              <td className="number">{group.failures}</td>
              <td>{middleWords(group, unit)}</td>
              <td>{weibullWords(group, unit)}</td>
              <td>{replacementWords(group, unit)}</td>
            </tr>
          ))}
        </tbody>
      </DataTable>
      {by !== 'all' && (
        <p>
          {comparison
            ? `Log-rank test between the groups: χ² ${comparison.chiSquare.toFixed(2)} on ${counted(comparison.degreesOfFreedom, 'degree', 'degrees')} of freedom, p ${comparison.p < 0.001 ? 'below 0.001' : comparison.p.toFixed(3)}. ${comparison.p < 0.05 ? 'The groups do not last alike; why is another question.' : 'No difference is shown.'}`
            : 'The groups cannot be compared yet: it takes two groups at risk and a failure.'}
        </p>
      )}
      {lives.withoutDistance > 0 && (
        <p className="small mute">{lives.withoutDistance} more without both odometers, left out.</p>
      )}
      {groups.map((group) => (
        <details key={group.name}>
          <summary>Survival table: {nameOf(group)}</summary>
          <DataTable label={`Survival of ${nameOf(group)}`} small>
            <thead>
              <tr>
                <th scope="col" className="number">
                  {unit}
                </th>
                <th scope="col" className="number">
                  At risk
                </th>
                <th scope="col" className="number">
                  Failures
                </th>
                <th scope="col" className="number">
                  Last
                </th>
                <th scope="col">95% interval</th>
              </tr>
            </thead>
            <tbody>
              {failuresShown(group).map((row) => (
                <tr key={row.time}>
                  <td className="number">
                    {Math.round(fromKilometres(row.time, unit)).toLocaleString('en-US')}
                  </td>
                  <td className="number">{row.atRisk}</td>
                  <td className="number">{row.failures}</td>
                  <td className="number">{(100 * row.survival).toFixed(1)}%</td>
                  <td>
                    {row.lower === null || row.upper === null
                      ? 'none'
                      : `${(100 * row.lower).toFixed(1)} to ${(100 * row.upper).toFixed(1)}%`}
                  </td>
                </tr>
              ))}
            </tbody>
          </DataTable>
        </details>
      ))}
    </Panel>
  );
}

const rowsShown = 60;

/** Distances at which parts failed; of very many, evenly chosen ones and the last. The CSV has all. */
function failuresShown({ survival }: LifeGroup) {
  const failures = survival.filter((row) => row.failures > 0);
  const stride = Math.ceil(failures.length / rowsShown);
  return failures.filter((_, k) => (failures.length - 1 - k) % Math.max(1, stride) === 0);
}
