//! The pages that the packet prints, shown as blocks: pictures, tables, steps. So whatever a stage prints can be
//! seen here too.

use std::collections::BTreeMap;

use dryfit_drawing::{Drawing, views};
use dryfit_packet::{Body, CostRow, FieldCount, FieldRow, PacketData, Page, Setting, Span, Total, Words};
use serde::Serialize;

use super::Room;
use super::finding::{Card, cards};
use super::layout::{View, everything_held};
use super::number::{Held, Run, rich};
use super::picture::{Picture, picture};
use crate::open::Project;

/// A page of leaves, one of them open.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct LeafPage {
    /// One plain line.
    pub line: Vec<Run>,
    /// The leaves.
    pub views: Vec<View>,
    /// The one that is open.
    pub view: String,
    /// What lies beside the open one: sheets of the same good, doors of the same unit.
    pub among: Vec<View>,
    /// Its blocks.
    pub leaf: Option<Leaf>,
    /// Findings on this page.
    pub findings: Vec<Card>,
    /// What a line of a receipt may be; on Costs alone.
    pub goods: Vec<View>,
}

/// One leaf.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Leaf {
    /// What it is asked for by.
    pub key: String,
    /// Its name.
    pub name: String,
    /// What it stands on.
    pub line: Vec<Run>,
    /// What all of it waits for.
    pub held: Vec<Run>,
    /// What is on it.
    pub blocks: Vec<Block>,
    /// Why a size is what it is.
    pub why: Vec<Vec<Run>>,
}

/// A block of a leaf.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Block {
    /// A heading.
    Heading(String),
    /// A drawing.
    Picture(Picture),
    /// A table.
    Table(Table),
    /// Steps in order.
    Steps(Vec<Vec<Run>>),
    /// Lines.
    Lines(Vec<Vec<Run>>),
}

/// A table.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Table {
    /// What it holds, for those who cannot see it.
    pub caption: String,
    /// The heads of its columns.
    pub head: Vec<String>,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// A row of a table.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Row {
    /// Its cells.
    pub cells: Vec<Vec<Run>>,
    /// The leaf that it leads to.
    pub to: Option<String>,
}

/// The leaves of a page of the register, the one asked for open; `page` is the page's key.
pub fn leaf_page(project: &Project, packet: &PacketData, page: &str, view: &str, room: Room) -> LeafPage {
    let shelf: Vec<&Page> = packet.pages.iter().filter(|leaf| shelf_of(leaf) == Some(page)).collect();
    let listed = |leaf: &&&Page| !leaf.key.starts_with("part/") && !leaf.key.ends_with("/steps");
    let open = shelf.iter().find(|leaf| leaf.key == view).or_else(|| shelf.iter().find(|leaf| listed(leaf)));
    let mut views: Vec<View> = Vec::new();
    let mut among: Vec<View> = Vec::new();
    let group = open.map(|leaf| group_of(leaf));
    for leaf in shelf.iter().filter(listed) {
        let (key, name) = (leaf.key.clone(), short(project, leaf));
        if group.as_deref() == Some(&group_of(leaf)) {
            among.push(View { key: key.clone(), name: name.1.clone() });
        }
        if !views.iter().any(|known| known.name == name.0) {
            views.push(View { key, name: name.0 });
        }
    }
    if among.len() < 2 {
        among.clear();
    }
    let held = everything_held(project);
    let leaf = open.map(|leaf| {
        let mut made = leaf_of(packet, leaf, &held);
        if let Some(drawing) = drawn(project, leaf, room) {
            made.blocks.insert(0, Block::Picture(picture(&drawing, &held)));
        }
        // a unit whose steps are printed on a page of their own has them here beside its parts
        if let Some(steps) = shelf.iter().find(|other| other.key == format!("{}/steps", leaf.key)) {
            let blocks = leaf_of(packet, steps, &held).blocks.into_iter();
            made.blocks.extend(blocks.filter(|block| !matches!(block, Block::Picture(_))));
        }
        made
    });
    let line = match (page, leaf.as_ref()) {
        (_, Some(leaf)) => [rich(&format!("{}: ", leaf.name)), leaf.line.clone()].concat(),
        ("surfaces", None) => rich("nothing is laid, faced or painted in this plan yet"),
        ("rough-in", None) => rich("no pipe, duct or cable is stated in this plan yet"),
        ("order", None) => rich("nothing is stated about your days yet"),
        ("costs", None) => rich("no receipt is entered yet"),
        _ => rich("nothing stands in the room yet: place it on Layout"),
    };
    LeafPage {
        line,
        views,
        view: leaf.as_ref().map(|leaf| leaf.key.clone()).unwrap_or_default(),
        among,
        findings: cards(project).into_iter().filter(|card| card.page == page).collect(),
        leaf,
        goods: if page == "costs" { goods(project) } else { Vec::new() },
    }
}

