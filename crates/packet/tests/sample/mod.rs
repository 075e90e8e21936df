//! A packet of invented pages, one of every kind, to try the template on.
#![allow(dead_code, reason = "each test file takes what it needs")]

use dryfit_drawing::{Anchor, Drawing, HatchKind, Mark, Pen, Point, Shape, Stroke, Weight, Words as Run};
use dryfit_measure::{Fineness, Length, Toward};
use dryfit_packet::*;

fn mark(shape: Shape) -> Mark {
    Mark { layer: "sample", about: None, shape }
}

fn line(points: &[Point], closed: bool, pen: Pen, stroke: Stroke) -> Mark {
    mark(Shape::Line { points: points.to_vec(), closed, pen, stroke, paper: false })
}

fn figure(length: Length) -> Run {
    Run::Figure(length.figure(Fineness::In64, Toward::Nearest))
}

fn text(at: Point, words: Vec<Run>, size: f64, turn: f64) -> Mark {
    mark(Shape::Text { at, words, size, weight: Weight::Bold, anchor: Anchor::Centre, turn, halo: true })
}

/// Every mark there is, and a bar of 6 in both ways at full size when `bar` says so.
pub fn drawing(width: f64, height: f64) -> Drawing {
    let scale = (width / 1000.0).min(height / 720.0);
    let marks = vec![
        line(&[[0.0, 0.0], [900.0, 0.0], [900.0, 600.0], [0.0, 600.0]], true, Pen::Heavy, Stroke::Solid),
        mark(Shape::Hatch { kind: HatchKind::Cut, lines: vec![[[0.0, 0.0], [100.0, 100.0]]] }),
        mark(Shape::Hatch { kind: HatchKind::Along, lines: Vec::new() }),
        line(&[[0.0, 300.0], [900.0, 300.0]], false, Pen::Thin, Stroke::Chain),
        line(&[[0.0, 0.0], [900.0, 600.0]], false, Pen::Hair, Stroke::Dots),
        line(&[[50.0, 50.0], [50.0, 500.0]], false, Pen::Named, Stroke::Dash),
        text([300.0, 400.0], vec![Run::Plain("side".into()), figure(Length::inches(22, 13, 16))], 19.0, 0.0),
        text([500.0, 300.0], vec![figure(-Length::inches(0, 3, 16))], 16.0, 33.0),
        text([0.0, -60.0], vec![figure(Length::ZERO)], 16.0, 0.0),
        text([860.0, 300.0], vec![Run::Plain("FRONT EDGE".into())], 13.0, 90.0),
        mark(Shape::Hook { at: [0.0, -30.0], turn: 0.0 }),
        mark(Shape::Hook { at: [-30.0, 0.0], turn: 90.0 }),
        mark(Shape::Balloon { at: [600.0, 400.0], number: 10 }),
        mark(Shape::Dot { at: [640.0, 350.0] }),
        mark(Shape::Flag { at: [400.0, 500.0], number: 13 }),
        mark(Shape::FaceMark { at: [150.0, 300.0], size: 30.0 }),
        mark(Shape::Grain { at: [700.0, 150.0], length: 60.0, turn: 90.0 }),
        mark(Shape::Circle { at: [100.0, 500.0], radius: 20.0, pen: Pen::Thin, stroke: Stroke::Solid }),
        mark(Shape::Arc {
            at: [700.0, 0.0],
            radius: 100.0,
            from: 0.0,
            to: 1.57,
            pen: Pen::Thin,
            stroke: Stroke::Dash,
        }),
        mark(Shape::Fill { points: vec![[500.0, 550.0], [540.0, 550.0], [520.0, 500.0]] }),
    ];
    Drawing {
        alt: "a sample with every mark: side 22 13/16".into(),
        extent: [[-70.0, -90.0], [930.0, 630.0]],
        points_per_mm: scale,
        marks,
        table: Vec::new(),
    }
}

/// The sizes that stand in the tables of [`packet`]; each has to be found again by its page.
pub const SIZES: [(usize, &str); 6] = [
    (4, "35 1/4 × 22 1/4"),
    (6, "47 5/8"),
    (7, "31 1/4"),
    (8, "17 1/8 × 2 1/4"),
    (9, "21 13/16"),
    (2, "98 3/4"),
];

fn reading(number: u32) -> ReadingRow {
    let aside = number == 7;
    ReadingRow {
        number,
        what: "lane wall, up 36".into(),
        taped: if aside { "98 3/4" } else { "97 1/8" }.into(),
        off: if aside { Words::bold("6 for 8?") } else { "+1/32".into() },
        set_aside: aside,
    }
}

fn page(key: &str, name: &str, inputs: &str, body: Body) -> Page {
    Page::new(key, name, inputs, body)
}

