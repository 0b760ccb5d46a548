/*
 * Three made-up spreadsheets of an invented nursery. Line ends, marks and slips are as spreadsheets and hands leave them.
 */

/** One row a graft, ISO dates, takes as yes and no. */
export const rowAGraft = `Graft #,Date grafted,Scion,Understock,Method,Cut depth (%),Scion length (mm),Scion diameter (mm),Place,Grafter,Take?,Date judged,Cause of loss,Notes
K24-001,2024-10-09,Pinus parviflora 'Kokonoe',Pinus thunbergii,side veneer,40,90,4,Cold frame,mk,yes,2025-07-05,,
K24-002,2024-10-09,Pinus parviflora 'Kokonoe',Pinus thunbergii,side veneer,40,90,4,Cold frame,mk,yes,2025-07-05,,
K24-003,2024-10-09,Pinus parviflora 'Kokonoe',Pinus thunbergii,side veneer,40,90,4,Cold frame,mk,no,2025-07-05,dried out,
K24-004,2024-10-10,Pinus parviflora 'Kokonoe',Pinus thunbergii,side veneer,40,90,4,Cold frame,ro,,,,"thin bark, set a little low"
K24-005,2024-10-10,Pinus parviflora 'Kokonoe',Pinus thunbergii,side veneer,40,90,4,Cold frame,ro,x,2025-07-05,,
K24-006,,Pinus parviflora 'Kokonoe',Pinus thunbergii,side veneer,40,90,4,Cold frame,ro,,,,day not written down
A24-1,2024-09-05,Acer palmatum Bloodgood,Acer palmatum,veneer,deep,70,3,Tent,mk,1,2025-06-01,,
A24-2,2024-09-05,Acer palmatum Bloodgood,Acer palmatum,veneer,40,70,3,Tent,mk,0,2025-06-01,botrytis,
A24-2,2024-09-05,Acer palmatum Bloodgood,Acer palmatum,veneer,40,70,3,Tent,mk,1,2025-06-01,,number written twice
`;

export const rowAGraftLog = `# imported from grafts.csv
# place Cold-frame: “Cold frame” in the sheet
# Numbers: “K24-001” of the sheet is K24.1, “A24-1” of the sheet is A24.1.

place    Cold-frame
place    Tent
batch    K24  Pinus parviflora 'Kokonoe' / Pinus thunbergii  side-veneer  in Cold-frame
batch    A24  Acer palmatum 'Bloodgood' / Acer palmatum  side-veneer  in Tent

2024-09-05
graft    A24.1  scion 3mm x 70mm  by mk  "Cut depth (%): deep"
graft    A24.2  cut 40%  scion 3mm x 70mm  by mk
2024-10-09
graft    K24.1..3  cut 40%  scion 4mm x 90mm  by mk
2024-10-10
graft    K24.4  cut 40%  scion 4mm x 90mm  by ro  "thin bark, set a little low"
graft    K24.5  cut 40%  scion 4mm x 90mm  by ro
2025-06-01
take     A24.1
fail     A24.2  rotted  "botrytis"
2025-07-05
take     K24.1,2,5
fail     K24.3  dried  "dried out"
`;

export const rowAGraftLeft = `Graft #,Date grafted,Scion,Understock,Method,Cut depth (%),Scion length (mm),Scion diameter (mm),Place,Grafter,Take?,Date judged,Cause of loss,Notes,why left
K24-006,,Pinus parviflora 'Kokonoe',Pinus thunbergii,side veneer,40,90,4,Cold frame,ro,,,,day not written down,the day it was made is blank
A24-2,2024-09-05,Acer palmatum Bloodgood,Acer palmatum,veneer,40,70,3,Tent,mk,1,2025-06-01,,number written twice,A24.2 stands in row 9 already
`;

/** One row a batch with counts, semicolons, US dates that one row decides, a mark in front and CRLF. */
export const rowABatch = `\uFEFF${[
  'Batch;Grafted on;Species;Rootstock;Qty;Taken;Lost;Reason;House;Who;Shelf',
  'K26;10/09/2026;Pinus parviflora;Pinus thunbergii;40;31;9;7 dried, 2 rotted;frame;mk;',
  'S27;1/18/2027;Abies koreana;Abies nordmanniana;300;262;20;rotted;tent;ro, ana;3',
  'S27;01/19/2027;Abies koreana;Abies nordmanniana;1,200;;;;tent;ana;4',
  '26B;2/2/2027;Picea pungens;Picea abies;25;26;;;tent;ana;4',
  '27P;2/3/2027;Picea pungens;Picea abies;50;41;;;yard;ana;4',
  '',
].join('\r\n')}`;

