/**
 * Lines that look like others, as a hand writes them. The reference shows what each is read as, or what is said of it:
 * both come from reading the line.
 */
export const lookAlikes = {
  read: [
    'graft K26.1-12, 14  cut: 40 %, by mk, jo',
    'take K26.12..1',
    'graft K26.1  scion 4mmx90mm  long 1 1/4 in',
    'graft K26.1  cut 30-50%  out 4 cm',
    'practice any  off jan..mar, summer',
  ],
  said: [
    'graft K26.1  cut 1,5mm  stock 9mm',
    '2026-10-9  check frame',
    '9.10.2026  check frame',
    'open K26  20',
    'graft K26.1  out 5m',
    'graft K26.1  stock 3/8"',
    'fail K26  60x',
    'K26.1 taken',
    'open 2601  20%',
    'take K26..K30',
    'graft K26.1  tape 38mm',
    'feed K26  2oz',
    'tree T1  Picea pungens "Hoopsii"',
    "tree T1  Malus 'Growers' Pride'",
    'practice any  off oct-mar',
    'practice any  off 03-01..05-15',
    'practice any  take-after 42d',
  ],
} as const;
