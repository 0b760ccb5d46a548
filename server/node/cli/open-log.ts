import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Day } from '#grammar/statement.ts';
import { isoDay, parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { factOf } from '#server/engine/facts.ts';
import { Log } from '#server/engine/log.ts';
import { weatherPath } from '#server/engine/weather-path.ts';
import { inert, pageText, type TextPage } from '#server/report/text-page.ts';
import { WeatherFiles } from '#server/workspace/weather-files.ts';
import { disk } from '../disk.ts';
import { dayInZone } from '../today.ts';
import { type Asked, UsageError } from './options.ts';
import { asciiOf, type Page, pageFor } from './print.ts';
import { type LogFile, readPaths } from './read-paths.ts';

export interface Opened {
  readonly answers: Answers;
  readonly day: Day;
  readonly page: Page;
  readonly format: string;
  readonly json: boolean;
  /** Prints results. In JSON nothing is shortened; in text control characters of a log are made harmless. */
  print(text: string): void;
  /** Prints a page of text, its headings bold where there is colour. */
  printPage(page: TextPage): void;
}

/** Reads the paths as one log, with the files it names, on the day asked for: `--on`, else today in the site’s zone. */
export async function openLog(asked: Asked, formats: readonly string[] = ['text', 'json']): Promise<Opened> {
  const format = asked.values.format ?? 'text';
  if (typeof format !== 'string' || !formats.includes(format))
    throw new UsageError(`--format is one of ${formats.join(', ')}.`);
  const { files, remarks } = readPaths(asked.paths, process.cwd());
  for (const sentence of remarks) process.stderr.write(`graftlog: ${inert(sentence)}\n`);
  if (files.length === 0) throw new UsageError('No file could be read.');
  const log = new Log();
  for (const { file, text } of files) log.addFile(file, text);
  const day = dayOf(asked, log);
  const weather = weatherOf(log, files);
  await weather.read();
  const page = pageFor(asked.values.color, process.stdout, process.env);
  return {
    answers: new Answers(log, day, weather.texts),
    day,
    page,
    format,
    json: format === 'json',
    print: (text) => void process.stdout.write(text),
    printPage: (text) => void process.stdout.write(shownPage(text, page)),
  };
}

function shownPage(text: TextPage, { color, wide }: Page): string {
  const shown = pageText(text, color.isColorSupported ? color.bold : undefined);
  return wide ? shown : asciiOf(shown);
}

/** Files that the log names lie in the folder that was given on the command line. */
function weatherOf(log: Log, files: readonly LogFile[]): WeatherFiles {
  const folders = new Map(files.map(({ file, folder }) => [file, pathToFileURL(folder).href]));
  return new WeatherFiles(
    disk,
    () => log.all('weather'),
    (entry) => {
      const [root, path] = [folders.get(entry.file), weatherPath(entry)];
      return root === undefined || path === undefined ? undefined : { root, uri: pathToFileURL(resolve(path)).href };
    },
  );
}

function dayOf(asked: Asked, log: Log): Day {
  const { on } = asked.values;
  if (typeof on === 'string') {
    const day = parseIso(on);
    if (day === undefined)
      throw new UsageError(`--on takes a day as year-month-day, such as ${isoDay(dayInZone(undefined))}.`);
    return day;
  }
  const zone = factOf(log.site?.line.statement, 'tz')?.value;
  return dayInZone(zone?.kind === 'text' ? zone.text : undefined);
}
