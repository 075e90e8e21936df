//! What tasks are about: the units, goods, walls and surfaces that each recipe makes a task for.

use dryfit_handbook::TaskRecipe;
use dryfit_measure::{Area, Key};
use dryfit_plan::{Service, UnitKind};

use super::Basis;
use crate::casework::BuiltUnit;
use crate::services::Trade;

/// What one task is about.
#[derive(Clone, Debug)]
pub(super) struct Subject {
    /// The second part of the task's name; empty for the whole job.
    pub key: String,
    /// What it is called.
    pub name: String,
    /// How much there is of what its recipe counts, in thousandths.
    pub count: i64,
    /// Whether one person should not lift it.
    pub heavy: bool,
    sort: Sort,
    /// Goods that it is made of.
    of: Vec<Key>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sort {
    Job,
    Unit,
    Good,
    Wall,
    Top,
    Tile,
    Paint,
    Other,
}

impl Subject {
    /// A thing of the builder's own.
    pub fn named(name: &str) -> Subject {
        Subject {
            key: String::new(),
            name: name.to_owned(),
            count: 0,
            heavy: false,
            sort: Sort::Other,
            of: Vec::new(),
        }
    }

    /// What it is called among others of its sort: a unit by its key, the rest by name.
    pub fn short(&self) -> String {
        if self.sort == Sort::Unit { self.key.clone() } else { self.name.clone() }
    }

