// Made from the types of crates/project/src/shown by its test `fresh`; not to be edited.
// DRYFIT_FRESH=1 cargo test -p dryfit-project fresh

export type Number = {
/**
 * A minus before it.
 */
minus: boolean,
/**
 * Whole feet; none where it is not in feet and inches.
 */
feet: string | null,
/**
 * The whole number; none where only a fraction is printed.
 */
whole: string | null,
/**
 * The numerator; empty where there is no fraction.
 */
top: string,
/**
 * The denominator.
 */
bottom: string,
/**
 * Which way it was rounded: "up", "down", or nothing where it is exact.
 */
rounded: string,
/**
 * The same in plain text, without its unit: `18 1/16`.
 */
plain: string,
/**
 * Its unit, for those who hear it: "inches".
 */
unit: string, };

export type Run = { "text": string } | { "strong": string } | { "struck": string } | { "ring": number } | { "gate": number } | { "number": Number };

export type HeldState = "given" | "about" | "wrong" | "follows";

export type Held = {
/**
 * What to ask for its reason: `b4.width`; empty for a mere statement.
 */
of: string,
/**
 * Where it is stated, if it is.
 */
at: string | null,
/**
 * What it is, in words: "b4 width".
 */
what: string,
/**
 * How it stands.
 */
state: HeldState,
/**
 * What to begin with when it is typed: `24`.
 */
typed: string, };

export type Picture = {
/**
 * What it shows, for those who cannot see it.
 */
alt: string,
/**
 * Width, pixels.
 */
width: number,
/**
 * Height, pixels.
 */
height: number,
/**
 * What is on it, from the bottom up.
 */
shapes: Array<Shape>,
/**
 * The same numbers in the same order, as a table.
 */
table: Array<PictureRow>, };

export type PictureRow = {
/**
 * What is measured.
 */
what: string,
/**
 * The number.
 */
number: Number,
/**
 * What stands behind it, if it can be pressed.
 */
held: Held | null, };

export type Shape = { "kind": "path",
/**
 * SVG path data.
 */
d: string,
/**
 * heavy, edge, thin, hair, named.
 */
pen: string,
/**
 * solid, dash, dots, chain.
 */
stroke: string,
/**
 * none, paper, ink.
 */
fill: string,
/**
 * The layer.
 */
layer: string,
/**
 * What it stands for: a unit's key, a corner.
 */
about: string | null, } | { "kind": "text",
/**
 * Middle of the capitals' height, at the anchor.
 */
x: number,
/**
 * See `x`.
 */
y: number,
/**
 * Degrees, clockwise.
 */
turn: number,
/**
 * start, middle, end.
 */
anchor: string,
/**
 * Size of the letters.
 */
size: number,
/**
 * 400, 500, 600, 700.
 */
weight: number,
/**
 * About how wide it is set.
 */
width: number,
/**
 * About how high.
 */
height: number,
/**
 * The words.
 */
runs: Array<Run>,
/**
 * The layer.
 */
layer: string,
/**
 * What it stands for.
 */
about: string | null,
/**
 * What stands behind it, if it can be pressed.
 */
held: Held | null, } | { "kind": "ring",
/**
 * Centre.
 */
x: number,
/**
 * Centre.
 */
y: number,
/**
 * The number.
 */
number: number,
/**
 * Filled with ink.
 */
filled: boolean,
/**
 * The layer.
 */
layer: string,
/**
 * What it stands for.
 */
about: string | null, };

export type Card = {
/**
 * What a remedy is asked for by.
 */
id: string,
/**
 * stop, look, note.
 */
severity: string,
/**
 * Its number among those of its severity, as pins carry it.
 */
number: number,
/**
 * What, needed against available.
 */
what: Array<Run>,
/**
 * How short it is, where that is a length.
 */
by: Array<Run> | null,
/**
 * Why: the numbers it rests on.
 */
why: Array<Array<Run>>,
/**
 * Where the rule comes from.
 */
source: string,
/**
 * Keys of what it is about: a pin stands at the first that is drawn.
 */
about: Array<string>,
/**
 * Remedies.
 */
repairs: Array<Repair>,
/**
 * The builder's reason to leave it.
 */
left: string | null,
/**
 * The page where it is mended.
 */
page: string, };

export type Repair = {
/**
 * Its number, as `fix` counts.
 */
number: number,
/**
 * The instruction.
 */
label: Array<Run>, };

export type Frame = {
/**
 * The job's name.
 */
name: string,
/**
 * The file's name.
 */
file: string,
/**
 * The edit it stands at.
 */
moment: number,
/**
 * When that was, as the history has it.
 */
at: string,
/**
 * The pages, in the order of the job.
 */
pages: Array<PageMark>,
/**
 * Open findings: stops, looks, notes.
 */
counts: [number, number, number],
/**
 * The bottom line.
 */
sums: Array<Sum>,
/**
 * What undo takes back.
 */
undo: string | null,
/**
 * What redo does again.
 */
redo: string | null,
/**
 * The finest mark, for the corner: `1/16 in`.
 */
fineness: Array<Run>, };

