import type { Day } from '#grammar/statement.ts';
import { isoDay } from '#grammar/values/date.ts';
import type { Answers } from '#server/engine/answers.ts';
import type { Entry } from '#server/engine/model.ts';
import { lineColumns } from './lines.ts';
import { type Table, tableOf } from './table.ts';

interface Read {
  readonly source: 'station' | 'reading';
  readonly path?: string;
  readonly place: string | null;
  readonly day: Day;
  readonly min?: number;
  readonly max?: number;
  readonly entry: Entry;
}

/** What stations and thermometers read, each as it was read: no place’s difference is worked in. */
export const weatherTable = (answers: Answers): Table =>
  tableOf<Read>(
    {
      name: 'weather',
      title: 'Weather',
      help: 'Daily minima and maxima of the stations the log names, and its own readings.',
    },
    [
      {
        ...{ name: 'source', type: 'string', words: ['station', 'reading'], always: true },
        help: 'A station’s file, or a `reading` line.',
        of: ({ source }) => source,
      },
      { name: 'station', type: 'string', help: 'The station’s file as the log names it.', of: ({ path }) => path },
      { name: 'place', type: 'string', help: 'Where it holds; empty for the whole nursery.', of: ({ place }) => place },
      { name: 'date', type: 'date', always: true, help: 'The day.', of: ({ day }) => isoDay(day) },
      { name: 'min', type: 'number', unit: 'Cel', help: 'Coldest.', of: ({ min }) => min },
      { name: 'max', type: 'number', unit: 'Cel', help: 'Warmest.', of: ({ max }) => max },
      ...lineColumns<Read>(answers.log, ({ entry }) => entry, 'that names or reads it'),
    ],
    () => readsOf(answers),
  );

function* readsOf({ log, weather, env }: Answers): Generator<Read> {
  const nameOf = (key: string) => log.names.declared(key)?.name ?? key;
  for (const entry of log.all('weather')) {
    const station = weather?.stationOf(entry);
    if (!station) continue;
    const { path, place, days } = station;
    for (const day of days)
      yield { source: 'station', path, place: place === undefined ? null : nameOf(place), entry, ...day };
  }
  const places = [...log.names.allDeclared('place')].map(({ key }) => key).sort();
  for (const key of places)
    for (const reading of env.places.readings(key)) yield { source: 'reading', place: nameOf(key), ...reading };
}
