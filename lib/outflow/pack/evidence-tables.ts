import { limitFigure, limitRows, limitUnit } from '@/lib/intake/limit-rows';
import { fromKilometres, fromKilopascals, pressureDecimals } from '@/lib/measure';
import { amendedWords } from '../amended-words';
import { type PackBlock, type PackReader, utc } from './pack-blocks';
import type { PackFacts, PackLimits, PackReading } from './pack-facts';

/** Readings, their amendments, the verdicts on them, and the limits that these were made with. */
export function evidenceTables(facts: PackFacts, reader: PackReader): PackBlock[] {
  return [
    { is: 'heading', text: 'Readings, as first recorded' },
    readingsTable(facts, reader),
    { is: 'heading', text: 'Amendments' },
    {
      is: 'table',
      name: 'Amendments',
      columns: [
        { title: 'Unit', weight: 7 },
        { title: 'Reading', weight: 7, isNumber: true },
        { title: 'First value, then new', weight: 28 },
        { title: 'Why', weight: 24 },
        { title: 'By', weight: 18 },
        { title: 'Decided', weight: 18 },
      ],
      rows: facts.amendments.map((one) => [
        one.unitId,
        String(one.readingEntry),
        amendedWords(one.before, one.after).join('\n'),
        one.reason,
        `${one.madeBy}\n${utc(one.madeAt)}`,
        [one.state, one.decidedBy, utc(one.decidedAt)].filter(Boolean).join('\n'),
      ]),
    },
    { is: 'heading', text: 'Verdicts' },
    {
      is: 'text',
      text: 'A verdict is listed where its mark, its newest reading, its limits or its method differ from the one before it. Each keeps the limits that it was made with.',
    },
    {
      is: 'table',
      name: 'Verdicts',
      columns: [
        { title: 'Unit', weight: 7 },
        { title: 'Judged', weight: 13 },
        { title: 'Mark', weight: 10 },
        { title: 'Why', weight: 46 },
        { title: 'Limits', weight: 6, isNumber: true },
        { title: 'Method', weight: 8 },
        { title: 'Knew the ledger to', weight: 9, isNumber: true },
      ],
      rows: facts.verdicts.map((one) => [
        one.unitId,
        utc(one.judgedAt),
        one.mark ?? 'no mark: out of use',
        one.why,
        String(one.limitsVersion),
        one.methodVersion,
        String(one.knownTo),
      ]),
    },
    { is: 'heading', text: 'Limits of these verdicts' },
    {
      is: 'table',
      name: 'Sets of limits',
      columns: [
        { title: 'Set', weight: 5, isNumber: true },
        { title: 'In force from', weight: 10 },
        { title: 'Source', weight: 30 },
        { title: 'Reason', weight: 25 },
        { title: 'Proposed by', weight: 14 },
        { title: 'Approved by', weight: 14 },
      ],
      rows: facts.limits.map((set) => [
        String(set.version),
        set.effectiveFrom,
        set.source,
        set.reason,
        set.proposedBy ?? '',
        set.decidedBy ?? '',
      ]),
    },
    limitValuesTable(facts.limits, reader),
  ];
}

function readingsTable({ readings }: PackFacts, reader: PackReader): PackBlock {
  const { pressure, distance } = reader;
  const figure = (value: number | null) =>
    value === null ? '–' : fromKilopascals(value, pressure).toFixed(pressureDecimals[pressure]);
  const seconds = (value: number | null) => (value === null ? '–' : value.toFixed(1));
  const hold = ({ holdLoss, holdTime }: PackReading) =>
    holdLoss === null ? '–' : `${figure(holdLoss)} in ${holdTime ?? '?'} s`;
  return {
    is: 'table',
    name: 'Readings',
    columns: [
      { title: 'Unit', weight: 7 },
      { title: 'Reading', weight: 7, isNumber: true },
      { title: 'Read', weight: 12 },
      { title: 'Received', weight: 12 },
      { title: 'By', weight: 12 },
      { title: `Idle, ${pressure}`, weight: 6, isNumber: true },
      { title: 'Raised', weight: 6, isNumber: true },
      { title: 'Lowest', weight: 6, isNumber: true },
      { title: 'Recovery, s', weight: 7, isNumber: true },
      { title: 'Hold loss', weight: 10 },
      { title: 'Line, pedal, belt', weight: 15 },
      { title: `Odometer, ${distance}`, weight: 9, isNumber: true },
      { title: 'Gauge, could not', weight: 14 },
    ],
    rows: readings.map((one) => [
      one.unitId,
      `${one.entry}${one.isProof ? ' proof' : ''}`,
      utc(one.readAt),
      utc(one.receivedAt),
      one.by,
      figure(one.idle),
      figure(one.raised),
      figure(one.lowest),
      seconds(one.recovery),
      hold(one),
      [one.line, one.pedal ?? 'not tried', one.belt ?? 'not looked at'].join(', '),
      one.odometer === null ? '–' : Math.round(fromKilometres(one.odometer, distance)).toString(),
      [one.gauge ?? '', ...Object.entries(one.couldNot).map(([what, why]) => `${what}: ${why}`)]
        .filter(Boolean)
        .join('; '),
    ]),
  };
}

function limitValuesTable(limits: readonly PackLimits[], reader: PackReader): PackBlock {
  return {
    is: 'table',
    name: 'Values of these sets',
    columns: [
      { title: 'Limit', weight: 30 },
      ...limits.map(({ version }) => ({ title: `Set ${version}`, weight: 12, isNumber: true })),
    ],
    rows: limitRows.map(({ name, label, quantity }) => [
      label,
      ...limits.map(({ values }) =>
        `${limitFigure(values[name], quantity, reader)} ${limitUnit(quantity, reader)}`.trim(),
      ),
    ]),
  };
}
