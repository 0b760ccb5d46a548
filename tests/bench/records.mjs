// Made-up logs for measuring: healthy, the same for the same count, and as long as wanted.
const perBatch = 25;
const pairs = [
  ["Pinus parviflora 'Tenysu'", 'Pinus thunbergii'],
  ['Pinus sylvestris', 'Pinus sylvestris'],
  ['Picea abies', 'Picea abies'],
];
const hands = ['ak', 'no', 'ri'];

/** @param {number} n days after 1 October 2015 */
const dayOf = (n) => new Date(Date.UTC(2015, 9, 1 + n)).toISOString().slice(0, 10);

/**
 * Autumn graftings of six seasons, each batch on its day.
 * @param {number} count graft lines
 * @param {{ each?: number, slips?: number }} [how] grafts a line; every so-manieth line has a cut that is too shallow
 */
export function record(count, { each = 0, slips = 0 } = {}) {
  const lines = [
    '# Drumlin Lane, made up for measuring',
    'site   Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin',
    'place  frame  frost-free shade wind-break  capacity 100000000',
  ];
  const batches = Math.max(1, Math.ceil(count / perBatch));
  let number = 1;
  for (let i = 0; i < count; i++) {
    const batch = Math.floor(i / perBatch);
    if (i % perBatch === 0) {
      const at = Math.floor((batch * 270) / batches);
      const [scion, stock] = pairs[batch % pairs.length];
      lines.push('', dayOf(Math.floor(Math.floor(at / 45) * 365.25) + (at % 45)));
      lines.push(`batch  K${batch + 1}  ${scion} / ${stock}  side-veneer  in frame`);
      number = 1;
    }
    const some = each || 6 + (i % 9);
    const cut = slips > 0 && i % slips === 0 ? 12 + (i % 8) : 32 + (i % 16);
    lines.push(
      `graft  K${batch + 1}.${number}..${number + some - 1}  cut ${cut}%  long ${31 + (i % 8)}mm  short ${7 + (i % 4)}mm  scion ${3 + (i % 3)}mm x ${70 + (i % 50)}mm  whorls ${1 + (i % 2)}  film 38mm  by ${hands[i % 3]}`,
    );
    number += some;
  }
  return `${lines.join('\n')}\n`;
}