/// All goods, by name.
fn goods(project: &Project) -> Vec<View> {
    let goods = project.plan.goods.iter();
    let mut all: Vec<View> =
        goods.map(|(key, good)| View { key: key.to_string(), name: good.name.clone() }).collect();
    all.sort_by(|a, b| a.name.cmp(&b.name));
    all
}

/// The page of the register on which a printed page is shown.
fn shelf_of(leaf: &Page) -> Option<&'static str> {
    Some(match &leaf.body {
        Body::Unit(_) | Body::Part(_) | Body::Door(_) => "casework",
        Body::Sheet(_) | Body::Board(_) | Body::CutList(_) => "cut-list",
        Body::RoughIn(_) => "rough-in",
        Body::Worktop(_) | Body::Lists(_) | Body::Field(_) => "surfaces",
        Body::Buy(_) => "buying",
        Body::Order(_) | Body::Bars(_) => "order",
        Body::Costs(_) => "costs",
        Body::Cover(_) => "packet",
        Body::Room(_) | Body::Wall(_) | Body::Findings(_) => return None,
    })
}

/// What a leaf belongs to: its unit, or its good.
fn group_of(leaf: &Page) -> String {
    leaf.key.split('/').nth(1).unwrap_or(&leaf.key).to_owned()
}

/// The drawing of a leaf, as large as there is room for it.
fn drawn(project: &Project, leaf: &Page, room: Room) -> Option<Drawing> {
    let (plan, derived) = (&project.plan, &project.derived);
    if matches!(leaf.body, Body::Cover(_)) {
        return views::isometric(plan, derived, room.frame());
    }
    // whatever else is printed brings its drawing with it
    if !matches!(leaf.body, Body::Unit(_) | Body::Part(_) | Body::Door(_) | Body::Sheet(_)) {
        return None;
    }
    let key = match leaf.key.split('/').collect::<Vec<_>>().as_slice() {
        // pages count from nothing, pictures from one
        ["sheet", good, index, ..] => format!("sheet/{good}/{}", index.parse::<usize>().ok()? + 1),
        _ => leaf.key.clone(),
    };
    let height = if key.starts_with("sheet/") { room.height.min(460.0) } else { room.height };
    let wanted = views::all(plan, derived).into_iter().find(|one| one.key == key)?;
    wanted.draw(Room { height, ..room }.frame())
}

/// What a leaf is called: what it belongs to, and it among those.
fn short(project: &Project, leaf: &Page) -> (String, String) {
    let parts: Vec<&str> = leaf.key.split('/').collect();
    let good = |key: &str| {
        let found = project.plan.goods.iter().find(|(known, _)| known.as_str() == key);
        found.map_or_else(
            || key.to_owned(),
            |(_, good)| match &good.form {
                dryfit_plan::Form::Sheet(sheet) => {
                    format!("{} {}", super::number::bare(sheet.nominal), good.name)
                }
                _ => good.name.clone(),
            },
        )
    };
    let number =
        |index: &str| index.parse::<usize>().map_or_else(|_| index.to_owned(), |at| (at + 1).to_string());
    match (&leaf.body, parts.as_slice()) {
        (Body::Unit(_), ["unit", unit]) => ((*unit).to_owned(), "box".to_owned()),
        (Body::Unit(_), _) => ("fillers".to_owned(), "all".to_owned()),
        (Body::Door(_), [_, unit, front, ..]) => ((*unit).to_owned(), front.replace('.', " ")),
        (Body::Sheet(_), ["sheet", key, index, rest @ ..]) => {
            let more = if rest.is_empty() { "" } else { ", cuts" };
            (good(key), format!("sheet {}{more}", number(index)))
        }
        (Body::Board(_), [_, key, index, ..]) => (good(key), format!("page {}", number(index))),
        (Body::RoughIn(_), [_, wall]) => {
            let name = leaf.name.strip_prefix("Rough-in, ").unwrap_or(&leaf.name);
            ((*wall).to_owned(), name.to_owned())
        }
        (Body::CutList(_), _) => ("All parts".to_owned(), "All parts".to_owned()),
        _ => (leaf.name.clone(), leaf.name.clone()),
    }
}