/// One page of every kind; `rows` rows in the cut list.
pub fn packet(paper: Paper, rows: usize) -> PacketData {
    let cover = Cover {
        stops: vec!["t1 long tools does not tip up: 3/16 in short".into()],
        today: vec![Task {
            what: Words::bold("b1").plain(" pots: box and frame"),
            pages: vec!["unit/b1".into(), "part/b1".into()],
        }],
        room: vec![Task { what: "level lines, garden wall".into(), pages: vec!["wall/BC".into()] }],
        held: vec![
            HeldBack {
                what: Words::bold("u1").plain(" jars"),
                until: "lane wall: lean between 56 and 84 up".into(),
                gate: None,
                pages: vec![],
                blank: true,
            },
            HeldBack {
                what: Words::bold("b1").plain(" doors"),
                until: "openings as built".into(),
                gate: Some(1),
                pages: vec!["unit/b1".into()],
                blank: false,
            },
        ],
        totals: vec![
            Total { figure: "3".into(), label: "sheets".into() },
            Total { figure: "$697".into(), label: Words::from("to buy, ").pages(["buy".to_owned()]) },
        ],
        drawing: Some(drawing(330.0, 330.0)),
    };
    let room = Room {
        drawing: Some(drawing(540.0, 300.0)),
        caption: "Corners: gap at the end of a 24 blade.".into(),
        readings: (1..=15).map(reading).collect(),
    };
    let wall = Wall {
        drawing: Some(drawing(540.0, 420.0)),
        steps: vec![Words::from("All other lines from L0, ").strong("never from the floor").plain(".")],
    };
    let unit = Unit {
        drawing: Some(drawing(310.0, 320.0)),
        steps: vec![
            Words::from("Glue ").with(Span::Balloon(3)).plain(" into ").with(Span::Balloon(1)).plain("."),
            Words::bold("Check diagonals: equal"),
        ],
        parts: vec![PartRow {
            balloon: 1,
            name: "side, LEFT".into(),
            size: "35 1/4 × 22 1/4".into(),
            good_face: "inside".into(),
            front_edge: "35 1/4".into(),
            count: 1,
            note: Words::new().pages(["part/b1".to_owned()]),
        }],
    };
    let part = Part { drawing: Some(drawing(500.0, 460.0)), notes: vec![Words::bold("b, c, d, then a.")] };
    let sheet = Sheet {
        settings: vec![Setting {
            fence: "47 5/8".into(),
            cuts: "1".into(),
            gives: "clean edge".into(),
            way: "rip".into(),
        }],
        drawing: Some(drawing(540.0, 290.0)),
        legend: "thick edge: first against the fence".into(),
        offcuts: vec![Words::bold("Keep: ").plain("O1 2 7/8 × 96")],
    };
    let board = Board {
        bars: vec![Bar {
            name: "Board 1".into(),
            drawing: Some(drawing(300.0, 90.0)),
            settings: (0..9)
                .map(|i| Setting {
                    fence: "31 1/4".into(),
                    cuts: i.to_string(),
                    gives: "b1 stile".into(),
                    way: "cross".into(),
                })
                .collect(),
            notes: vec![Words::new().with(Span::Gate(1)).plain(" leave until then: all of it")],
        }],
    };
    let door = Door {
        drawing: Some(drawing(280.0, 330.0)),
        section: Some(drawing(190.0, 140.0)),
        steps: vec!["Rails: ends first, then edges.".into()],
        goods: "hardwood 3/4".into(),
        parts: vec![DoorRow {
            label: "3".into(),
            name: "rail".into(),
            count: 2,
            size: "17 1/8 × 2 1/4".into(),
        }],
    };
    let pieces = (0..rows).map(|i| PieceRow {
        count: 2,
        what: format!("b{i} back").into(),
        length: "21 13/16".into(),
        width: "29 15/16".into(),
        over_bands: String::new(),
        pages: vec!["sheet/1".into()],
    });
    let cut_list =
        CutList { groups: vec![CutRows { good: "birch ply 7/32".into(), rows: pieces.collect() }] };
    let buy = Buy {
        aisles: vec![AisleRows {
            name: "Sheets and boards".into(),
            total: "148.00".into(),
            rows: vec![BuyRow {
                packs: 2,
                what: "birch ply 23/32, 48 × 96".into(),
                look_for: Some("measure it: 23/32?".into()),
                why: "3 needed, 1 on hand".into(),
                about: "148.00".into(),
            }],
        }],
        empty: 3,
        notes: vec![Words::bold("Not yet: ").plain("laminate ").with(Span::Gate(2))],
    };
    let findings = Findings {
        rows: ["stop", "look", "note"]
            .map(|severity| FindingRow {
                severity,
                what: "88 7/16 in needed, 88 1/4 in there".into(),
                at: Words::bold("t1").plain(" long tools"),
                because: vec!["diagonal 88 7/16 in".into()],
                source: "follows from the sizes alone".into(),
                fixes: vec!["make it 79 1/2 in high".into()],
                waived: (severity == "note").then(|| "goes in before the ceiling board".into()),
            })
            .into(),
    };
    let mut pages = vec![
        page("cover", "Release 1", "Potting room · only what is true today", Body::Cover(cover)),
        page("room", "The room", "14 readings hold together, 1 set aside", Body::Room(room)),
        page("wall/BC", "Garden wall", "All marks from corner B", Body::Wall(wall)),
        page("unit/b1", "b1  pots", "24 wide · 35 1/4 high", Body::Unit(unit)),
        page("part/b1", "b1 side, LEFT", "35 1/4 × 22 1/4", Body::Part(part)),
        page("sheet/1", "Sheet 1 of 3", "birch ply 48 × 96, measured 23/32", Body::Sheet(sheet)),
        page("boards/1", "Boards", "soft maple 3/4 × 5 1/2", Body::Board(board)),
        page("door/b1", "b1 doors", "20 7/8 × 29 1/4", Body::Door(door)),
        page("cut-list", "Cut list", "good by good", Body::CutList(cut_list)),
        page("buy", "Buy", "2 things", Body::Buy(buy)),
        page("findings", "Findings", "1 stop", Body::Findings(findings)),
    ];
    pages[3].blanks = vec![Blank::planned("opening wide", "19 13/16"), Blank::empty("diagonals differ")];
    pages[3].gate = Some(GateNote { number: 1, text: "type them in: then the doors are released".into() });
    pages[2].why = vec!["clear 96 7/16 = least right edge less greatest left edge".into()];
    PacketData {
        title: "Potting room, release 1".into(),
        project: "Potting room".into(),
        release: 1,
        date: None,
        footing: "inches; birch ply measured 23/32".into(),
        paper,
        pages,
    }
}