    /// Whether a task about this has to wait for one about the other: things of one sort wait for their own only.
    pub fn follows(&self, other: &Subject) -> bool {
        match (self.sort, other.sort) {
            (Sort::Unit, Sort::Good) => self.of.iter().any(|good| good.as_str() == other.key),
            (Sort::Unit, Sort::Unit) | (Sort::Wall, Sort::Wall) | (Sort::Top, Sort::Top) => {
                self.key == other.key
            }
            (Sort::Tile, Sort::Tile) | (Sort::Paint, Sort::Paint) => self.key == other.key,
            _ => true,
        }
    }
}

/// The subjects of a recipe in this plan.
pub(super) fn subjects(basis: &Basis<'_>, recipe: &TaskRecipe) -> Vec<Subject> {
    let plan = basis.plan;
    let subject = |key: &Key, name: String, count: i64, sort: Sort| Subject {
        key: key.to_string(),
        name,
        count: count * 1000,
        heavy: false,
        sort,
        of: Vec::new(),
    };
    let unit_name = |key: &Key| {
        let name = plan.units.get(key).and_then(|unit| unit.name.clone());
        name.map_or_else(|| key.to_string(), |name| format!("{key} {name}"))
    };
    let fronts = |built: &BuiltUnit| built.openings.len();
    let by_count = |built: &BuiltUnit| match recipe.per.as_deref() {
        Some("fronts") => fronts(built),
        _ => built.parts.len(),
    };
    let boxes = |keep: &dyn Fn(&BuiltUnit, UnitKind) -> bool| -> Vec<Subject> {
        let built = basis.casework.units.iter();
        built
            .filter_map(|built| {
                let kind = basis.placement.unit(&built.key)?.kind;
                keep(built, kind).then(|| {
                    let mut of: Vec<Key> = built.parts.iter().map(|part| part.good.clone()).collect();
                    of.sort();
                    of.dedup();
                    Subject {
                        heavy: built.mass.as_pounds_f64() > 51.0,
                        of,
                        ..subject(&built.key, unit_name(&built.key), whole(by_count(built)), Sort::Unit)
                    }
                })
            })
            .collect()
    };
    let is_box =
        |kind: UnitKind| !matches!(kind, UnitKind::Filler | UnitKind::EndPanel | UnitKind::FloatingShelf);
    let hangs = |kind: UnitKind| matches!(kind, UnitKind::Wall | UnitKind::FloatingShelf);
    let new = |service: &&Service| !service.is_found();
    let has = |trade: Trade| basis.services.jobs().iter().any(|job| job.trade == trade && !job.found);
    match recipe.each.as_str() {
        "job" => {
            let holds = match recipe.when.as_deref() {
                None => true,
                Some("services") => plan.services.values().any(|service| new(&service)),
                Some("plumbing") => has(Trade::Plumbing),
                Some("wiring") => has(Trade::Wiring),
                Some("fronts") => basis.casework.units.iter().any(|built| fronts(built) > 0),
                Some("tops") => !basis.surfaces.worktops.is_empty(),
                Some("splash") => !splashes(basis).is_empty(),
                Some(_) => false,
            };
            let job = Subject { sort: Sort::Job, ..Subject::named("") };
            if holds { vec![job] } else { Vec::new() }
        }
        "pipe" | "wiring" => {
            let wanted = |trade: Trade| (recipe.each == "pipe") == (trade == Trade::Plumbing);
            let jobs = basis.services.jobs().into_iter().filter(|job| !job.found && wanted(job.trade));
            let named = jobs.map(|job| {
                let service = plan.services.get(&job.key);
                let name = service.and_then(|service| service.name()).unwrap_or(job.key.as_str()).to_owned();
                let nodes = basis.services.run(&job.key).map_or(1, |run| run.nodes.len());
                subject(&job.key, name, whole(nodes), Sort::Other)
            });
            named.collect()
        }
        "opened-wall" => {
            let named = basis.services.opened().into_iter().map(|key| {
                let name = plan.walls.get(&key).and_then(|wall| wall.name.clone());
                // a strip about a metre high is opened
                subject(&key, name.unwrap_or_else(|| format!("wall {key}")), 3, Sort::Wall)
            });
            named.collect()
        }
        "room-paint" => {
            let paints = basis.surfaces.paints.iter().filter(|paint| {
                paint.rows.iter().any(|row| row.of.as_ref().is_none_or(|of| !plan.recipes.contains_key(of)))
            });
            let named = paints.map(|paint| {
                let name = plan.finishes.get(&paint.key).and_then(|finish| finish.name.clone());
                let name = name.unwrap_or_else(|| paint.key.to_string());
                Subject { count: thousandths(paint.area), ..subject(&paint.key, name, 0, Sort::Paint) }
            });
            named.collect()
        }
        "tile-floor" | "tile-wall" => {
            let floor = recipe.each == "tile-floor";
            let beds = basis.surfaces.beds.iter();
            let wall = splashes(basis);
            let named = beds.filter(|bed| floor != wall.contains(&bed.key)).map(|bed| {
                let laid = basis.surfaces.fields.iter().find(|field| field.key == bed.field.key);
                let name = laid.map_or_else(|| bed.key.to_string(), |field| field.name.clone());
                Subject { count: thousandths(bed.field.area), ..subject(&bed.key, name, 0, Sort::Tile) }
            });
            named.collect()
        }
        "plank-field" => {
            let fields = basis.surfaces.fields.iter();
            let named = fields.filter_map(|field| {
                let area = thousandths(field.planks()?.area);
                Some(Subject { count: area, ..subject(&field.key, field.name.clone(), 0, Sort::Tile) })
            });
            named.collect()
        }
        "sheet-good" => {
            let stacks = basis.layouts.sheets.iter().chain(&basis.layouts.boards);
            let own = |path: &str| plan.units.keys().any(|key| path.split('/').next() == Some(key.as_str()));
            stacks
                .filter(|stack| {
                    stack.sheets.iter().flat_map(|sheet| &sheet.pieces).any(|piece| own(&piece.path))
                })
                .map(|stack| {
                    let name =
                        plan.goods.get(&stack.good).map_or(stack.good.to_string(), |good| good.name.clone());
                    let cuts = stack.sheets.iter().map(|sheet| sheet.cuts.len()).sum();
                    subject(&stack.good, format!("{name} ({})", stack.good), whole(cuts), Sort::Good)
                })
                .collect()
        }
        "box" => boxes(&|_, kind| is_box(kind)),
        "fronted-box" => boxes(&|built, kind| is_box(kind) && fronts(built) > 0),
        "finished-box" => boxes(&|built, kind| {
            let recipe = plan.units.get(&built.key).and_then(|unit| unit.recipe.as_ref());
            let mut rows = basis.surfaces.paints.iter().flat_map(|paint| &paint.rows);
            is_box(kind) && recipe.is_some() && rows.any(|row| row.of.as_ref() == recipe)
        }),
        "standing-unit" => boxes(&|_, kind| !hangs(kind)),
        "hung-unit" => boxes(&|_, kind| hangs(kind)),
        "sink-unit" => boxes(&|_, kind| kind == UnitKind::Sink),
        "appliance" => {
            let units = plan.units.iter().filter(|(_, unit)| unit.kind == UnitKind::Appliance);
            units.map(|(key, _)| subject(key, unit_name(key), 1, Sort::Unit)).collect()
        }
        "top" | "faced-top" => {
            let tops = plan.tops.iter().filter(|(_, top)| recipe.each == "top" || top.facing.is_some());
            let named = tops.map(|(key, top)| {
                subject(
                    key,
                    top.name.clone().unwrap_or_else(|| key.to_string()),
                    i64::from(top.layers),
                    Sort::Top,
                )
            });
            named.collect()
        }
        "trim" => {
            let trims = basis.surfaces.trims.iter();
            let named = trims.map(|trim| {
                let name = plan.goods.get(&trim.good).map_or(trim.key.to_string(), |good| good.name.clone());
                subject(&trim.key, name, whole(trim.pieces.len()), Sort::Other)
            });
            named.collect()
        }
        "bead" => {
            let beads = basis.surfaces.beads.iter();
            beads.map(|bead| subject(&bead.key, bead.what.clone(), 1, Sort::Other)).collect()
        }
        _ => Vec::new(),
    }
}

/// Keys of tile that stands on a wall.
/// Beds of tile on a wall; what was counted by hand has no place, and is taken for a floor.
fn splashes(basis: &Basis<'_>) -> Vec<Key> {
    let on_wall = |key: &Key| basis.surfaces.fields.iter().any(|it| it.key == *key && it.wall.is_some());
    let beds = basis.surfaces.beds.iter().filter(|bed| on_wall(&bed.field.key));
    beds.map(|bed| bed.key.clone()).collect()
}

fn thousandths(area: Area) -> i64 {
    (area.as_square_metres_f64() * 1000.0).round() as i64
}

fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}
