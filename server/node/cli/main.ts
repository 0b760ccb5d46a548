import { check } from './check.ts';
import { due } from './due.ts';
import { exportCommand } from './export.ts';
import { faultText } from './fault.ts';
import { format } from './format.ts';
import { importCommand } from './import.ts';
import { labels } from './labels.ts';
import { lsp } from './lsp.ts';
import { type Asked, type Command, helpText, readArguments, UsageError } from './options.ts';
import { plan } from './plan.ts';
import { asciiOf, pageFor } from './print.ts';
import { report } from './report.ts';
import { sheet } from './sheet.ts';
import { stats } from './stats.ts';
import { trial } from './trial.ts';
import { whyNot } from './why-not.ts';

const run: Readonly<Record<Command, (asked: Asked) => number | Promise<number>>> = {
  check,
  due,
  stats,
  plan,
  trial,
  format,
  sheet,
  labels,
  report,
  export: exportCommand,
  import: importCommand,
  lsp,
};

/** Exit codes: 0 done, 1 as the command says, 2 nothing could be run. */
async function main(): Promise<void> {
  const { wide } = pageFor(undefined, process.stdout, process.env);
  const shown = (text: string) => (wide ? text : asciiOf(text));
  // the reader of a pipe may go before all is written: that is its right, not an error
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    process.stderr.write(shown(`graftlog: What was to be printed can’t be written (${whyNot(error)}).\n`));
    process.exit(2);
  });
  process.stderr.on('error', () => {});
  try {
    const asked = readArguments(process.argv.slice(2));
    if (asked === 'version') process.stdout.write(`${process.env.GRAFTLOG_VERSION}\n`);
    else if ('help' in asked) process.stdout.write(shown(helpText(asked.help)));
    else process.exitCode = await run[asked.command](asked);
  } catch (error) {
    process.stderr.write(shown(`graftlog: ${error instanceof UsageError ? error.message : faultText(error)}\n`));
    process.exitCode = 2;
  }
}

void main();
