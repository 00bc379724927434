// A reporter for Stryker: the share of mutants that the tests tell from the program, by folder and
// file. A run over everything writes it into docs/mutation.md.
import { writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { isWhole, outsideSample, wilson } from './sample.mjs';

const document = 'docs/mutation.md';
const wanted = 90;

function tally(mutants) {
  const count = (...statuses) => mutants.filter(({ status }) => statuses.includes(status)).length;
  const told = count('Killed', 'Timeout');
  const tried = told + count('Survived');
  const unreached = count('NoCoverage');
  const reached =
    tried + mutants.filter(({ statusReason }) => statusReason === outsideSample).length;
  // Mutants that no test reaches are counted, not sampled.
  const scoreOf = (share) => (100 * reached * share) / Math.max(1, reached + unreached);
  return {
    told,
    tried: tried + unreached,
    all: reached + unreached,
    score: scoreOf(tried === 0 ? 0 : told / tried),
    between: tried === 0 ? [0, 100] : wilson(told, tried).map(scoreOf),
  };
}

function tableOf(heading, rows) {
  const columns = [
    heading,
    'Mutants',
    'Tried',
    'Told apart',
    'Score',
    ...(isWhole ? [] : ['95 %']),
  ];
  return [
    `| ${columns.join(' | ')} |`,
    `|---${'|--:'.repeat(columns.length - 1)}|`,
    ...rows.map(([name, { all, tried, told, score, between }]) => {
      const interval = between.map((end) => end.toFixed(1)).join(' to ');
      const cells = [
        name,
        all,
        tried,
        told,
        `${score.toFixed(1)} %`,
        ...(isWhole ? [] : [interval]),
      ];
      return `| ${cells.join(' | ')} |`;
    }),
  ].join('\n');
}

export class Scores {
  onMutantTested({ status, fileName, location, replacement }) {
    if (status === 'Survived' || status === 'NoCoverage')
      console.log(`${status}: ${fileName}:${location.start.line}  ${replacement}`);
  }

  onMutationTestReportReady({ files }) {
    const folders = new Map();
    for (const [file, { mutants }] of Object.entries(files))
      for (const name of ['all', dirname(file)])
        folders.set(name, [...(folders.get(name) ?? []), ...mutants]);
    const byFolder = [...folders].map(([name, mutants]) => [name, tally(mutants)]);
    const byFile = Object.entries(files)
      .map(([file, { mutants }]) => [file, tally(mutants)])
      .sort(([, a], [, b]) => a.score - b.score);

    console.log(`${tableOf('File', byFile)}\n\n${tableOf('Folder', byFolder)}`);
    if (process.argv.some((argument) => /^(-m|--mutate|-t|--testFiles)\b/.test(argument))) return;
    const below = byFile.filter(([, { all, score }]) => all > 0 && score < wanted);
    writeFileSync(
      document,
      `# Do the tests tell a wrong program from the right one?

Written by \`npm run mutation\`; do not edit. A mutant is the program with one operator, condition,
constant or block changed. The tests tell it apart when one of them fails or does not end. ${wanted} % is
wanted. What no test can tell apart is in the count too: a guard that only saves time, a second pass
that only keeps digits. Simulations of whole fleets are not run on mutants, and each mutant gets a few
seconds of tests (DEVELOPERS.md, Mutation runs): the scores are lower bounds, and low where little else
reaches. Where there are intervals, a random sample was tried.

${tableOf('Folder', byFolder)}
${isWhole ? `\n## Files below ${wanted} %\n\n${tableOf('File', below)}\n` : ''}`,
    );
  }
}
