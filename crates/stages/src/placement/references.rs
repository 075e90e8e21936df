//! Keys of the plan that name nothing: each a finding, with the key that was probably meant.

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{BeadRun, Edit, End, Front, Height, Level, Plan, TrimKind, Unit};

use crate::finding::{Finding, Fix};
use crate::likely::likely;

/// Every key in units, recipes, runs, worktops and what finishes them that names nothing.
pub(super) fn unknown(plan: &Plan) -> Vec<Finding> {
    let root = Pointer::root();
    let mut look = Look { plan, findings: Vec::new() };
    for (key, recipe) in &plan.recipes {
        let at = root.child("recipes").child(key).child("roles");
        look.roles(&at, key, &recipe.roles);
    }
    for (key, unit) in &plan.units {
        look.unit(&root.child("units").child(key), key, unit);
    }
    for (key, run) in &plan.runs {
        let at = root.child("runs").child(key);
        look.key(Names::Walls, &at.child("along"), key, &run.along);
        for (i, unit) in run.order.iter().enumerate() {
            look.key(Names::Units, &at.child("order").index(i), key, unit);
        }
        look.height(&at.child("height"), key, run.height.as_ref());
        if let Level::AboveTop(top) = &run.level {
            look.key(Names::Tops, &at.child("level").child("above-top"), key, top);
        }
        for (side, end) in [("left", &run.left), ("right", &run.right)] {
            match end {
                End::Corner { with, owner } => {
                    let corner = at.child(side).child("corner");
                    look.key(Names::Runs, &corner.child("with"), key, with);
                    look.key(Names::Runs, &corner.child("owner"), key, owner);
                }
                End::Unit(unit) => look.key(Names::Units, &at.child(side).child("unit"), key, unit),
                End::Wall | End::Free { .. } | End::Open => {}
            }
        }
    }
    for (key, top) in &plan.tops {
        let at = root.child("tops").child(key);
        for (i, run) in top.over.iter().enumerate() {
            look.key(Names::Runs, &at.child("over").index(i), key, run);
        }
        look.key(Names::Goods, &at.child("substrate"), key, &top.substrate);
        if let Some(facing) = &top.facing {
            look.key(Names::Goods, &at.child("facing"), key, facing);
        }
        if let Some(edge) = &top.edge {
            look.key(Names::Goods, &at.child("edge"), key, edge);
        }
        for (role, good) in &top.roles {
            let role = serde_json::to_value(role).expect("a role is written as text");
            let at = at.child("roles").child(role.as_str().unwrap_or_default());
            look.key(Names::Goods, &at, key, good);
        }
        for (seam, stated) in &top.seams {
            look.key(Names::Runs, &at.child("seams").child(seam).child("over"), key, &stated.over);
        }
    }
    look.surfaces();
    look.findings
}

/// Which of the plan's maps a key is looked up in.
#[derive(Clone, Copy)]
enum Names {
    Walls,
    Goods,
    Recipes,
    Units,
    Runs,
    Tops,
    Trims,
    Openings,
}

impl Names {
    /// One of them, in words.
    fn one(self) -> &'static str {
        match self {
            Names::Walls => "wall",
            Names::Goods => "good",
            Names::Recipes => "recipe",
            Names::Units => "unit",
            Names::Runs => "run",
            Names::Tops => "worktop",
            Names::Trims => "trim",
            Names::Openings => "opening",
        }
    }

    fn all(self, plan: &Plan) -> Vec<&Key> {
        match self {
            Names::Walls => plan.walls.keys().collect(),
            Names::Goods => plan.goods.keys().collect(),
            Names::Recipes => plan.recipes.keys().collect(),
            Names::Units => plan.units.keys().collect(),
            Names::Runs => plan.runs.keys().collect(),
            Names::Tops => plan.tops.keys().collect(),
            Names::Trims => plan.trims.keys().collect(),
            Names::Openings => plan.openings.keys().collect(),
        }
    }
}

struct Look<'p> {
    plan: &'p Plan,
    findings: Vec<Finding>,
}

