//! Keys over the whole plan: whatever is named has a name of its own.

use std::collections::BTreeSet;

use dryfit_measure::Key;

use crate::Plan;

impl Plan {
    /// The key of everything that the plan names at its top: corners, walls, readings, goods, units, and so on.
    pub fn keys(&self) -> BTreeSet<&str> {
        let room = self.room.walk.iter().chain(self.walls.keys()).chain(self.openings.keys());
        let survey = self.instruments.keys().chain(self.epochs.keys()).chain(self.readings.keys());
        let made = self.goods.keys().chain(self.recipes.keys()).chain(self.lots.keys());
        let placed = self.units.keys().chain(self.runs.keys()).chain(self.tops.keys());
        let surfaces = self.finishes.keys().chain(self.trims.keys()).chain(self.beads.keys());
        let fields = self.fields.keys().chain(self.settings.keys());
        let rest = self.services.keys().chain(self.receipts.keys()).chain(self.decisions.keys());
        let all = room.chain(survey).chain(made).chain(placed).chain(surfaces).chain(fields).chain(rest);
        all.map(Key::as_str).collect()
    }

    /// The wanted key, or it with the first number behind it that makes it one of its own; none where it makes no
    /// key at all.
    ///
    /// ```
    /// # let demo = include_str!("../../../demos/potting-room.toml");
    /// let plan = dryfit_plan::Plan::from_toml(demo).expect("the demo reads").plan;
    /// let key = |wanted| plan.free_key(wanted).map(|key| key.to_string());
    /// assert_eq!(key("b9").as_deref(), Some("b9"));
    /// assert_eq!(key("b3").as_deref(), Some("b3-2"));
    /// assert_eq!(key("no key"), None);
    /// ```
    pub fn free_key(&self, wanted: &str) -> Option<Key> {
        let taken = self.keys();
        let numbered = (2..=taken.len() + 2).map(|number| format!("{wanted}-{number}"));
        let free =
            std::iter::once(wanted.to_owned()).chain(numbered).find(|key| !taken.contains(key.as_str()));
        Key::new(&free?).ok()
    }

    /// The letter with the first number behind it that makes it a key of its own: `r12`.
    pub fn next_key(&self, letter: &str) -> String {
        let taken = self.keys();
        let numbered = (1..=taken.len() + 1).map(|number| format!("{letter}{number}"));
        numbered.into_iter().find(|key| !taken.contains(key.as_str())).unwrap_or_default()
    }
}
