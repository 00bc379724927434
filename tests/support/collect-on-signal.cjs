// Loaded before a served product: on SIGUSR2 it collects its garbage and notes what is left, megabytes.
// The engine goes on compiling for hours and keeps what it compiled: it is told to interpret, so that
// what is weighed is what the product keeps.
const { appendFileSync } = require('node:fs');
const { setTimeout } = require('node:timers/promises');
const { setFlagsFromString } = require('node:v8');
const { runInNewContext } = require('node:vm');

setFlagsFromString('--expose-gc');
for (const flag of ['--no-opt', '--no-maglev', '--no-sparkplug', '--no-flush-bytecode'])
  setFlagsFromString(flag);
const collect = runInNewContext('gc');

process.on('SIGUSR2', async () => {
  // What an object holds outside the heap is freed a turn after the object.
  for (let round = 0; round < 3; round++) {
    collect();
    await setTimeout(200);
  }
  const { heapUsed, external } = process.memoryUsage();
  appendFileSync(process.env.LIVE_MEMORY_FILE, `${(heapUsed + external) / 1_048_576}\n`);
});
