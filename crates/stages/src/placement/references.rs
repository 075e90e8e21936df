//! Keys of the plan that name nothing: each a finding, with the key that was probably meant.

use dryfit_measure::{Key, Pointer};
use dryfit_plan::{Edit, End, Front, Height, Level, Plan, Unit};

use crate::finding::{Finding, Fix};
use crate::likely::likely;

/// Every key in units, recipes, runs and worktops that names nothing.
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
    }
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
