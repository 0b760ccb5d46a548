/** A few lines of an invented nursery with one slip each for the eye, and the day they are looked at. */
export const season = {
  '2026.graft': `site     Drumlin-Lane  lat 53.1  lon -2.4
place    frame  frost-free shade wind-break
batch    K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame

2026-10-09
graft    K26.1..11  cut 40%  long 30mm  whorls 2
graft    K26.12     cut 22%  long 30mm  whorls 2
`,
  '.vscode/settings.json': '{ "graftlog.today": "2027-04-05" }\n',
};