export const rowABatchLog = `# imported from batches.csv
# batch B27P: “27P” in the sheet
# Takes and losses without a day in the sheet stand on 2027-11-25.
# The sheet has no numbers for S27: they are given row by row.

place    frame
place    tent
place    yard
batch    K26   Pinus parviflora / Pinus thunbergii  in frame
batch    S27   Abies koreana / Abies nordmanniana  in tent
batch    B27P  Picea pungens / Picea abies  in yard

2026-10-09
graft    K26 x40  by mk
2027-01-18
graft    S27.1..300  by ro,ana  "Shelf: 3"
2027-01-19
graft    S27.301..1500  by ana  "Shelf: 4"
2027-02-03
graft    B27P x50  by ana  "Shelf: 4"
2027-11-25
take     K26 x31
fail     K26 x7  dried
fail     K26 x2  rotted
take     S27.1..300 x262
fail     S27.1..300 x20  rotted
take     B27P x41
`;

/** Ambiguous dates, stray quotation marks, cells that look like formulas, line breaks, a name of 300 characters, a title. */
export const longName = `Pinus sylvestris var. ${'verylong'.repeat(35)}`.slice(0, 300).padEnd(300, 'g');
export const messy = `Grafting at Drumlin Lane,,,,,,,,
,,,,,,,,
Date,Variety,Root stock,No.,Taken,Remarks,Tie,Who did it,
3/4/2024,Hoopsii,Picea abies,1,Y,"set low,
on the north side",rubber,M. K.,
3/5/2024,"Picea pungens ""Hoopsii""",Norway spruce,2,n - dried,=cmd|' /C calc'!A0,"5"" tape",mk,extra note
4/4/2024,Kokonoe,Pinus thunbergii,3,?,-,raffia,mk,
5/4/2024,${longName},Pinus thunbergii,4,maybe,@SUM(1+1),"green ""stretch"" film",mk,
6/4/24,Pinus mugo,"Pinus sylvestris,5,yes,a stray quote,raffia,mk,
31/02/2024,Pinus mugo,Pinus sylvestris,6,yes,,raffia,mk,
45574,Pinus mugo,Pinus sylvestris,7,yes,,raffia,mk,
spring,Pinus mugo,Pinus sylvestris,8,yes,+1 for the shade,raffia,mk,
7/4/2024,Pinus mugo,Pinus sylvestris,9,N,+1 for the shade,raffia,mk,
`;

export const messyLog = `# imported from messy.csv
# Grafting at Drumlin Lane
# Takes and losses without a day in the sheet stand on 2025-06-01.
# The sheet names no batches: grafts of one pair, method and year are one.

batch    B24
batch    P24   Picea pungens 'Hoopsii'  tie "5"" tape"
batch    P24b  Pinus mugo / Pinus sylvestris  tie raffia

2024-03-04
graft    B24.1  tie rubber  by M-K  "Variety: Hoopsii; Root stock: Picea abies; set low, / on the north side"
2024-03-05
graft    P24.2  by mk  "Root stock: Norway spruce; =cmd|' /C calc'!A0; column 9: extra note"
2024-04-04
graft    B24.3  tie raffia  by mk  "Variety: Kokonoe; Root stock: Pinus thunbergii"
2024-05-04
graft    B24.4  tie "green ""stretch"" film"  by mk  "Variety: ${longName}; Root stock: Pinus thunbergii; Taken: maybe; @SUM(1+1)"
2024-07-04
graft    P24b.9  by mk  "+1 for the shade"
2025-06-01
take     B24.1
fail     P24.2   dried
fail     P24b.9
`;

export const messyLeft = `Date,Variety,Root stock,No.,Taken,Remarks,Tie,Who did it,,why left
6/4/24,Pinus mugo,"""Pinus sylvestris",5,yes,a stray quote,raffia,mk,,"its quotation marks don't match, so its cells can't be told apart"
31/02/2024,Pinus mugo,Pinus sylvestris,6,yes,,raffia,mk,,'31/02/2024' is no day of any year
45574,Pinus mugo,Pinus sylvestris,7,yes,,raffia,mk,,'45574' is a spreadsheet's own number for a day: show the column as dates and save the sheet again
spring,Pinus mugo,Pinus sylvestris,8,yes,+1 for the shade,raffia,mk,,'spring' is no date
`;