export type PageMark = {
/**
 * What it is asked for by.
 */
key: string,
/**
 * Its number.
 */
number: number,
/**
 * Its name.
 */
name: string,
/**
 * Open findings on it: stops, looks, notes.
 */
counts: [number, number, number],
/**
 * Whether a line stands above it in the register.
 */
ruled: boolean, };

export type Sum = {
/**
 * What it says.
 */
says: Array<Run>,
/**
 * The page it leads to.
 */
page: string, };

export type Changed = {
/**
 * What was done: "make b4 wider", "taken back: ...".
 */
label: Array<Run>,
/**
 * Sizes, sheets, money, findings, before and after.
 */
moved: Array<Moved>,
/**
 * "11 parts changed".
 */
parts: string,
/**
 * In one sentence, for those who hear it.
 */
said: string, };

export type Moved = {
/**
 * What.
 */
what: string,
/**
 * Before.
 */
was: Array<Run>,
/**
 * After.
 */
is: Array<Run>,
/**
 * Whether nothing changed: it then says "as before".
 */
same: boolean, };

export type HistoryPage = {
/**
 * One plain line.
 */
line: Array<Run>,
/**
 * The moments, newest first.
 */
rows: Array<PastRow>, };

export type PastRow = {
/**
 * Its number.
 */
moment: number,
/**
 * When.
 */
at: string,
/**
 * What it is called.
 */
label: Array<Run>,
/**
 * here, behind, ahead, aside.
 */
standing: string,
/**
 * The same in words; nothing where it simply counts.
 */
says: string, };

export type Slip = {
/**
 * What was asked: `b4.width`.
 */
of: string,
/**
 * The way down from it, for a line that was unfolded: "0.2".
 */
deeper: string,
/**
 * "b4 drawers, width".
 */
title: string,
/**
 * The number.
 */
number: Number,
/**
 * 19 times in 20 it is within so much; none where no reading moves it.
 */
doubt: Number | null,
/**
 * How the lines come to the number: "sum", "least of these", "a share of".
 */
how: string,
/**
 * The lines.
 */
lines: Array<SlipLine>,
/**
 * What was done last: "rounded down to 1/16 in".
 */
ends: string,
/**
 * What moves it most.
 */
most: Array<Run>,
/**
 * Where it can be given instead, if it can.
 */
give: Held | null, };

export type SlipLine = {
/**
 * What stands before it: +, −, 2 ×, or nothing.
 */
sign: string,
/**
 * Its number.
 */
number: Number,
/**
 * What it is.
 */
what: string,
/**
 * Where it comes from: a reading, a rule with its source.
 */
source: Array<Run>,
/**
 * Where it is stated, if it is.
 */
held: Held | null,
/**
 * The way down to its own reason, if it has one.
 */
deeper: string | null, };

export type SurveyPage = {
/**
 * One plain line.
 */
line: Array<Run>,
/**
 * The room from above; none before there are three corners.
 */
picture: Picture | null,
/**
 * What the rings mean.
 */
caption: Array<Run>,
/**
 * Every reading.
 */
readings: Array<ReadingRow>,
/**
 * What does not fit.
 */
findings: Array<Card>,
/**
 * What to measure next: what, and why.
 */
next: Array<[Array<Run>, Array<Run>]>,
/**
 * The walk round the corners.
 */
walk: Walk, };

export type ReadingRow = {
/**
 * Its key.
 */
key: string,
/**
 * What it is of.
 */
what: Array<Run>,
/**
 * As typed.
 */
number: Number,
/**
 * "about ", "out ", "in " before it.
 */
before: string,
/**
 * What stands behind the number.
 */
held: Held,
/**
 * How it was taken: "hook", "plumb line".
 */
how: string,
/**
 * How far off it is from what all of them say together.
 */
off: Array<Run>,
/**
 * Why it is not used; empty where it is.
 */
aside: string, };

export type Walk = {
/**
 * The corners, in the order in which they were met.
 */
corners: Array<string>,
/**
 * Whether it is back at the first.
 */
closed: boolean,
/**
 * What is asked next.
 */
asks: string,
/**
 * Walls as choices for a further reading: key and name.
 */
walls: Array<[string, string]>, };

export type LayoutPage = {
/**
 * One plain line.
 */
line: Array<Run>,
/**
 * The walls.
 */
views: Array<View>,
/**
 * The wall that is looked at.
 */
view: string,
/**
 * It from inside.
 */
picture: Picture | null,
/**
 * The room from above.
 */
room: Picture | null,
/**
 * Findings about what is on this wall.
 */
findings: Array<Card>,
/**
 * Findings about other walls.
 */
elsewhere: number,
/**
 * The runs of this wall, and what could stand in each.
 */
bare: Array<Bare>, };

export type View = {
/**
 * What it is asked for by.
 */
key: string,
/**
 * What it is called.
 */
name: string, };

export type Bare = {
/**
 * The run; empty where there is none yet.
 */
run: string,
/**
 * The wall.
 */
wall: string,
/**
 * "floor" or "hung".
 */
level: string,
/**
 * What it is called.
 */
name: string,
/**
 * What is left: "18 1/16 left".
 */
left: Array<Run>,
/**
 * Its units, left to right.
 */
order: Array<View>,
/**
 * What could stand there.
 */
offers: Array<Offer>, };

