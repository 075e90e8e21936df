// Made from the types of crates/project/src/shown, where each is explained; not to be edited.
// DRYFIT_FRESH=1 cargo test -p dryfit-project fresh

export type Number = { minus: boolean, feet: string | null, whole: string | null, top: string, bottom: string, rounded: string, plain: string, unit: string, };

export type Run = { "text": string } | { "strong": string } | { "struck": string } | { "ring": number } | { "gate": number } | { "number": Number };

export type HeldState = "given" | "about" | "wrong" | "follows";

export type Held = { of: string, at: string | null, what: string, state: HeldState, typed: string, };

export type Picture = { alt: string, width: number, height: number, shapes: Array<Shape>, table: Array<PictureRow>, };

export type PictureRow = { what: string, number: Number, held: Held | null, };

export type Shape = { "kind": "path", d: string, pen: string, stroke: string, fill: string, layer: string, about: string | null, } | { "kind": "text", x: number, y: number, turn: number, anchor: string, size: number, weight: number, width: number, height: number, runs: Array<Run>, layer: string, about: string | null, held: Held | null, } | { "kind": "ring", x: number, y: number, number: number, filled: boolean, layer: string, about: string | null, };

export type Card = { id: string, severity: string, number: number, what: Array<Run>, by: Array<Run> | null, why: Array<Array<Run>>, source: string, about: Array<string>, repairs: Array<Repair>, left: string | null, page: string, };

export type Repair = { number: number, label: Array<Run>, };

export type Frame = { name: string, file: string, moment: number, tag: string, at: string, pages: Array<PageMark>, counts: [number, number, number], sums: Array<Sum>, undo: string | null, redo: string | null, fineness: Array<Run>, };

export type PageMark = { key: string, number: number, name: string, counts: [number, number, number], ruled: boolean, };

export type Sum = { says: Array<Run>, page: string, };

export type Changed = { label: Array<Run>, moved: Array<Moved>, parts: string, said: string, };

export type Moved = { what: string, was: Array<Run>, is: Array<Run>, same: boolean, };

export type HistoryPage = { line: Array<Run>, rows: Array<PastRow>, };

export type PastRow = { moment: number, at: string, label: Array<Run>, standing: string, says: string, };

export type Slip = { of: string, deeper: string, title: string, number: Number, doubt: Number | null, how: string, lines: Array<SlipLine>, ends: string, most: Array<Run>, give: Held | null, };

export type SlipLine = { sign: string, number: Number, what: string, source: Array<Run>, held: Held | null, deeper: string | null, };

export type SurveyPage = { line: Array<Run>, picture: Picture | null, caption: Array<Run>, readings: Array<ReadingRow>, findings: Array<Card>, next: Array<[Array<Run>, Array<Run>]>, walk: Walk, };

export type ReadingRow = { key: string, what: Array<Run>, number: Number, before: string, held: Held, how: string, off: Array<Run>, aside: string, };

export type Walk = { corners: Array<string>, closed: boolean, asks: string, walls: Array<[string, string]>, };

export type LayoutPage = { line: Array<Run>, views: Array<View>, view: string, picture: Picture | null, room: Picture | null, findings: Array<Card>, elsewhere: number, bare: Array<Bare>, };

export type View = { key: string, name: string, };

export type Bare = { run: string, wall: string, level: string, name: string, left: Array<Run>, order: Array<View>, offers: Array<Offer>, };

export type Offer = { kind: string, name: string, fits: string, says: Array<Run>, };

export type LeafPage = { line: Array<Run>, views: Array<View>, view: string, among: Array<View>, leaf: Leaf | null, findings: Array<Card>, goods: Array<View>, };

export type Leaf = { key: string, name: string, line: Array<Run>, held: Array<Run>, blocks: Array<Block>, why: Array<Array<Run>>, };

export type Block = { "heading": string } | { "picture": Picture } | { "table": Table } | { "steps": Array<Array<Run>> } | { "lines": Array<Array<Run>> };

export type Table = { caption: string, head: Array<string>, rows: Array<Row>, };

export type Row = { cells: Array<Array<Run>>, to: string | null, };

export type Echo = { number: Number | null, says: Array<Run>, fault_at: number | null, };

export type Wish = { "given": { at: string, text: string, } } | { "repair": { finding: string, number: number, } } | { "leave": { finding: string, why: string, } } | { "aside": { reading: string, why: string, } } | { "walk": { text: string, closes: boolean, } } | { "reading": ReadingWish } | { "receipt": ReceiptWish } | { "place": PlaceWish } | { "shift": { unit: string, by: number, } } | { "marks": { unit: string, by: number, } } | { "left-over": { unit: string, } } | { "out": { key: string, } } | "undo" | "redo" | { "back": { moment: number, } };

export type PlaceWish = { kind: string, wall: string, run: string, after: number, width: string, };

export type ReadingWish = { kind: string, from: string, to: string, along: string, height: string, text: string, };

export type ReceiptWish = { date: string, shop: string, tax: string, total: string, lines: Array<ReceiptLineWish>, };

export type ReceiptLineWish = { good: string, text: string, count: string, money: string, };

export type Start = { folder: string, recent: Array<Recent>, };

export type Recent = { path: string, file: string, near: boolean, };

export type DemoCard = { name: string, title: string, about: string, picture: Picture | null, };

export type Done = { changed: Changed, frame: Frame, };

export type Preview = { changed: Changed, };

export type DryFitPage = { line: Array<Run>, picture: Picture | null, findings: Array<Card>, };