fn leaf_of(packet: &PacketData, page: &Page, held: &BTreeMap<String, Held>) -> Leaf {
    let see = Seen { packet, held };
    Leaf {
        key: page.key.clone(),
        name: page.name.clone(),
        line: see.runs(&page.inputs),
        held: see.runs(&page.held),
        blocks: see.blocks(page),
        why: page.why.iter().map(|words| see.runs(words)).collect(),
    }
}

struct Seen<'a> {
    packet: &'a PacketData,
    held: &'a BTreeMap<String, Held>,
}

impl Seen<'_> {
    fn runs(&self, words: &Words) -> Vec<Run> {
        let mut runs = Vec::new();
        for span in words.spans() {
            match span {
                Span::Plain(text) => runs.extend(rich(text)),
                Span::Strong(text) => runs.push(Run::Strong(text.clone())),
                Span::Struck(text) => runs.push(Run::Struck(text.clone())),
                Span::Balloon(number) => runs.push(Run::Ring(*number)),
                Span::Gate(number) => runs.push(Run::Gate(*number)),
                Span::Pages(keys) => {
                    let names: Vec<&str> = keys.iter().filter_map(|key| self.name(key)).collect();
                    if !names.is_empty() {
                        runs.extend(rich(&format!(" {}", names.join(", "))));
                    }
                }
            }
        }
        runs
    }

    fn name(&self, key: &str) -> Option<&str> {
        self.packet.pages.iter().find(|page| page.key == key).map(|page| page.name.as_str())
    }

    fn picture(&self, drawing: Option<&Drawing>) -> Option<Block> {
        drawing.map(|drawing| Block::Picture(picture(drawing, self.held)))
    }

    fn lines(&self, all: &[Words]) -> Option<Block> {
        (!all.is_empty()).then(|| Block::Lines(all.iter().map(|words| self.runs(words)).collect()))
    }

    fn steps(&self, all: &[Words]) -> Option<Block> {
        (!all.is_empty()).then(|| Block::Steps(all.iter().map(|words| self.runs(words)).collect()))
    }

    fn table(caption: &str, head: &[&str], rows: Vec<(Vec<Vec<Run>>, Option<String>)>) -> Option<Block> {
        let rows: Vec<Row> = rows.into_iter().map(|(cells, to)| Row { cells, to }).collect();
        (!rows.is_empty()).then(|| {
            Block::Table(Table {
                caption: caption.to_owned(),
                head: head.iter().map(|head| (*head).to_owned()).collect(),
                rows,
            })
        })
    }

    fn settings(&self, settings: &[Setting]) -> Option<Block> {
        let row = |one: &Setting| {
            (vec![rich(&one.cuts), rich(&one.way), rich(&one.fence), self.runs(&one.gives)], None)
        };
        let rows = settings.iter().map(row).collect();
        Seen::table("cuts, by setting", &["Cut", "way", "fence", "gives"], rows)
    }

    /// Everything on a page, in the order in which it is read.
    fn blocks(&self, page: &Page) -> Vec<Block> {
        let mut blocks: Vec<Option<Block>> = Vec::new();
        match &page.body {
            Body::Unit(unit) => {
                blocks.push(self.picture(unit.drawing.as_ref()));
                let rows = unit.parts.iter().map(|part| {
                    let cells = vec![
                        vec![Run::Ring(part.balloon)],
                        vec![Run::Strong(part.name.clone())],
                        rich(&part.size),
                        rich(&part.count.to_string()),
                        rich(&part.good_face),
                        rich(&part.front_edge),
                        self.runs(&part.note),
                    ];
                    let to = part.note.spans().iter().find_map(|span| match span {
                        Span::Pages(keys) => keys.first().cloned(),
                        _ => None,
                    });
                    (cells, to)
                });
                let head = ["", "Part", "long \u{d7} wide", "how many", "good face", "front edge", "note"];
                blocks.push(Seen::table("parts", &head, rows.collect()));
                if !unit.steps.is_empty() {
                    blocks.push(Some(Block::Heading("Putting it together".into())));
                }
                blocks.push(self.steps(&unit.steps));
            }
            Body::RoughIn(wall) => {
                blocks.push(self.picture(wall.drawing.as_ref()));
                let rows = wall.rows.iter().map(|row| {
                    let cells =
                        [&row.sign, &row.what, &row.along, &row.up, &row.from_floor, &row.deep, &row.note];
                    (cells.map(|cell| rich(cell)).into(), None)
                });
                let head = ["", "Outlet", "along", "up", "from the floor", "deep", "note"];
                blocks.push(Seen::table("outlets, to centres", &head, rows.collect()));
                blocks.push(self.lines(&wall.notes));
                blocks.push(Some(Block::Heading("Before you start, before you close".into())));
                blocks.push(Some(Block::Lines(wall.caution.iter().map(|line| rich(line)).collect())));
            }
            Body::Part(part) => {
                blocks.push(self.picture(part.drawing.as_ref()));
                blocks.push(self.steps(&part.notes));
            }
            Body::Door(door) => {
                blocks.push(self.picture(door.drawing.as_ref()));
                blocks.push(self.picture(door.section.as_ref()));
                let rows = door.parts.iter().map(|part| {
                    let cells = vec![
                        rich(&part.label),
                        self.runs(&part.name),
                        rich(&part.size),
                        rich(&part.count.to_string()),
                    ];
                    (cells, None)
                });
                blocks.push(Seen::table(
                    "parts",
                    &["", "Part", "long \u{d7} wide", "how many"],
                    rows.collect(),
                ));
                blocks.push(Some(Block::Lines(vec![rich(&door.goods)])));
                blocks.push(self.steps(&door.steps));
            }
            Body::Sheet(sheet) => {
                blocks.push(self.picture(sheet.drawing.as_ref()));
                blocks.push(self.settings(&sheet.settings));
                blocks.push(self.lines(&sheet.offcuts));
                blocks.push(
                    self.lines(std::slice::from_ref(&sheet.legend)).filter(|_| !sheet.legend.is_empty()),
                );
            }
            Body::Board(board) => {
                for bar in &board.bars {
                    blocks.push(Some(Block::Heading(bar.name.clone())));
                    blocks.push(self.picture(bar.drawing.as_ref()));
                    blocks.push(self.settings(&bar.settings));
                    blocks.push(self.lines(&bar.notes));
                }
            }
            Body::CutList(list) => {
                for group in &list.groups {
                    blocks.push(Some(Block::Heading(group.good.clone())));
                    let rows = group.rows.iter().map(|row| {
                        let cells = vec![
                            rich(&row.count.to_string()),
                            self.runs(&row.what),
                            rich(&row.length),
                            rich(&row.width),
                        ];
                        (cells, row.pages.first().cloned())
                    });
                    let head = ["how many", "Piece", "long", "wide"];
                    blocks.push(Seen::table(&format!("pieces of {}", group.good), &head, rows.collect()));
                }
            }
            Body::Buy(buy) => {
                for aisle in &buy.aisles {
                    blocks.push(Some(Block::Heading(format!("{}, {}", aisle.name, aisle.total))));
                    let rows = aisle.rows.iter().map(|row| {
                        let look = row.look_for.as_ref().map(|look| format!("; {look}")).unwrap_or_default();
                        let cells = vec![
                            rich(&row.packs.to_string()),
                            rich(&row.what),
                            [self.runs(&row.why), rich(&look)].concat(),
                            rich(&row.about),
                        ];
                        (cells, None)
                    });
                    let head = ["how many", "What", "what for", "about"];
                    blocks.push(Seen::table(&aisle.name, &head, rows.collect()));
                }
                blocks.push(self.lines(&buy.notes));
            }
            Body::Cover(cover) => {
                blocks.push(self.lines(&cover.stops));
                blocks.push(self.picture(cover.drawing.as_ref()));
                let pages = |keys: &[String]| {
                    let names: Vec<&str> = keys.iter().filter_map(|key| self.name(key)).collect();
                    rich(&names.join(", "))
                };
                for (heading, tasks) in [("Cut these today", &cover.today), ("In the room", &cover.room)] {
                    if !tasks.is_empty() {
                        blocks.push(Some(Block::Heading(heading.into())));
                    }
                    let rows =
                        tasks.iter().map(|task| (vec![self.runs(&task.what), pages(&task.pages)], None));
                    blocks.push(Seen::table(heading, &["What", "its pages"], rows.collect()));
                }
                if !cover.held.is_empty() {
                    blocks.push(Some(Block::Heading("Held back".into())));
                }
                let rows =
                    cover.held.iter().map(|held| (vec![self.runs(&held.what), self.runs(&held.until)], None));
                blocks.push(Seen::table("held back", &["What", "until"], rows.collect()));
            }
            Body::Worktop(top) => {
                blocks.push(self.picture(top.drawing.as_ref()));
                blocks.push(self.lines(&top.notes));
            }
            Body::Field(field) => {
                blocks.push(self.picture(field.drawing.as_ref()));
                blocks.push(self.lines(std::slice::from_ref(&field.caption)));
                let row = |row: &FieldRow| {
                    ([&row.name, &row.pieces, &row.from, &row.to].map(|cell| rich(cell)).into(), None)
                };
                let heads: Vec<&str> = field.heads.iter().map(String::as_str).collect();
                blocks.push(Seen::table("what is cut", &heads, field.rows.iter().map(row).collect()));
                let row = |row: &FieldCount| (vec![rich(&row.what), rich(&row.count)], None);
                blocks.push(Seen::table("counts", &["", "how many"], field.counts.iter().map(row).collect()));
                blocks.push(self.lines(&field.notes));
            }
            Body::Bars(bars) => {
                blocks.push(self.picture(bars.drawing.as_ref()));
                blocks.push(self.lines(std::slice::from_ref(&bars.legend)));
            }
            Body::Costs(costs) => {
                let said =
                    |total: &Total| [rich(&format!("{} ", total.figure)), self.runs(&total.label)].concat();
                blocks.push(Some(Block::Lines(costs.head.iter().map(said).collect())));
                blocks.push(self.picture(costs.drawing.as_ref()));
                let row = |row: &CostRow| {
                    let cells = [&row.name, &row.planned, &row.paid, &row.to_pay, &row.over];
                    (cells.map(|cell| rich(cell)).into(), None)
                };
                let head = ["", "planned", "paid", "still to pay", "over the plan"];
                let rows = costs.rows.iter().chain(&costs.sums).map(row).collect();
                blocks.push(Seen::table("planned and paid, by category", &head, rows));
                for aside in &costs.asides {
                    blocks.push(Some(Block::Heading(aside.heading.clone())));
                    let row = |(what, money): &(Words, String)| (vec![self.runs(what), rich(money)], None);
                    let rows = aside.lines.iter().map(row).collect();
                    blocks.push(Seen::table(&aside.heading, &["What", "how much"], rows));
                }
                blocks.push(Some(Block::Lines(costs.totals.iter().map(said).collect())));
            }
            Body::Lists(lists) => {
                for list in &lists.tables {
                    let row = |row: &Vec<Words>| (row.iter().map(|cell| self.runs(cell)).collect(), None);
                    let heads: Vec<&str> = list.heads.iter().map(String::as_str).collect();
                    blocks.push(Some(Block::Heading(list.heading.clone())));
                    blocks.push(Seen::table(&list.heading, &heads, list.rows.iter().map(row).collect()));
                    blocks.push(self.lines(&list.notes));
                }
            }
            Body::Order(order) => {
                let rows = order.rows.iter().map(|row| {
                    let number = if row.number > 0 {
                        format!("{} {}", row.sort, row.number)
                    } else {
                        row.sort.to_owned()
                    };
                    let says: Vec<&str> =
                        [(row.two, "two people"), (row.critical, "may not slip"), (row.done, "done")]
                            .into_iter()
                            .filter_map(|(so, says)| so.then_some(says))
                            .collect();
                    let cells = vec![
                        rich(&row.day),
                        rich(&number),
                        self.runs(&row.what),
                        rich(&row.hours),
                        rich(&says.join(", ")),
                    ];
                    (cells, None)
                });
                let head = ["day", "", "What", "hours", ""];
                blocks.push(Seen::table("the order of work", &head, rows.collect()));
                if !order.order_by.is_empty() {
                    blocks.push(Some(Block::Heading("Order by".into())));
                    blocks.push(self.lines(&order.order_by));
                }
            }
            Body::Room(_) | Body::Wall(_) | Body::Findings(_) => {}
        }
        blocks.into_iter().flatten().collect()
    }
}