export type Offer = {
/**
 * What it is asked for by.
 */
kind: string,
/**
 * What it is called.
 */
name: string,
/**
 * fits, may, not.
 */
fits: string,
/**
 * By how much.
 */
says: Array<Run>, };

export type LeafPage = {
/**
 * One plain line.
 */
line: Array<Run>,
/**
 * The leaves.
 */
views: Array<View>,
/**
 * The one that is open.
 */
view: string,
/**
 * Its blocks.
 */
leaf: Leaf | null,
/**
 * Findings on this page.
 */
findings: Array<Card>, };

export type Leaf = {
/**
 * What it is asked for by.
 */
key: string,
/**
 * Its name.
 */
name: string,
/**
 * What it stands on.
 */
line: Array<Run>,
/**
 * What all of it waits for.
 */
held: Array<Run>,
/**
 * What is on it.
 */
blocks: Array<Block>,
/**
 * Why a size is what it is.
 */
why: Array<Array<Run>>, };

export type Block = { "heading": string } | { "picture": Picture } | { "table": Table } | { "steps": Array<Array<Run>> } | { "lines": Array<Array<Run>> };

export type Table = {
/**
 * What it holds, for those who cannot see it.
 */
caption: string,
/**
 * The heads of its columns.
 */
head: Array<string>,
/**
 * Its rows.
 */
rows: Array<Row>, };

export type Row = {
/**
 * Its cells.
 */
cells: Array<Array<Run>>,
/**
 * The leaf that it leads to.
 */
to: string | null, };

export type Echo = {
/**
 * The number, if it reads as one.
 */
number: Number | null,
/**
 * "reads as 97 1/2 in", or why it does not and what would do.
 */
says: Array<Run>,
/**
 * Where the fault begins, in characters; none where there is none.
 */
fault_at: number | null, };

export type Wish = { "given": {
/**
 * The place.
 */
at: string,
/**
 * What was typed.
 */
text: string, } } | { "repair": {
/**
 * The finding.
 */
finding: string,
/**
 * The remedy, from one.
 */
number: number, } } | { "leave": {
/**
 * The finding.
 */
finding: string,
/**
 * Why.
 */
why: string, } } | { "aside": {
/**
 * The reading.
 */
reading: string,
/**
 * Why; empty to use it again.
 */
why: string, } } | { "walk": {
/**
 * How long it is, as typed.
 */
text: string,
/**
 * Whether it leads back to the first corner.
 */
closes: boolean, } } | { "reading": ReadingWish } | { "place": PlaceWish } | { "shift": {
/**
 * The unit.
 */
unit: string,
/**
 * Places to the right.
 */
by: number, } } | { "marks": {
/**
 * The unit.
 */
unit: string,
/**
 * Marks.
 */
by: number, } } | { "left-over": {
/**
 * The unit.
 */
unit: string, } } | { "out": {
/**
 * Its key.
 */
key: string, } } | "undo" | "redo" | { "back": {
/**
 * Its number.
 */
moment: number, } };

export type PlaceWish = {
/**
 * What: an offer's kind.
 */
kind: string,
/**
 * The wall.
 */
wall: string,
/**
 * The run; empty to begin one.
 */
run: string,
/**
 * How many units of the run stand left of it.
 */
after: number,
/**
 * How wide, as typed; empty for what is left, or its usual width.
 */
width: string, };

export type ReadingWish = {
/**
 * span, diagonal, lean, ceiling, floor.
 */
kind: string,
/**
 * The first corner, or the wall.
 */
from: string,
/**
 * The second corner; empty for what is read at a wall.
 */
to: string,
/**
 * How far along the wall, as typed; empty for what lies between corners.
 */
along: string,
/**
 * At which height, as typed; may be empty.
 */
height: string,
/**
 * What the instrument said, as typed.
 */
text: string, };

export type Start = {
/**
 * The folder where new rooms are kept.
 */
folder: string,
/**
 * What was open before, and other projects in the folder.
 */
recent: Array<Recent>,
/**
 * The demo rooms.
 */
demos: Array<DemoCard>, };

export type Recent = {
/**
 * What it is opened by.
 */
path: string,
/**
 * Its file's name.
 */
file: string,
/**
 * Whether it is in the folder, or elsewhere.
 */
near: boolean, };

export type DemoCard = {
/**
 * What it is asked for by.
 */
name: string,
/**
 * Its title.
 */
title: string,
/**
 * What it shows.
 */
about: string,
/**
 * It from above.
 */
picture: Picture | null, };

export type Done = {
/**
 * What it changed.
 */
changed: Changed,
/**
 * The frame after it.
 */
frame: Frame, };

export type Preview = {
/**
 * What it would change.
 */
changed: Changed, };

export type DryFitPage = {
/**
 * One plain line.
 */
line: Array<Run>,
/**
 * The room from above.
 */
picture: Picture | null,
/**
 * Every finding, gravest first.
 */
findings: Array<Card>, };
