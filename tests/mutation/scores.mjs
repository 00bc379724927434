// A reporter for Stryker: the share of mutants that the tests tell apart, by folder and by file. A
// run over everything writes it into docs/mutation.md.
import { writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

const document = 'docs/mutation.md';
const wanted = 90;

const told = new Set(['Killed', 'Timeout']);
const missed = new Set(['Survived', 'NoCoverage']);

function tally(mutants) {
  const apart = mutants.filter(({ status }) => told.has(status)).length;
  const tried = apart + mutants.filter(({ status }) => missed.has(status)).length;
  return { apart, tried, score: tried === 0 ? 100 : (100 * apart) / tried };
}

const rowOf = ([name, { apart, tried, score }]) =>
  `| ${name} | ${tried} | ${apart} | ${score.toFixed(1)} % |`;

const tableOf = (heading, rows) =>
  [`| ${heading} | Tried | Told apart | Score |`, '|---|--:|--:|--:|', ...rows.map(rowOf)].join(
    '\n',
  );

export class Scores {
  onMutationTestReportReady({ files }) {
    const mutantsOf = new Map();
    for (const [file, { mutants }] of Object.entries(files))
      for (const name of ['All', dirname(file)])
        mutantsOf.set(name, [...(mutantsOf.get(name) ?? []), ...mutants]);
    const folders = [...mutantsOf].map(([name, mutants]) => [name, tally(mutants)]);
    const byFile = Object.entries(files)
      .map(([file, { mutants }]) => [file, tally(mutants)])
      .sort(([, a], [, b]) => a.score - b.score);

    console.log(tableOf('File', byFile));
    console.log(tableOf('Folder', folders));
    if (process.argv.some((argument) => /^(-m|--mutate|-t|--testFiles)\b/.test(argument))) return;
    writeFileSync(
      document,
      `# Do the tests of the analysis tell a wrong program from the right one?

Written by \`npm run mutation\`; do not edit. Each mutant is the program with one operator, condition,
constant or block changed. It is told apart when a test fails, or does not end. Wanted: ${wanted} %.

${tableOf('Folder', folders)}

Below ${wanted} %:

${tableOf(
  'File',
  byFile.filter(([, { score }]) => score < wanted),
)}
`,
    );
  }
}