impl Look<'_> {
    /// A finding if `asked`, which stands at `at` in the statement of `subject`, is not there.
    fn key(&mut self, names: Names, at: &Pointer, subject: &Key, asked: &Key) {
        let known = names.all(self.plan);
        if known.contains(&asked) {
            return;
        }
        let meant = likely(asked.as_str(), known.into_iter().map(Key::as_str));
        let guess = meant.map(|meant| format!("; did you mean `{meant}`?")).unwrap_or_default();
        let put = meant.map(|meant| Fix::of(Edit::set(self.plan, at, meant, format!("put `{meant}` there"))));
        let what = format!("`{subject}` names `{asked}`, and there is no {} of that key{guess}", names.one());
        let subjects = vec![subject.clone(), asked.clone()];
        let finding = Finding::unresolved("plan/names-nothing", subjects, at.clone(), what);
        self.findings.push(Finding { fixes: put.into_iter().collect(), ..finding });
    }

    /// What paint, trim, beads and settings name.
    fn surfaces(&mut self) {
        let (root, plan) = (Pointer::root(), self.plan);
        for (key, finish) in &plan.finishes {
            let at = root.child("finishes").child(key);
            self.key(Names::Goods, &at.child("paint"), key, &finish.paint);
            if let Some(primer) = &finish.primer {
                self.key(Names::Goods, &at.child("primer"), key, primer);
            }
            let on = at.child("on");
            self.keys(Names::Walls, &on.child("walls"), key, &finish.on.walls);
            self.keys(Names::Recipes, &on.child("recipes"), key, &finish.on.recipes);
            self.keys(Names::Trims, &on.child("trims"), key, &finish.on.trims);
        }
        for (key, trim) in &plan.trims {
            let at = root.child("trims").child(key);
            self.key(Names::Goods, &at.child("good"), key, &trim.good);
            if let Some(nails) = &trim.nails {
                self.key(Names::Goods, &at.child("nails"), key, nails);
            }
            let kind = at.child("kind");
            match &trim.kind {
                TrimKind::Base { along } => {
                    self.keys(Names::Walls, &kind.child("base").child("along"), key, along);
                }
                TrimKind::Crown { along, .. } => {
                    self.keys(Names::Walls, &kind.child("crown").child("along"), key, along);
                }
                TrimKind::Casing { around } => {
                    self.keys(Names::Openings, &kind.child("casing").child("around"), key, around);
                }
            }
        }
        for (key, bead) in &plan.beads {
            let at = root.child("beads").child(key);
            self.key(Names::Goods, &at.child("good"), key, &bead.good);
            let runs = at.child("runs");
            match &bead.runs {
                BeadRun::TopAtWalls(top) => self.key(Names::Tops, &runs.child("top-at-walls"), key, top),
                BeadRun::SinkRims(top) => self.key(Names::Tops, &runs.child("sink-rims"), key, top),
                BeadRun::TrimEdge(trim) => self.key(Names::Trims, &runs.child("trim-edge"), key, trim),
                BeadRun::TrimBack(trim) => self.key(Names::Trims, &runs.child("trim-back"), key, trim),
                BeadRun::WallCorners(walls) => {
                    self.keys(Names::Walls, &runs.child("wall-corners"), key, walls);
                }
                BeadRun::Given(_) => {}
            }
        }
        for (key, setting) in &plan.settings {
            let at = root.child("settings").child(key);
            self.key(Names::Goods, &at.child("mortar"), key, &setting.mortar);
            self.key(Names::Goods, &at.child("grout"), key, &setting.grout);
            for (name, good) in [("spacers", &setting.spacers), ("clips", &setting.clips)] {
                if let Some(good) = good {
                    self.key(Names::Goods, &at.child(name), key, good);
                }
            }
            if let Some(trim) = &setting.edge_trim {
                self.key(Names::Goods, &at.child("edge_trim").child("good"), key, &trim.good);
            }
        }
    }

    fn keys(&mut self, names: Names, at: &Pointer, subject: &Key, asked: &[Key]) {
        for (i, key) in asked.iter().enumerate() {
            self.key(names, &at.index(i), subject, key);
        }
    }

    fn unit(&mut self, at: &Pointer, key: &Key, unit: &Unit) {
        if let Some(recipe) = &unit.recipe {
            self.key(Names::Recipes, &at.child("recipe"), key, recipe);
        }
        if let Some(holds) = &unit.holds {
            self.key(Names::Goods, &at.child("holds"), key, holds);
        }
        self.height(&at.child("height"), key, unit.height.as_ref());
        self.roles(&at.child("roles"), key, &unit.roles);
        if let Some(front) = &unit.fronts {
            self.slides(&at.child("fronts"), key, front);
        }
    }

    fn height(&mut self, at: &Pointer, key: &Key, height: Option<&Height>) {
        if let Some(Height::Clears(unit)) = height {
            self.key(Names::Units, &at.child("clears"), key, unit);
        }
    }

    fn roles(&mut self, at: &Pointer, key: &Key, roles: &std::collections::BTreeMap<dryfit_plan::Role, Key>) {
        for (role, good) in roles {
            let role = serde_json::to_value(role).expect("a role is written as text");
            self.key(Names::Goods, &at.child(role.as_str().unwrap_or_default()), key, good);
        }
    }

    fn slides(&mut self, at: &Pointer, key: &Key, front: &Front) {
        match front {
            Front::Drawer { slide, .. } => {
                self.key(Names::Goods, &at.child("drawer").child("slide"), key, slide);
            }
            Front::Down { parts, .. } => {
                for (name, part) in parts {
                    self.slides(&at.child("down").child("parts").child(name), key, part);
                }
            }
            Front::Door { .. } | Front::Pair { .. } | Front::Fixed { .. } | Front::Open { .. } => {}
        }
    }
}
